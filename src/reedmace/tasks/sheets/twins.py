"""Columns that would both say one thing of a row: one is left out, or the sheet is refused.

Two columns are never put together into one count unless somebody says so.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache
from itertools import combinations

from reedmace.faults import Fault, Refused
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.eastings import EASTINGS, IN_PARTS
from reedmace.tasks.sheets.parts import COUNTING
from reedmace.tasks.sheets.rows import Sheet, rows

_COUNTS = frozenset({"count", *COUNTING})
# What a row says once. Other fields hold words, of which several columns may each have some.
_ONCE = _COUNTS | {"date", "year", "month", "day", "time", "start", "end", "sex", "stage", "latitude", "longitude"}
_ONCE |= {*EASTINGS, *IN_PARTS, "date_month_first", "date_to", "visit_number"}


def settled(sheet: Sheet, mapping: ColumnMapping, said: Collection[str]) -> ColumnMapping:
    """Leave out columns that say what another says; raises Refused where two contradict each other.

    All rows are looked at. Of the headings `said` the user has spoken: what these put together stays together.
    """
    found = _pairs(sheet.columns, mapping, said)
    if not found:
        return mapping
    watched = [_Pair(sheet.columns, field, one, other) for field, one, other in found]
    for row in rows(sheet):
        if row.fault is None:
            for pair in watched:
                pair.look(row.line, row.cells)
    if faults := [pair.fault for pair in watched if pair.fault is not None]:
        raise Refused(*faults)
    alike: dict[str, str] = {}
    for pair in watched:
        left, kept = pair.spare()
        if left and kept not in alike:
            alike[left] = kept
    columns = tuple((heading, None if heading in alike else field) for heading, field in mapping.columns)
    return mapping._replace(columns=columns, alike=tuple(alike.items()))


def _pairs(columns: Sequence[str], mapping: ColumnMapping, said: Collection[str]) -> list[tuple[str, int, int]]:
    """Give each two columns, by their places, that would both give the same field, and of which nobody said so."""
    if mapping.darwin_core:
        return []
    places: dict[str, list[int]] = {}
    for place, field, _ in mapping.places(columns):
        if field in _ONCE:
            places.setdefault(field, []).append(place)
    return [
        (field, one, other)
        for field, some in places.items()
        for one, other in combinations(some, 2)
        if columns[one] == columns[other] or not {columns[one], columns[other]} <= set(said)
    ]


class _Pair:
    """Two columns of one field, looked at row by row: where they first differ, and what only one of them says."""

    def __init__(self, columns: Sequence[str], field: str, one: int, other: int) -> None:
        self.fault: Fault | None = None
        self._headings = columns[one], columns[other]
        self._field, self._places = field, (one, other)
        self._only = [False, False]

    def look(self, line: int, cells: Sequence[str]) -> None:
        """Look at one more row."""
        one, other = (cells[place].strip() for place in self._places)
        if one and other:
            if self.fault is None and one != other and not _same(self._field, one, other):
                self.fault = self._differ(line, one, other)
        elif one or other:
            self._only[not one] = True

    def spare(self) -> tuple[str, str]:
        """Give the heading of a column that says nothing which the other does not, and the other's; else blanks."""
        first, second = self._headings
        if first == second or all(self._only):
            return "", ""
        return (first, second) if self._only[1] else (second, first)

    def _differ(self, line: int, one: str, other: str) -> Fault:
        first, second = self._headings
        says = f'line {line} says "{one}" in one and "{other}" in the other.'
        if first == second:
            why = f'The column "{first}" stands here twice, and {says}'
            hint = f'give one of them another heading in the file, or leave both out:  --map "{first}="'
            return Fault("column-twice", why, hint, first, typed=True)
        why = f'The columns "{first}" and "{second}" would both be the {self._field.replace("_", " ")}, and {says}'
        hint = f'leave out the one that means something else:  --map "{second}="  or  --map "{first}="'
        return Fault("columns-differ", why, hint, f"{first}, {second}", typed=True)


@lru_cache(5000)
def _same(field: str, one: str, other: str) -> bool:
    """Say whether two cells that are written otherwise mean the same."""
    if one.casefold() == other.casefold():
        return True
    if field not in _COUNTS:
        return False
    read = read_count(one)
    return not isinstance(read, Fault) and read == read_count(other)
