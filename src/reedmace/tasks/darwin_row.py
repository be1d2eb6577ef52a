"""One raw row of Darwin Core as a sighting and its visit, as far as checks need them. Nothing of it is kept."""

from __future__ import annotations

import json
import re
from functools import lru_cache
from typing import Any, get_args

from reedmace.checks.quality import Row
from reedmace.checks.quality.isodate import read_days
from reedmace.checks.quality.positions import number
from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.places.place import Place, read_place
from reedmace.places.vice_counties import ViceCounty, find_vice_county
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.records.sighting import Sex, Stage
from reedmace.tasks.regions import with_regions

_SEXES = frozenset(get_args(Sex))
_STAGES = {
    **{stage: stage for stage in get_args(Stage)},
    "imago": "adult",
    "nymph": "larva",
    "exuviae": "exuvia",
    "emergent": "emerging",
    "subadult": "immature",
}
_EVIDENCE = {"sight", "photo", "in hand", "exuvia"}


def as_sighting(key: Key, row: Row, name: str) -> tuple[Sighting, Visit]:
    """What a row says, in the records' own fields; what cannot be read is left out, for the validations tell it."""

    def get(term: str) -> str:
        return row.get(term, "").strip()

    properties = _properties(get("dynamicProperties"))
    behaviour = tuple(part.strip() for part in get("behavior").split("|") if part.strip())
    count = get("individualCount")
    pairs = properties.get("pairs")
    verbatim = get("verbatimIdentification")
    visit = Visit(
        id=get("eventID") or name,
        date=_date(row) or None,
        place=with_regions(key.squares, _place(row, properties)),
        party=get("recordedBy"),
        habitat=get("habitat"),
    )
    evidence = properties.get("evidence")
    sighting = Sighting(
        id=name,
        line_id=name,
        visit_id=visit.id,
        taxon=Taxon(
            get("scientificName") or get("acceptedNameUsage") or verbatim,
            rank=get("taxonRank").casefold(),
            vernacular=get("vernacularName"),
        ),
        count=int(count) if count.isascii() and count.isdigit() and 0 < len(count) < 16 and int(count) else None,
        count_kind="exact" if count else "present",
        pairs=pairs if isinstance(pairs, int) else None,
        sex=get("sex").casefold() if get("sex").casefold() in _SEXES else None,  # type: ignore[arg-type]
        stage=_STAGES.get(get("lifeStage").casefold()),
        behaviour=behaviour,
        evidence=evidence if evidence in _EVIDENCE else "photo" if get("associatedMedia") else None,
        determined_on=get("dateIdentified")
        if re.fullmatch(r"[0-9]{4}(-[0-9]{2}){0,2}", get("dateIdentified"))
        else None,
        time=get("eventTime") or None,
        remarks=get("occurrenceRemarks"),
    )
    return sighting, visit


def _date(row: Row) -> str:
    """EventDate as a day or a span of days; as it stands where it is none; else from year, month and day."""
    text = row.get("eventDate", "").strip()
    if text:
        days = read_days(text)
        if days is None:
            return text
        return days.first.isoformat() if days.one_day else f"{days.first.isoformat()}/{days.last.isoformat()}"
    parts = []
    for term, wide in (("year", 4), ("month", 2), ("day", 2)):
        part = row.get(term, "").strip()
        if not (part.isascii() and part.isdigit() and len(part) <= wide):
            break
        parts.append(part.zfill(wide))
    return "-".join(parts)


def _properties(text: str) -> dict[str, Any]:
    if not text.startswith("{"):
        return {}
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _place(row: Row, properties: dict[str, Any]) -> PlaceRecord:
    """The place by its typed coordinates, else by latitude and longitude."""
    locality = row.get("locality", "").strip() or row.get("verbatimLocality", "").strip()
    county = properties.get("viceCounty")
    vice_county = _vice_county(str(county)) if county else None
    place = _read(row.get("verbatimCoordinates", "").strip())
    latitude, longitude = number(row.get("decimalLatitude")), number(row.get("decimalLongitude"))
    if place is None and latitude is not None and longitude is not None:
        place = _read(f"{latitude:.6f}, {longitude:.6f}")
    uncertainty = number(row.get("coordinateUncertaintyInMeters"))
    metres = int(uncertainty) if uncertainty and 1 <= uncertainty < 1e8 else None
    if place is None:
        known = latitude is not None and longitude is not None and abs(latitude) <= 90 and abs(longitude) <= 180
        if not known:
            return PlaceRecord(locality=locality, vice_county=vice_county)
        return PlaceRecord("", "WGS84", None, None, latitude, longitude, metres, None, vice_county, (), locality)
    shown = place.rounded()
    accuracy = place.uncertainty_m or metres
    return PlaceRecord(
        place.typed,
        place.system,
        place.square,
        place.side_m,
        *shown,
        round(accuracy) if accuracy else None,
        vice_county=vice_county,
        locality=locality,
    )


@lru_cache(maxsize=4096)  # a file names the same places again and again
def _read(text: str) -> Place | None:
    found = read_place(text) if text else None
    return None if found is None or isinstance(found, Fault) else found


@lru_cache(maxsize=256)
def _vice_county(text: str) -> str | None:
    found = find_vice_county(text)
    return found.number if isinstance(found, ViceCounty) else None
