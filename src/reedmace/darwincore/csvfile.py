"""Writing a table as CSV, whole or not at all.

UTF-8 without BOM, LF at line ends, a header row, no line breaks inside fields.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import islice
from pathlib import Path
from typing import TextIO

from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.terms import TERMS
from reedmace.darwincore.whole import whole_file
from reedmace.faults import Fault, Refused, did_you_mean

# Every sign that some program takes for the end of a line.
_BREAKS = re.compile(r"[\n\r\v\f\x1c-\x1e\x85\u2028\u2029]")
# Signs that steer terminals and printers and have no shape: C0 and C1 controls, DEL, and half characters.
_STEERING = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
_BETWEEN = " / "
_BATCH = 200  # lines joined before they are written


def one_line(text: str) -> str:
    """Give a field's text on one line.

    A line break, or several with the blanks around them, becomes " / ", and is left out at either end.
    A tab becomes a blank, any other control character U+FFFD. Everything else is as typed, text that a
    spreadsheet would take for a formula too, for these files are read by programs.
    """
    if text.isprintable():
        return text
    lines = _BREAKS.split(text)
    if len(lines) > 1:
        text = _BETWEEN.join(stripped for line in lines if (stripped := line.strip()))
    return _STEERING.sub("\ufffd", text.replace("\t", " "))


def escaped(text: str) -> str:
    r"""Give JSON with every sign that no field holds as it is written as `\u2028`, so that it stays what it was."""
    if text.isprintable():
        return text
    return _STEERING.sub(_escape, _BREAKS.sub(_escape, text))


def _escape(sign: re.Match[str]) -> str:
    return f"\\u{ord(sign[0]):04x}"


def write_rows(out: TextIO, rows: Iterable[Mapping[str, str]], columns: tuple[str, ...] = DEFAULT_COLUMNS) -> int:
    """Write header and rows to a text stream that does not change line ends; gives the number of rows.

    A column that a row lacks is empty. Raises `Refused` where a column is no term, or comes twice.
    """
    check_columns(columns)
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    number = 0
    for row in rows:
        writer.writerow([one_line(row.get(column, "")) for column in columns])
        number += 1
    return number


class _Echo:
    """What a CSV writer writes to: it gives back what it is given, and so the writer does."""

    @staticmethod
    def write(line: str) -> str:
        return line


_writer = csv.writer(_Echo(), lineterminator="")


def line_of(cells: Sequence[str]) -> str:
    """Give cells, free of line breaks already, as a line of CSV, as the standard library writes it."""
    line: str = _writer.writerow(cells)
    return line


def write_lines(path: Path | str, lines: Iterable[str], columns: tuple[str, ...], overwrite: bool = False) -> int:
    """As `write_csv`, of lines (see `line_of`) whose cells are in the order of the columns."""
    check_columns(columns)
    number = 0
    with whole_file(path, overwrite) as file:
        out = io.TextIOWrapper(file, encoding="utf-8", newline="")
        out.write(f"{line_of(columns)}\n")
        lines = iter(lines)
        while batch := list(islice(lines, _BATCH)):
            number += len(batch)
            batch.append("")
            out.write("\n".join(batch))
        out.flush()
        out.detach()
    return number


def write_csv(
    path: Path | str,
    rows: Iterable[Mapping[str, str]],
    columns: tuple[str, ...] = DEFAULT_COLUMNS,
    overwrite: bool = False,
) -> int:
    """Write a CSV file whole, or leave what was there as it was; gives the number of rows.

    The rows are streamed into a file beside the target, synced to the disk and then given its name. Raises
    `Refused` where there is a file already (unless `overwrite`), or the folder or disk will not take it.
    """
    check_columns(columns)
    with whole_file(path, overwrite) as file:
        out = io.TextIOWrapper(file, encoding="utf-8", newline="")
        number = write_rows(out, rows, columns)
        out.flush()
        out.detach()
    return number


def check_columns(columns: tuple[str, ...]) -> None:
    """Refuse columns that are no term, or come twice."""
    faults = [
        Fault(
            "unknown-term",
            "This is not a term of Darwin Core.",
            did_you_mean(column, TERMS, "look the term up in the standard's list"),
            column,
        )
        for column in columns
        if column not in TERMS
    ]
    faults += [
        Fault("column-twice", "This column is asked for twice.", "name it once", column)
        for column in dict.fromkeys(columns)
        if columns.count(column) > 1
    ]
    if faults:
        raise Refused(*faults)
