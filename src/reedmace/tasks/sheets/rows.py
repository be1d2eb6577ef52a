"""A spreadsheet's CSV file → its rows, whatever program wrote it: encoding and delimiter found out, lines counted.

A quote that is never closed would swallow the rest of the file; here it spoils its own line only. Nothing is
lost: every line that is no row comes out as a fault with its text.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Sequence
from itertools import islice
from pathlib import Path
from typing import IO, NamedTuple

from reedmace.faults import Fault, Refused, Where, cannot_read
from reedmace.tasks.shared.encoding import LOOKED_AT, encoding_of
from reedmace.tasks.sheets.above import Above, Groups
from reedmace.tasks.sheets.heading_words import heading_known
from reedmace.tasks.sheets.headings import title_rows
from reedmace.tasks.sheets.two_rows import groups_above, second_row

_FIRST = 30  # lines among which the headings are looked for
_SIGNS = "\t;,|"
_NO_TEXT = {
    b"PK\x03\x04": "a spreadsheet's own workbook or another archive",
    b"\xd0\xcf\x11\xe0": "a spreadsheet's own workbook",
    b"%PDF": "made for printing (PDF)",
}
_MOST_LINES = 60  # lines that one quoted cell may run over


class Sheet(NamedTuple):
    """How a file is written, and what its columns are called.

    `sure` says that all of it was seen to be UTF-8.

    `named` is what the file is called to the user, where it came out of another one. `above` are the rows that stand
    above the headings, which take up one or two rows (`heading_rows`). `repeats` are the columns in which an empty
    cell means what stands above it. `everywhere` are headings and cells that every row is given behind its own.
    """

    path: str
    encoding: str
    delimiter: str
    columns: tuple[str, ...]
    sure: bool = False
    named: str = ""
    above: tuple[tuple[str, ...], ...] = ()
    heading_rows: int = 1
    repeats: Groups = ()
    everywhere: tuple[tuple[str, str], ...] = ()


class Row(NamedTuple):
    """One row: the number of its first line, its cells, or what is wrong with it as a row."""

    line: int
    cells: tuple[str, ...]
    fault: Fault | None = None


def look_at(
    path: str,
    encoding: str | None = None,
    delimiter: str | None = None,
    known: Callable[[str], bool] = heading_known,
) -> Sheet:
    """Find out how a file is written; raises Refused where it cannot be read or has no header.

    `known` says what is a heading, to find those that stand below a title.
    """
    try:
        with Path(path).open("rb") as file:
            head = file.read(LOOKED_AT)
            _must_be_text(path, head)
            found = encoding or encoding_of(head, file)
        with _opened(path, found) as text:
            first = ["\t".join(row.cells) for row in islice(_rows(text, "\t"), _FIRST)]
    except LookupError as error:
        said, hint = f"There is no encoding {found}.", "utf-8, cp1252, utf-16, or leave it out: it is guessed"
        raise Refused(Fault("encoding-unknown", said, hint, found, typed=True)) from error
    except UnicodeError as error:
        said, hint = f"This file is not written in {found}: {error}.", "leave the encoding out: it is guessed"
        raise Refused(Fault("encoding-differs", said, hint, found, typed=True, where=Where(path))) from error
    except OSError as error:
        raise cannot_read(path, error) from error
    first = [line for line in first if line.strip()]
    if not first:
        hint = "the first row says what the columns are: date, place, name …"
        raise Refused(Fault("file-empty", "There is nothing in this file.", hint, where=Where(path)))
    sign, above, columns, many = _headings(first, delimiter, known)
    sure = encoding is None and found == "utf-8"
    return Sheet(path, found, sign, tuple(column.strip() for column in columns), sure, above=above, heading_rows=many)


def _must_be_text(path: str, head: bytes) -> None:
    """Refuse what is no text by its first signs: a workbook as a spreadsheet keeps it, a printed page."""
    what = next((what for signs, what in _NO_TEXT.items() if head.startswith(signs)), "")
    if what:
        hint = (
            "open it and save the sheet as  CSV UTF-8 , then read that file" if "sheet" in what else "ask for a table"
        )
        raise Refused(Fault("file-no-table", f"This file is {what}, not CSV.", hint, path, typed=True))


def _headings(
    first: Sequence[str], delimiter: str | None, known: Callable[[str], bool]
) -> tuple[str, tuple[tuple[str, ...], ...], list[str], int]:
    """Find the delimiter, what stands above the headings, these, and their rows, in the first lines of a file."""
    for sign in delimiter or _SIGNS:
        cut = [_headed(line, sign) for line in first]
        filled = [(line, cells) for line, cells in zip(first, cut, strict=True) if any(cell.strip() for cell in cells)]
        above = title_rows([cells for _, cells in filled], known)
        if above and (delimiter or sign == max(_SIGNS, key=filled[above][0].count)):
            *before, last = [cells for _, cells in filled[:above]]
            groups = groups_above(last, filled[above][1])
            titles = tuple(map(tuple, before if groups else [*before, last]))
            if groups:
                return sign, titles, groups, 2
            return sign, titles, *_joined([cells for _, cells in filled[above : above + 2]])
    sign = delimiter or max(_SIGNS, key=first[0].count)
    cut = [_headed(line, sign) for line in first]
    filled_rows = [cells for cells in cut if any(cell.strip() for cell in cells)]
    return sign, (), *_joined(filled_rows[:2] or cut[:1])


def _joined(found: Sequence[list[str]]) -> tuple[list[str], int]:
    """Give the headings of a row, or of two, where the second tells more of them and is no record."""
    below = second_row(found[0], found[1]) if len(found) > 1 else None
    return (found[0], 1) if below is None else (below, 2)


def _headed(line: str, sign: str) -> list[str]:
    try:
        return next(csv.reader([" ".join(line.splitlines())], delimiter=sign), [])
    except csv.Error:
        return line.split(sign)


def rows(sheet: Sheet) -> Iterator[Row]:
    """Give the rows after the header. A row shorter than the header is filled up, blank rows are passed over."""
    behind = tuple(cell for _, cell in sheet.everywhere)
    width = len(sheet.columns) - len(behind)
    with _opened(sheet.path, sheet.encoding) as text:
        headings = sheet.heading_rows + len(sheet.above)
        above = Above(sheet.repeats) if sheet.repeats else None
        for row in _rows(text, sheet.delimiter):
            if not any(cell.strip() for cell in row.cells):
                continue
            if headings:
                headings -= 1
                continue
            if row.fault is None and len(row.cells) > width and any(cell.strip() for cell in row.cells[width:]):
                said = f"This row has {len(row.cells)} cells, but there are {width} columns."
                hint = "put a cell with the delimiter in it into quotes, or give the extra column a heading"
                row = row._replace(fault=Fault("row-too-long", said, hint))
            elif len(row.cells) < width:
                row = row._replace(cells=(*row.cells, *[""] * (width - len(row.cells))))
            if behind:
                row = row._replace(cells=(*row.cells[:width], *behind, *row.cells[width:]))
            if above is not None and row.fault is None:
                row = row._replace(cells=above.fill(row.cells))
            yield row


def _opened(path: str, encoding: str) -> IO[str]:
    # What is no text in this encoding becomes U+FFFD, which the reading of records refuses row by row.
    return Path(path).open(encoding=encoding, errors="replace", newline="")


def _rows(text: IO[str], delimiter: str) -> Iterator[Row]:
    """Cut a text into rows, line by line, so that each knows its line."""
    pending: list[str] = []
    number = 0
    queue: list[str] = []
    while True:
        line = queue.pop(0) if queue else text.readline()
        if not line:
            if not pending:
                return
            # The end of the file inside a quote: its first line is spoilt, the others are read by themselves.
            yield _unclosed(number - len(pending) + 1, pending[0])
            number -= len(pending) - 1
            queue, pending = pending[1:], []
            continue
        number += 1
        if not pending and '"' not in line:
            # The common case; splitting is what the csv module would do with it.
            yield Row(number, tuple(line.rstrip("\r\n").split(delimiter)))
            continue
        pending.append(line)
        if sum(part.count('"') for part in pending) % 2:
            if len(pending) >= _MOST_LINES:
                yield _unclosed(number - len(pending) + 1, pending[0])
                number -= len(pending) - 1
                queue, pending = [*pending[1:], *queue], []
            continue
        try:
            cells = _cut(pending, delimiter)
            yield Row(number - len(pending) + 1, tuple(cells))
        except (csv.Error, ValueError) as error:
            fault = Fault("row-not-read", f"This row cannot be read: {error}.", "look at its quotes")
            yield Row(number - len(pending) + 1, ("".join(pending).rstrip("\r\n"),), fault)
        pending = []


def _cut(lines: Sequence[str], delimiter: str) -> list[str]:
    found = list(csv.reader(lines, delimiter=delimiter))
    if len(found) != 1:
        raise ValueError("its quotes do not match")
    return found[0]


def _unclosed(number: int, line: str) -> Row:
    fault = Fault("quote-open", "A quote is opened in this row and never closed.", "close it, or write it twice")
    return Row(number, (line.rstrip("\r\n"),), fault)
