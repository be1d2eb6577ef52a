"""Headings that mean one thing in one sheet and another in the next: what stands beneath them tells which."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date

from reedmace.faults import Fault
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.sheets.contents import cells_of, mostly, reads_as_place
from reedmace.tasks.sheets.eastings import EASTINGS, IN_PARTS, letters_apart
from reedmace.tasks.sheets.heading_words import plain_heading
from reedmace.tasks.sheets.numbering import numbers_rows
from reedmace.tasks.sheets.parts import PARTS, part_begun

Meant = dict[str, str | None]
_MOST = 0.8
_PLACED = frozenset(("place", "latitude", "longitude", *EASTINGS, *IN_PARTS))
_NAME = r"(?:[^\W\d_a-z][\w'’.-]*|me|self)"
_NAMES = re.compile(rf"{_NAME}(?:(?:\s*[,;&+/|]\s*|\s+(?:and|with|&)\s+|\s+){_NAME})*")


def by_sample(
    meant: Mapping[str, str | None], columns: Sequence[str], rows: Iterable[Sequence[str]], today: date
) -> Meant:
    """Give what columns mean, by their headings so far, where what is in them says otherwise or more."""
    told = list(rows)
    cells = {column: cells_of(told, place) for place, column in enumerate(columns)}
    found = dict(meant)
    for column, field in meant.items():
        if field in ("start", "end") and mostly(cells[column], _is_day(today), _MOST):
            found[column] = "date" if field == "start" else "date_to"
        elif field == "day" and "date" not in meant.values() and mostly(cells[column], _is_day(today), _MOST):
            found[column] = "date"
        elif field == "locality" and _PLACED.isdisjoint(found.values()) and _are_places(cells[column]):
            found[column] = "place"
        elif field == "visit_id" and numbers_rows(cells[column]):
            found[column] = "visit_number"
    if "observer" not in found.values():
        # "Obs" may be observations, and "Rec" a record's number.
        found |= {
            column: "observer"
            for column, field in meant.items()
            if field is None and plain_heading(column) in ("obs", "rec", "recs") and _all_people(cells[column])
        }
    if any(field in PARTS for field in found.values()):
        # A few letters beside a column that surely counts a part.
        found = {column: field or part_begun(plain_heading(column)) for column, field in found.items()}
    return found | letters_apart(found, cells)


def _are_places(cells: Sequence[str]) -> bool:
    """Say whether a column of names of places holds references: one with a slip in it is a fault there, and no name."""
    return len(cells) > 1 and mostly(cells, reads_as_place, _MOST)


def _all_people(cells: Sequence[str]) -> bool:
    """Say whether all cells look like names of people: each word of them begins with a capital."""
    return bool(cells) and all(_NAMES.fullmatch(cell) for cell in cells)


def _is_day(today: date) -> Callable[[str], bool]:
    return lambda text: re.search(r"[0-9]{4}|[/.-].*[/.-]", text, re.ASCII) is not None and not _no_day(text, today)


def _no_day(text: str, today: date) -> bool:
    read = read_date(text, today, future=True)
    return isinstance(read, Fault) and read.code != "two-digit-year"
