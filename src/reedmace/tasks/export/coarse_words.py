"""Words of a record from which a finer place can be read than a recipient is to have."""

from __future__ import annotations

from itertools import chain

from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.export.public_plan import cells_touched
from reedmace.tasks.export.public_words import Telling

_AS_TYPED = "words as typed"
_TOLD = "words from which a finer place can be read"


def without_finer(sighting: Sighting, visit: Visit) -> tuple[Sighting, Visit, str]:
    """Take out of a record every text that tells one of its own 1 km squares; and say what is kept back.

    What was typed goes in any case: it holds the place as it was given.
    """
    places = (visit.place,) if sighting.place is None else (visit.place, sighting.place)
    telling = Telling(chain.from_iterable(cells_touched(place) for place in places))
    own = sighting.place and _nameless(sighting.place, telling)
    bare = sighting._replace(
        place=own,
        typed="",
        behaviour=tuple(word for word in sighting.behaviour if not telling.in_text(word)),
        photos=tuple(photo for photo in sighting.photos if not telling.in_text(photo.path)),
        remarks=_told(sighting.remarks, telling),
        qualifier=_told(sighting.qualifier, telling),
        count_typed=_told(sighting.count_typed, telling),
    )
    around = visit._replace(
        place=_nameless(visit.place, telling),
        date_typed=_told(visit.date_typed, telling),
        party=_told(visit.party, telling),
        habitat=_told(visit.habitat, telling),
        habitat_typed=_told(visit.habitat_typed, telling),
        weather=_told(visit.weather, telling),
        method=_told(visit.method, telling),
        remarks=_told(visit.remarks, telling),
    )
    changed = bare != sighting._replace(typed="") or around != visit
    return bare, around, f"{_AS_TYPED}, {_TOLD}" if changed else _AS_TYPED


def _nameless(place: PlaceRecord, telling: Telling) -> PlaceRecord:
    return place._replace(locality="") if telling.in_place_name(place.locality) else place


def _told(text: str, telling: Telling) -> str:
    return "" if telling.in_text(text) else text
