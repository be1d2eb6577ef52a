"""New rows of a sheet that look like corrections of rows it held before.

A row without an id of its own is known by what it says, so a corrected row is a new record, and the record of the row
as it was stays behind. Nothing is overwritten for it, but neither should the two be counted both without a word: where
the ledger holds a record of which no row of the file tells any more, and which is of the same visit, species and
observers, it is put to the user. So is one that came in together with rows that the file does tell again, and differs
from the new row in one thing only: the day, the place, the species or what was counted.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from reedmace.records import Sighting, Visit

_REMEMBERED = 1000  # visits looked up: enough for neighbours in a file
_COMPARED = 2000  # new rows kept for comparing: a file with more of them is no corrected one
_ASPECTS = ("date", "place", "name")


class Corrected(NamedTuple):
    """A new record that may be the correction of `before`, by their ids, and the fields in which they differ."""

    line: int
    record: str
    before: str
    name: str
    differs: tuple[str, ...]


class CorrectedRows:
    """Looks out for them during one import.

    `there` gives the sightings of a visit that stand in the ledger, `differences` in what a row says otherwise, and
    `untold` the records that came in with some that are told of, and are not told of themselves.
    """

    def __init__(
        self,
        there: Callable[[str], Sequence[Sighting]],
        differences: Callable[[Sighting, Sighting], Sequence[str]],
        untold: Callable[[Callable[[str], bool]], Iterable[tuple[Sighting, Visit]]],
    ) -> None:
        self._there = there
        self._differences = differences
        self._untold = untold
        self._again = False  # whether the file tells of records that were there
        self._new: list[tuple[int, Sighting, Visit]] = []
        self._told: set[int] = set()  # ids that rows of this file come to; hashes, since there may be a million
        self._visits: OrderedDict[str, Sequence[Sighting]] = OrderedDict()
        self._maybe: list[Corrected] = []

    def told(self, sighting: Sighting) -> None:
        """Note that a row of the file tells of this record, which is there already."""
        self._again = True
        self._told.add(hash(sighting.id))

    def new(self, line: int, sighting: Sighting, visit: Visit) -> None:
        """Note a new record, told of by the row at this line."""
        self._told.add(hash(sighting.id))
        if len(self._new) < _COMPARED:
            self._new.append((line, sighting, visit))
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
        for one in sorted([*self._maybe, *self._elsewhere()], key=lambda one: (len(one.differs), one.line)):
            if hash(one.before) not in self._told and taken.isdisjoint((one.before, one.record)):
                taken |= {one.before, one.record}
                found.append(one)
        return tuple(sorted(found, key=lambda one: one.line))

    def _elsewhere(self) -> Iterator[Corrected]:
        """Give new rows that differ in one thing from a record that came in with others of the file."""
        if not (self._again and self._new):
            return
        rows = [
            (line, sighting, _aspects(sighting, visit), _who(sighting, visit)) for line, sighting, visit in self._new
        ]
        alike: dict[tuple[Any, ...], list[int]] = {}
        for at, (_, _, aspects, _) in enumerate(rows):
            for pair in _pairs(aspects):
                alike.setdefault(pair, []).append(at)
        for other, at_visit in self._untold(lambda record: hash(record) in self._told):
            theirs, who = _aspects(other, at_visit), _who(other, at_visit)
            for at in sorted({at for pair in _pairs(theirs) for at in alike.get(pair, ())}):
                line, sighting, aspects, whose = rows[at]
                if whose != who:
                    continue
                unlike = [name for name, one, two in zip(_ASPECTS, aspects, theirs, strict=True) if one != two]
                counted = [field for field in self._differences(sighting, other) if field != "name"]
                if len(unlike) + bool(counted) <= 1:
                    name = sighting.taxon.vernacular or sighting.taxon.scientific_name
                    yield Corrected(line, sighting.id, other.id, name, (*unlike, *counted))

    def _standing(self, visit_id: str) -> Sequence[Sighting]:
        known = self._visits.get(visit_id)
        if known is None:
            known = self._visits[visit_id] = self._there(visit_id)
            if len(self._visits) > _REMEMBERED:
                self._visits.popitem(last=False)
        return known


def _aspects(sighting: Sighting, visit: Visit) -> tuple[Any, ...]:
    """Give the day, the place and the name, as they are compared."""
    place = sighting.place or visit.place
    where = (place.square, place.latitude, place.longitude, " ".join(place.locality.casefold().split()))
    return visit.date, where, (sighting.taxon.scientific_name, sighting.taxon.one_of)


def _pairs(aspects: tuple[Any, ...]) -> list[tuple[Any, ...]]:
    """Give each two of the three: what differs in one agrees in two."""
    return [(left, *(one for at, one in enumerate(aspects) if at != left)) for left in range(len(aspects))]


def _who(sighting: Sighting, visit: Visit) -> tuple[str, ...]:
    return sighting.observers or visit.observers
