"""New rows of a sheet that look like corrections of rows it held before.

A row without an id of its own is known by what it says, so a corrected row is a new record, and the record of the row
as it was stays behind. Nothing is overwritten for it, but neither should the two be counted both without a word: where
the ledger holds a record of the same visit, species and observers of which no row of the file tells any more, it is
put to the user.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from typing import NamedTuple

from reedmace.records import Sighting, Visit

_REMEMBERED = 1000  # visits looked up: enough for neighbours in a file


class Corrected(NamedTuple):
    """A new record that may be the correction of `before`, by their ids, and the fields in which they differ."""

    line: int
    record: str
    before: str
    name: str
    differs: tuple[str, ...]


class CorrectedRows:
    """Looks out for them during one import.

    `there` gives the sightings of a visit that stand in the ledger, `differences` in what a row says otherwise.
    """

    def __init__(
        self,
        there: Callable[[str], Sequence[Sighting]],
        differences: Callable[[Sighting, Sighting], Sequence[str]],
    ) -> None:
        self._there = there
        self._differences = differences
        self._told: set[int] = set()  # ids that rows of this file come to; hashes, since there may be a million
        self._visits: OrderedDict[str, Sequence[Sighting]] = OrderedDict()
        self._maybe: list[Corrected] = []

    def told(self, sighting: Sighting) -> None:
        """Note that a row of the file tells of this record."""
        self._told.add(hash(sighting.id))

    def new(self, line: int, sighting: Sighting, visit: Visit) -> None:
        """Note a new record, told of by the row at this line."""
        self.told(sighting)
        who = sighting.observers or visit.observers
        for other in self._standing(visit.id):
            alike = other.taxon.scientific_name == sighting.taxon.scientific_name
            if alike and (other.observers or visit.observers) == who and hash(other.id) not in self._told:
                name = sighting.taxon.vernacular or sighting.taxon.scientific_name
                differs = tuple(self._differences(sighting, other))
                self._maybe.append(Corrected(line, sighting.id, other.id, name, differs))

    def found(self) -> tuple[Corrected, ...]:
        """Give those that no row told of, each once, as corrections of what they resemble most."""
        taken: set[str] = set()
        found = []
        for one in sorted(self._maybe, key=lambda one: (len(one.differs), one.line)):
            if hash(one.before) not in self._told and taken.isdisjoint((one.before, one.record)):
                taken |= {one.before, one.record}
                found.append(one)
        return tuple(sorted(found, key=lambda one: one.line))

    def _standing(self, visit_id: str) -> Sequence[Sighting]:
        known = self._visits.get(visit_id)
        if known is None:
            known = self._visits[visit_id] = self._there(visit_id)
            if len(self._visits) > _REMEMBERED:
                self._visits.popitem(last=False)
        return known
