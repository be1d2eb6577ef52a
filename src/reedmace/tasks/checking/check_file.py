"""Check any Darwin Core CSV: each raw row by the published validations, and as a record by our own rules."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

from reedmace.checks.history import History
from reedmace.checks.quality import Basis
from reedmace.checks.query import Grounds, Query, Record
from reedmace.checks.raw_rows import RawRows, absent_columns
from reedmace.checks.rules import RULES
from reedmace.darwincore import change_of
from reedmace.faults import Fault, Refused, Where, cannot_read
from reedmace.records import read_id
from reedmace.records.text import is_absent
from reedmace.tasks.checking.check_records import Checked
from reedmace.tasks.checking.children import with_children
from reedmace.tasks.checking.darwin_row import RowReader
from reedmace.tasks.shared.encoding import LOOKED_AT, encoding_of

MOST_IN_A_CELL = 1_000_000  # characters: more is a broken quote, or somebody's joke


def check_file(grounds: Grounds, path: Path) -> Iterator[Checked]:
    """Every row of the file with its queries, streamed. Raises `Refused` where the file is no such table.

    What holds of the file as a whole comes first, as the queries of a record without a name.
    """
    try:
        with path.open("rb") as bare:
            encoding = encoding_of(bare.read(LOOKED_AT), bare)
        with path.open(encoding="utf-8-sig" if encoding == "utf-8" else encoding, newline="") as file:
            checked = _checked(grounds, file, path)
            if not encoding.startswith("utf-8"):
                yield Checked(_whole_file(grounds), (_written_in(encoding),))
            yield from checked
    except UnicodeDecodeError as error:
        message = f"The file is not UTF-8, nor what it could be else (byte {error.start} of what was read)."
        hint = f"save it as UTF-8 (in a spreadsheet: CSV UTF-8); {_another(path)}"
        raise Refused(Fault("not-utf8", message, hint, None, Where(path.name))) from None
    except OSError as error:
        raise cannot_read(path, error) from None


def _checked(grounds: Grounds, file: TextIO, path: Path) -> Iterator[Checked]:
    lines = _lines(file, path)
    header = _header(next(lines, (0, []))[1], path)
    lacking = absent_columns(frozenset(header))
    if lacking:
        yield Checked(_whole_file(grounds), (_columns_missing(lacking),))
    raw = RawRows(Basis(grounds.today), header, lacking)
    history = History(grounds, by_day=False)
    reader = RowReader(grounds, header)
    id_at = header.index("occurrenceID") if "occurrenceID" in header else None
    properties_at = header.index("dynamicProperties") if "dynamicProperties" in header else None
    status_at = header.index("occurrenceStatus") if "occurrenceStatus" in header else None
    ids: set[int] = set()
    for number, (_, cells) in enumerate(lines, 1):
        queries: list[Query] = []
        given = len(cells)
        if given != len(header):
            cells = [*cells[: len(header)], *[""] * (len(header) - given)]
        name = (cells[id_at].strip() if id_at is not None else "") or f"row {number}"
        if given != len(header):
            queries.append(_misshapen(given, header, name))
        twice = _id_twice(ids, name) if id_at is not None and cells[id_at].strip() else []
        queries += twice
        if properties_at is not None and change_of({"dynamicProperties": cells[properties_at]}) == "withdrawn":
            # It tells which record to take out, and is no record itself.
            yield Checked(reader.read(cells, name), tuple(queries))
            continue
        record = reader.read(cells, name)
        queries += raw.queries(cells, name)
        if status_at is not None and is_absent(cells[status_at]):
            # Whether it is likely here and now is asked of what was seen.
            yield Checked(record, tuple(queries))
            continue
        for rule in RULES:
            queries += rule(grounds, record)
        queries = with_children(grounds, record, queries)
        # A row that stands twice, id and all, is told of once.
        queries += [one for one in history.look(record) if not (twice and one.code == "written-twice")]
        yield Checked(record, tuple(queries))


def _lines(file: TextIO, path: Path) -> Iterator[tuple[int, list[str]]]:
    """Rows with the line they end on. A cell without an end, or one too large, is a fault with its line."""
    csv.field_size_limit(MOST_IN_A_CELL)
    first = file.readline()
    file.seek(0)
    marks = {mark: first.count(mark) for mark in (",", "\t", ";", "|")}
    reader = csv.reader(file, delimiter=max(marks, key=lambda mark: marks[mark]), strict=True)
    while True:
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            message = f"This is not CSV: {error}."
            hint = "look for a quote that is not closed, and save it as CSV once more"
            raise Refused(Fault("not-csv", message, hint, None, Where(path.name, reader.line_num))) from None
        if row:
            yield reader.line_num, row


def _header(cells: list[str], path: Path) -> tuple[str, ...]:
    """The terms of the heading: bare, with a prefix (dwc:eventDate), or as full addresses."""
    from reedmace.darwincore.terms import TERMS

    where = Where(path.name, 1, 1, ",".join(cells)[:200])
    terms = tuple(re.split(r"[:/#]", cell.strip())[-1] for cell in cells)
    folded = {term.casefold(): term for term in TERMS}
    found = tuple(folded.get(term.casefold(), term) for term in terms)
    if not any(term in TERMS for term in found):
        message = "The first row names no term of Darwin Core."
        hint = f"the first row names the columns: occurrenceID, scientificName, eventDate …; {_another(path)}"
        raise Refused(Fault("not-darwin-core", message, hint, None, where))
    twice = [term for term in dict.fromkeys(found) if term and found.count(term) > 1]
    if twice:
        message = f'The column "{twice[0]}" stands here twice.'
        raise Refused(Fault("column-twice", message, "keep one of the two", twice[0], where))
    return found


def _another(path: Path) -> str:
    """Say how any other sheet is checked: `ledger import` reads what this does not."""
    first = f"reedmace ledger import {path.name} --ledger trial.ledger"
    return f"a sheet of another shape:  {first}  and  reedmace check --ledger trial.ledger"


def _whole_file(grounds: Grounds) -> Record:
    return RowReader(grounds, ()).read((), "")


def _columns_missing(lacking: frozenset[str]) -> Query:
    from reedmace.checks.quality.presence import TERM_OF

    names = sorted(TERM_OF[label] for label in lacking)
    reason = f"The file has no column {', '.join(names)}."
    return Query("columns-missing", "note", "", reason, "add those for which something is known")


def _written_in(encoding: str) -> Query:
    reason = f"The file is not UTF-8; it was read as {encoding}, by what its bytes look like."
    return Query("encoding-guessed", "note", "", reason, "look whether é and ö are right; send it on as UTF-8")


def _misshapen(given: int, header: tuple[str, ...], name: str) -> Query:
    reason = f"The row has {given} cells, the heading {len(header)}."
    return Query("row-misshapen", "error", name, reason, "look for a comma or a quote that is not quoted")


def _id_twice(ids: set[int], name: str) -> list[Query]:
    mark = hash(read_id(name))
    if mark in ids:
        return [Query("id-twice", "error", name, f"The occurrenceID {name} stands here before.", "give each its own")]
    ids.add(mark)
    return []
