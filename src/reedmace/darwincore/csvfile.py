"""Writing a table as CSV, whole or not at all.

UTF-8 without BOM, LF at line ends, a header row, no line breaks inside fields.
"""

from __future__ import annotations

import csv
import os
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TextIO

from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.terms import TERMS
from reedmace.faults import Fault, Refused, Where, did_you_mean

# Every sign that some program takes for the end of a line.
_BREAKS = re.compile(r"[\n\r\v\f\x1c-\x1e\x85\u2028\u2029]")
# Signs that steer terminals and printers and have no shape: C0 and C1 controls, DEL, and half characters.
_STEERING = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
_BETWEEN = " / "


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
    _check(columns)
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    number = 0
    for row in rows:
        writer.writerow([one_line(row.get(column, "")) for column in columns])
        number += 1
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
    target = Path(path)
    _check(columns)
    if target.is_dir():
        raise _refusal("export-is-a-folder", "This path is a folder.", "name a file in it", target)
    if not overwrite and os.path.lexists(target):
        raise _exists(target)
    try:
        part, handle = _begin(target)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
                number = write_rows(out, rows, columns)
                out.flush()
                os.fsync(out.fileno())
            _name(part, target, overwrite)
        finally:
            with suppress(FileNotFoundError):
                part.unlink()
    except OSError as error:
        raise _refusal(
            "export-cannot-write",
            f"The file cannot be written: {error.strerror or error}.",
            "choose a folder you may write to, with room on its disk; nothing was written",
            target,
        ) from error
    return number


def _check(columns: tuple[str, ...]) -> None:
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


def _begin(target: Path) -> tuple[Path, int]:
    """Make a new file beside the target, passing over what interrupted exports may have left."""
    for part in _parts(target):
        with suppress(FileExistsError):
            return part, os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
    raise FileExistsError(0, f"interrupted exports have left too many files like {part.name}; delete them")


def _parts(target: Path) -> Iterator[Path]:
    for number in range(1, 100):
        yield target.with_name(f".{target.name}.part{number}")


def _name(part: Path, target: Path, overwrite: bool) -> None:
    """Give the finished file its name, and make the name durable."""
    if overwrite:
        part.replace(target)
    else:
        try:
            os.link(part, target)  # fails where there is a file, even one that has just appeared
        except FileExistsError:
            raise _exists(target) from None
        except OSError:
            # Some disks know no links; the look before has to do.
            part.replace(target)
    with suppress(OSError):
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _exists(target: Path) -> Refused:
    return _refusal(
        "export-exists",
        "There is a file here already.",
        "choose another name, or ask for it to be overwritten",
        target,
    )


def _refusal(code: str, message: str, hint: str, target: Path) -> Refused:
    return Refused(Fault(code, message, hint, where=Where(str(target))))
