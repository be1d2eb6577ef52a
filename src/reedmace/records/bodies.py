"""Visits and sightings as plain, JSON-able bodies, and back.

Writing refuses what cannot be kept (`Refused`, all slips of the record at once). Reading refuses what this
version cannot hold: an unknown field is a record from a newer program (`record-too-new`), anything else
unfit is damage (`record-damaged`). Missing fields take their defaults, so older bodies always read.
"""

from __future__ import annotations

from typing import Any, TypeVar, get_args

from reedmace.faults import Fault, Refused
from reedmace.records import kinds
from reedmace.records.kinds import Unfit
from reedmace.records.naming import Answer, Circumstances, Eye, Naming, Ranked, VerdictWord
from reedmace.records.photo import Photo
from reedmace.records.place import PlaceKind, PlaceRecord, System
from reedmace.records.rules import slips_in_sighting, slips_in_visit
from reedmace.records.shape import Shape, many, nested, remembered, rows, short_rows
from reedmace.records.sighting import Certainty, CountKind, Evidence, Sex, Sighting, Stage
from reedmace.records.site import MaySee, Site
from reedmace.records.taxon import Taxon
from reedmace.records.visit import Visit

PLACE = Shape(
    PlaceRecord,
    {
        "typed": kinds.text,
        "system": kinds.word(*get_args(System)),
        "square": kinds.filled,
        "side_m": kinds.whole(1),
        "latitude": kinds.real(-90, 90),
        "longitude": kinds.real(-180, 180),
        "uncertainty_m": kinds.whole(1),
        "kind": kinds.word(*get_args(PlaceKind)),
        "vice_county": kinds.vice_county,
        "regions": many(kinds.filled),
        "locality": kinds.text,
        "site": kinds.identifier,
    },
)
TAXON = Shape(
    Taxon,
    {
        "scientific_name": kinds.filled,
        "authorship": kinds.text,
        "rank": kinds.text,
        "vernacular": kinds.text,
        "kingdom": kinds.text,
        "phylum": kinds.text,
        "class_name": kinds.text,
        "order": kinds.text,
        "family": kinds.text,
        "genus": kinds.text,
        "specific_epithet": kinds.text,
        "one_of": many(kinds.filled),
        "typed": kinds.text,
    },
)
CIRCUMSTANCES = Shape(
    Circumstances, {"date": kinds.text, "place": kinds.text, "habitat": kinds.text, "flat": kinds.flag}
)
NAMING = Shape(
    Naming,
    {
        "key_id": kinds.filled,
        "key_version": kinds.text,
        "key_digest": kinds.text,
        "eye": kinds.word(*get_args(Eye)),
        "answers": rows(Answer, kinds.filled, kinds.text),
        "circumstances": nested(CIRCUMSTANCES),
        "verdict": kinds.word(*get_args(VerdictWord)),
        "verdict_name": kinds.text,
        "ranking": rows(Ranked, kinds.filled, kinds.text, kinds.real(0, 1)),
        "reedmace": kinds.text,
    },
)
VISIT = Shape(
    Visit,
    {
        "id": kinds.identifier,
        "date": kinds.iso_date,
        "date_typed": kinds.text,
        "start": kinds.clock,
        "end": kinds.clock,
        "place": nested(PLACE),
        "observers": many(kinds.identifier),
        "party": kinds.text,
        "habitat": kinds.text,
        "weather": kinds.text,
        "method": kinds.text,
        "all_damselflies": kinds.flag,
        "all_dragonflies": kinds.flag,
        "none_seen": kinds.flag,
        "exuvia_passes": kinds.whole(1),
        "permission_noted": kinds.text,
        "remarks": kinds.text,
        "temperature_c": kinds.real(-60, 60),
        "sun_percent": kinds.within(0, 100),
        "wind_force": kinds.within(0, 12),
        "wind_force_to": kinds.within(0, 12),
        "party_size": kinds.whole(1),
        "typed": kinds.text,
        "habitat_typed": kinds.text,
    },
)
SIGHTING = Shape(
    Sighting,
    {
        "id": kinds.identifier,
        "line_id": kinds.identifier,
        "visit_id": kinds.identifier,
        "taxon": remembered(TAXON),
        "naming": nested(NAMING),
        "count": kinds.whole(0),
        "count_to": kinds.whole(1),
        "count_kind": kinds.word(*get_args(CountKind)),
        "count_typed": kinds.text,
        "pairs": kinds.whole(0),
        "sex": kinds.word(*get_args(Sex)),
        "stage": kinds.word(*get_args(Stage)),
        "behaviour": many(kinds.filled),
        "evidence": kinds.word(*get_args(Evidence)),
        "determiner": kinds.identifier,
        "determined_on": kinds.iso_date,
        "certainty": kinds.word(*get_args(Certainty)),
        "qualifier": kinds.text,
        "place": nested(PLACE),
        "time": kinds.clock,
        "observers": many(kinds.identifier),
        "photos": short_rows(Photo, kinds.filled, kinds.digest),
        "remarks": kinds.text,
        "typed": kinds.text,
        "in_pairs": kinds.whole(1),
    },
)
SITE = Shape(
    Site,
    {
        "id": kinds.identifier,
        "name": kinds.filled,
        "also": many(kinds.filled),
        "place": nested(PLACE),
        "habitat": kinds.text,
        "remarks": kinds.text,
        "may_see": kinds.word(*get_args(MaySee)),
        "habitat_typed": kinds.text,
    },
)


Record = Visit | Sighting | Site
_SHAPES: dict[type[Record], Shape[Any]] = {Visit: VISIT, Sighting: SIGHTING, Site: SITE}
_R = TypeVar("_R", Visit, Sighting, Site)


def as_body(record: Record) -> dict[str, Any]:
    """Write a record as a plain body, made of dicts, lists, text, numbers and flags only.

    Raises `Refused` where a value cannot be kept or the fields contradict each other.
    """
    try:
        body = _SHAPES[type(record)].write(record)
    except Unfit as unfit:
        raise Refused(_fault(type(record), unfit)) from None
    slips: tuple[Fault, ...] = ()
    if isinstance(record, Visit):
        slips = slips_in_visit(record)
    elif isinstance(record, Sighting):
        slips = slips_in_sighting(record)
    if slips:
        raise Refused(*slips)
    return body


def from_body(kind: type[_R], body: Any) -> _R:
    """Read the visit, sighting or site a body stands for; raises `Refused` where this version cannot."""
    try:
        read: _R = _SHAPES[kind].read(body)
        return read
    except Unfit as unfit:
        if unfit.code != "record-too-new":
            unfit.code = "record-damaged"
        raise Refused(_fault(kind, unfit)) from None


_HINTS = {
    "value-unfit": "correct this value and try again",
    "text-unreadable": "type the text again; it may have been cut in the middle of a character",
    "record-too-new": "a newer version of reedmace wrote this record: upgrade reedmace to read it",
    "record-damaged": "it was changed outside reedmace, or the disk is failing: go back to your last backup",
}


def _fault(kind: type, unfit: Unfit) -> Fault:
    where = ".".join([kind.__name__.casefold(), *unfit.path])
    said = unfit.said
    shown = said.encode("utf-8", "backslashreplace").decode() if isinstance(said, str) else repr(said)
    return Fault(unfit.code, f"{where}: {unfit.why}.", _HINTS[unfit.code], None if said is None else shown)
