"""Cells that mean what stands above them: merged cells, which are empty but for the first, and "as above" in words.

Only what belongs to a whole visit is carried down, and only what hangs together: a row that gives another place
says nothing of the grid reference above, and a row of another day or place nothing of the people there.
"""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.eastings import EASTINGS, IN_PARTS

DITTO = frozenset(("as above", "ditto", "do", "do.", '"', "''", "”", "“", "〃", ",,", "same", "see above", "↓", "-do-"))
DAY = frozenset(("date", "date_month_first", "date_to", "year", "month", "day"))
PLACE = frozenset(
    ("place", "latitude", "longitude", "uncertainty", "locality", "vice_county", "habitat", *EASTINGS, *IN_PARTS)
)
VISIT = frozenset(
    (
        *("visit_id", "visit_number", "start", "end", "observer", "method", "weather", "temperature", "sun", "wind"),
        *("cloud", "cloud_eighths", "wind_direction", "visit_remarks"),
    )
)
Groups = tuple[tuple[int, ...], ...]


def groups_of(mapping: ColumnMapping, columns: Sequence[str]) -> Groups:
    """Give the places of the columns of the day, of the place, and of what else belongs to a visit."""
    meant = mapping.places(columns)
    return tuple(tuple(place for place, field, _ in meant if field in some) for some in (DAY, PLACE, VISIT))


class Above:
    """Fills the rows of one sheet, one after the other."""

    def __init__(self, groups: Groups) -> None:
        self._day, self._place, self._visit = groups
        self._last: tuple[str, ...] = ()

    def fill(self, cells: tuple[str, ...]) -> tuple[str, ...]:
        """Give a row with what stands above in the cells that mean it."""
        filled = list(cells)
        if self._last:
            for at, cell in enumerate(cells):
                if cell.strip().casefold() in DITTO:
                    filled[at] = self._last[at]
            same = [self._carried(filled, group) for group in (self._day, self._place)]
            if all(same):
                for at in self._visit:
                    filled[at] = filled[at] if filled[at].strip() else self._last[at]
        self._last = tuple(filled)
        return self._last

    def _carried(self, filled: list[str], group: tuple[int, ...]) -> bool:
        """Carry a group of cells down where all of them are empty; True where the row says nothing else than above."""
        if not any(filled[at].strip() for at in group):
            for at in group:
                filled[at] = self._last[at]
        return all(filled[at] == self._last[at] for at in group)
