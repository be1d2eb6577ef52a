"""Columns that are left out and may count something all the same: a row that counts there is not one of nothing."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache
from itertools import islice

from reedmace.faults import Fault
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.contents import cells_of, mostly, reads_as_place
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.measures import counts_no_insects
from reedmace.tasks.sheets.parts import read_tick
from reedmace.tasks.sheets.rows import Sheet, rows

_LOOKED_AT = 200  # rows that say whether a column is one of numbers


class Unread:
    """The columns of a sheet that are left out, and of which nobody knows that nothing is lost with them.

    `own` are the places of the columns that are the sheet's. A file of the standard says itself that there was nothing.
    """

    def __init__(self, sheet: Sheet, mapping: ColumnMapping, own: Collection[int]) -> None:
        read, known = {place for place, _, _ in mapping.places(sheet.columns)}, mapping.passed_over
        places = [place for place in own if place not in read and sheet.columns[place] not in known]
        if mapping.darwin_core:
            places = []
        sample = [row.cells for row in islice(rows(sheet), _LOOKED_AT) if row.fault is None] if places else []
        self._places = [
            (place, sheet.columns[place]) for place in places if mostly(cells_of(sample, place), reads_as_place)
        ]
        self._columns = [
            # In a column of numbers or ticks anything counts, in another one a number or a tick.
            (place, sheet.columns[place], mostly([one for one in cells_of(sample, place) if not _blank(one)], _counts))
            for place in places
            if not counts_no_insects(sheet.columns[place])
        ]

    def place(self, cells: Sequence[str]) -> Fault | None:
        """Say where a row was, that gives no place on the map in the columns that are read."""
        for at, heading in self._places:
            if reads_as_place(cell := cells[at].strip()):
                why = f'This row gives no place on the map in the columns that are read, but has "{cell}" under '
                hint = f'copy it into the column of the place, or leave that column out:  --map "{heading}="'
                return Fault("left-out-place", f'{why}"{heading}".', hint, cell)
        return None

    def fault(self, cells: Sequence[str]) -> Fault | None:
        """Say what a row counts there that counts nothing in the columns that are read."""
        for place, heading, numbers in self._columns:
            cell = cells[place].strip()
            if cell and not _blank(cell) and (numbers or _counts(cell)):
                why = f'This row counts nothing in the columns that are read, but has "{cell}" under "{heading}".'
                hint = f'say what that column means:  --map "{heading}=exuviae"  (or another field);'
                hint += f' or that it counts nothing:  --map "{heading}="'
                return Fault("left-out-counts", why, hint, cell)
        return None


# What a spreadsheet writes where it could not work a cell out, or show it.
_ERRORS = frozenset(("#REF!", "#N/A", "#VALUE!", "#NAME?", "#DIV/0!", "#NULL!", "#NUM!", "#SPILL!", "#CALC!"))


def cell_error(cells: Sequence[str]) -> Fault | None:
    """Say that a cell holds an error of the spreadsheet, and not what somebody wrote."""
    for cell in cells:
        plain = cell.strip()
        if plain.upper() in _ERRORS or (len(plain) > 2 and not plain.strip("#")):
            why = "A spreadsheet wrote this where it could not work the cell out, or the column was too narrow."
            return Fault("cell-error", why, "correct the cell there, or widen the column, and save it again", cell)
    return None


def _blank(cell: str) -> bool:
    return read_tick(cell) is False


@lru_cache(5000)
def _counts(cell: str) -> bool:
    """Say whether a cell is a tick, or a count of more than nothing."""
    read = read_count(cell)
    return read_tick(cell) is True or (not isinstance(read, Fault) and any(count.number for count in read))
