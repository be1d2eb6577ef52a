"""What the columns of a line cannot say, as exact fields: so that our own file, read again, is the same record.

They stand in `dynamicProperties` under `exact`, with a format number: fields of the sighting and of its visit as the
ledger holds them, people by name, and the determinations that came before. Only what the columns leave open is there.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.event import visit_prose
from reedmace.darwincore.location import location_terms, read_location
from reedmace.darwincore.reading import read_visit_remarks
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit, habitat_said, unless_blank, with_names
from reedmace.records.bodies import NAMING, PLACE, TAXON

FORMAT = 1
NameOf = Callable[[str], str]


class Earlier(NamedTuple):
    """A determination that was followed by another: the sighting as it was named then, and what its entry says."""

    sighting: Sighting
    written_at: str
    act: str
    reason: str


def exact_fields(
    sighting: Sighting,
    visit: Visit,
    name_of: NameOf,
    earlier: Sequence[Earlier] = (),
    reason: str = "",
    habitat_of: Callable[[str], str] = str,
) -> dict[str, Any]:
    """Give the exact fields of a line, JSON-able; people's ids are names, habitats what `habitat_of` calls their ids.

    `reason` is why the sighting got the name it has, where it had another before.
    """
    exact: dict[str, Any] = {"format": FORMAT}
    if of_sighting := exact_of_sighting(sighting, visit):
        exact["sighting"] = of_sighting
    if of_visit := exact_of_visit(sighting, visit, name_of, habitat_of):
        exact["visit"] = of_visit
    if earlier:
        exact["earlier"] = [_earlier(one, name_of) for one in earlier]
        exact["reason"] = reason
    return exact


def exact_of_sighting(sighting: Sighting, visit: Visit) -> dict[str, Any]:
    """Give the exact fields of the sighting itself."""
    taxon = sighting.taxon
    found: dict[str, Any] = _said(taxon) if taxon.one_of or " or " in taxon.typed else {}
    if sighting.naming is not None:
        found["naming"] = NAMING.write(sighting.naming)
    if sighting.count_typed and sighting.count_typed != str(sighting.count):
        found["count_typed"] = sighting.count_typed
    if sighting.count_kind != "exact":
        found |= _count(sighting)
    if sighting.in_pairs is not None:
        found["in_pairs"] = sighting.in_pairs
    if sighting.certainty or sighting.qualifier:
        found |= _doubt(sighting)
    if sighting.time is None and visit.start and (visit.end is None or visit.end == visit.start):
        found["time"] = None
    if sighting.behaviour and any(not _stays(part) for part in sighting.behaviour):
        found["behaviour"] = list(sighting.behaviour)
    if sighting.photos and any(not _stays(photo.path) for photo in sighting.photos):
        found["photos"] = [list(photo) for photo in sighting.photos]
    if sighting.place is not None:
        found["place"] = True if _can_be_read(sighting.place) else _place(sighting.place)
    return found


def _count(sighting: Sighting) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if sighting.count_to is not None and sighting.count_to == sighting.count:
        found["count_to"] = sighting.count_to
    if sighting.count_kind == "band" and sighting.count_to in (None, sighting.count):
        found["count_kind"] = "band"
    return found


def _doubt(sighting: Sighting) -> dict[str, Any]:
    if sighting.qualifier and (sighting.certainty or sighting.qualifier in ("?", "probable")):
        return {"certainty": sighting.certainty, "qualifier": sighting.qualifier}
    return {"certainty": "certain"} if sighting.certainty == "certain" else {}


def _place(place: PlaceRecord) -> dict[str, Any]:
    """Give a place, in one line where its columns say the same."""
    plain = _flat(place)
    body: dict[str, Any] = PLACE.write(plain if _can_be_read(place) else plain._replace(typed=place.typed))
    return body


def _flat(place: PlaceRecord) -> PlaceRecord:
    """Give a place as one line can say it; its regions are the key's, and its site is of one ledger only."""
    return place._replace(
        regions=(), site=None, typed=one_line(place.typed), locality=one_line(unless_blank(place.locality))
    )


def _said(taxon: Taxon) -> dict[str, Any]:
    """Give what was typed for the name, where the column of names as typed cannot say it as well."""
    return {"one_of": list(taxon.one_of), "name_typed": taxon.typed}


def exact_of_visit(
    sighting: Sighting, visit: Visit, name_of: NameOf, habitat_of: Callable[[str], str] = str
) -> dict[str, Any]:
    """Give the exact fields of the visit of a sighting.

    Of a habitat that stands in its column by a word: the key's id, the word, and whether it is only the key's title.
    """
    found = dict(_of_visit(visit, with_names(visit.typed, name_of)))
    said = habitat_said(visit, habitat_of)
    if visit.habitat_typed or said != visit.habitat:
        found["habitat"] = [visit.habitat, said, *([] if visit.habitat_typed else ["title"])]
    if sighting.observers is not None:
        found["observers"] = [name_of(person) for person in visit.observers]
    if sighting.place is not None:
        found["place"] = _place(visit.place)
    one_time = not (visit.start and visit.end and visit.start != visit.end)
    if sighting.time is not None or one_time:
        found |= {name: time for name, time in (("start", visit.start), ("end", visit.end)) if time}
    return found


@lru_cache(maxsize=256)  # the lines of a visit stand together
def _of_visit(visit: Visit, typed: str) -> dict[str, Any]:
    found: dict[str, Any] = {
        name: value
        for name, value in (
            ("party", visit.party),
            ("none_seen", visit.none_seen),
            ("exuvia_passes", visit.exuvia_passes),
            ("party_size", visit.party_size),
            ("typed", typed),
        )
        if value
    }
    said = {
        "weather": visit.weather,
        "all_damselflies": visit.all_damselflies,
        "all_dragonflies": visit.all_dragonflies,
        "remarks": visit.remarks,
    }
    prose = one_line(visit_prose(visit))
    if read_visit_remarks(prose) != {**said, "weather": one_line(visit.weather), "remarks": one_line(visit.remarks)}:
        found |= said
    if not _can_be_read(visit.place):
        found["place"] = _place(visit.place)
    return found


@lru_cache(maxsize=4096)
def _can_be_read(place: PlaceRecord) -> bool:
    """Say whether the columns of a place, read again, come to the same columns and the same square."""
    cells = {term: one_line(text) for term, text in location_terms(place, {}).items()}
    read = read_location(cells, place.vice_county)
    if read is None or location_terms(read, {}) != cells:
        return False
    plain = _flat(place)
    return read == (plain if plain.typed else plain._replace(typed=read.typed))


def _earlier(one: Earlier, name_of: NameOf) -> dict[str, Any]:
    seen = one.sighting
    found: dict[str, Any] = {"taxon": TAXON.write(seen.taxon), "at": one.written_at, "act": one.act}
    if one.reason:
        found["reason"] = one.reason
    if seen.determiner:
        found["determiner"] = name_of(seen.determiner)
    for field in ("determined_on", "certainty", "qualifier", "evidence"):
        if value := getattr(seen, field):
            found[field] = value
    if seen.naming is not None:
        found["naming"] = NAMING.write(seen.naming)
    return found


def _stays(part: str) -> bool:
    """Say whether a part of a list stays as it is in a cell."""
    return "|" not in part and part == part.strip() and one_line(part) == part


def marked(text: str, ids_of: Mapping[str, str], mark: Callable[[str], str]) -> str:
    """Put marks in place of people's names in a typed line; the longest names first."""
    if not ids_of:
        return text
    names = "|".join(re.escape(name) for name in sorted(ids_of, key=len, reverse=True))
    return re.sub(rf"(?<!\w)(?:{names})(?!\w)", lambda found: mark(ids_of[found[0]]), text)
