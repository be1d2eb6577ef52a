"""Which visit a row of a sheet belongs to: one that says nothing of the row that the row itself does not say.

Rows of one day and place are one visit. A row of other people keeps them with its sighting; a party and a date as
typed have room only in a visit, so a row that differs in these is of a visit of its own.
"""

from __future__ import annotations

import re
import uuid
from collections import OrderedDict
from collections.abc import Callable
from typing import Any, NamedTuple

from reedmace.faults import Fault
from reedmace.records import Visit

# The space of ids worked out from rows: made once, for this purpose.
ROWS = uuid.UUID("8d1f0c5e-6a0b-5f5e-9a56-4b1f6f0f3a77")
_REMEMBERED = 20_000  # visits: enough for neighbours in a file, little enough for memory


# What all rows of a visit share: the first of them says it.
_OF_ALL = ("start", "end", "habitat", "method", "weather", "all_damselflies", "all_dragonflies", "remarks")


class Placed(NamedTuple):
    """The visit of a row, and the observers whom its sightings keep themselves (None where they are the visit's).

    `ids` are the visits in which a row without a visit's id may have been put earlier. `objection` says why nothing
    new can be put into this visit.
    """

    visit: Visit
    observers: tuple[str, ...] | None
    ids: tuple[str, ...] = ()
    objection: Fault | None = None


class RowVisits:
    """The visits of one file's rows. `there` gives the visit of an id that is in the ledger already.

    `unlike` are ids of visits whose rows type the date in different ways: such a visit holds none of them.
    """

    def __init__(self, there: Callable[[str], Visit | None], unlike: frozenset[str] = frozenset()) -> None:
        self._there = there
        self._unlike = unlike
        self._met: OrderedDict[str, tuple[Visit, Visit]] = OrderedDict()  # as it stands, and as the first row said it
        self._last: tuple[tuple[Any, ...], str] = ((), "")

    def known(self, visit: Visit) -> Visit:
        """Give the visit of this one's id that was met before, in the file or the ledger, else this one."""
        met = self._met.get(visit.id)
        if met is not None:
            return met[0]
        there = self._there(visit.id) or visit
        self._met[visit.id] = (there, visit)
        if len(self._met) > _REMEMBERED:
            self._met.popitem(last=False)
        return there

    def untold(self, visit_id: str, said: Visit) -> frozenset[str]:
        """Give the fields in which a row says otherwise than the first row of its visit, which is what is kept."""
        met = self._met.get(visit_id)
        if met is None or met[1] is said:
            return frozenset()
        return frozenset(field for field in _OF_ALL if getattr(said, field) != getattr(met[1], field))

    def place(self, said: Visit, *, seen: bool, number: str = "") -> Placed:
        """Place a row that says this of its visit; where nothing was `seen`, there is nobody to be credited.

        `number` is that of the visit in its sheet: it sets visits of one day and place apart, and is no id, for the
        next sheet begins with 1 again.
        """
        if said.id:
            met = self.known(said._replace(date_typed="") if said.id in self._unlike else said)
            return Placed(met, _own(met, said), (), _objection(met, said))
        first = self._first(said, number)
        met = self.known(said._replace(id=first))
        if not seen or (met.date_typed == said.date_typed and _holds(met, said) and _weather_of(met, said)):
            return Placed(met, _own(met, said), (first,))
        apart = str(uuid.uuid5(ROWS, repr((first, *_apart(said)))))
        met = self.known(said._replace(id=apart))
        return Placed(met, _own(met, said), (first, apart))

    def _first(self, said: Visit, number: str) -> str:
        """Work out the id of the visit of a row; neighbours are mostly of one."""
        asked = (said.date, said.place, said.habitat, said.method, said.start, said.remarks, number)
        if asked != self._last[0]:
            same = (*_same(said), number) if number else _same(said)
            self._last = (asked, str(uuid.uuid5(ROWS, repr(same))))
        return self._last[1]


def _holds(visit: Visit, said: Visit) -> bool:
    """Say whether a row can stand in a visit without losing or gaining people."""
    if said.party or not said.observers:
        return (visit.party, visit.observers) == (said.party, said.observers)
    return True


def _weather_of(visit: Visit, said: Visit) -> bool:
    """Say whether a row says nothing of the weather that its visit does not say."""
    return said.weather in ("", visit.weather)


def _own(visit: Visit, said: Visit) -> tuple[str, ...] | None:
    if (visit.party, visit.observers) == (said.party, said.observers):
        return None
    return said.observers or None


def _objection(visit: Visit, said: Visit) -> Fault | None:
    """Say why a row cannot stand in the visit whose id it has."""
    if visit.date_typed not in ("", said.date_typed):
        why = f'The date of the visit of this id was typed "{visit.date_typed}", and this row\'s otherwise.'
        return Fault("visit-differs", why, "type it the same way, or give the row another visit's id", said.date_typed)
    if not _holds(visit, said):
        there = visit.party or "no party"
        why = f'A visit has one party and those who were with it; the visit of this id has others, with "{there}".'
        return Fault("visit-differs", why, "give the row another visit's id, or name all who were there", said.party)
    return None


def _apart(said: Visit) -> tuple[Any, ...]:
    """Give what sets rows of one day and place apart. People by their ids, which say nothing of their names."""
    who = (said.date_typed, said.party, said.observers if said.party else bool(said.observers))
    return (*who, said.weather) if said.weather else who


def _same(visit: Visit) -> tuple[Any, ...]:
    """Give what makes rows without a visit's id one visit: one day at one place.

    No people: two observers' rows of a day are one visit, and no id is worked out from somebody's name.
    """
    place = visit.place
    where = (re.sub(r"\s+", " ", place.typed), place.square, place.locality.casefold(), place.latitude, place.longitude)
    return (visit.date, where, visit.habitat, visit.method, visit.start, visit.remarks)
