"""Raw rows of Darwin Core as records, as far as checks need them. Nothing of them is kept."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Any, TypeVar, get_args

from reedmace.checks.quality import Row
from reedmace.checks.quality.isodate import read_days
from reedmace.checks.quality.positions import number
from reedmace.checks.query import Grounds, Record
from reedmace.checks.raw_rows import picker
from reedmace.darwincore import properties_of
from reedmace.faults import Fault
from reedmace.keys.model import Species
from reedmace.places.place import Place, read_place
from reedmace.places.vice_counties import ViceCounty, find_vice_county
from reedmace.records import PlaceRecord, Sighting, Span, Taxon, Visit, span, unless_blank
from reedmace.records.sighting import Sex, Stage
from reedmace.records.text import is_absent
from reedmace.tasks.shared.regions import with_regions
from reedmace.tasks.shared.setting import habitat_words, plain_habitat

T = TypeVar("T")
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


# Rows of one file share visits, names and what was seen: each is read once of each.
_VISIT = (
    *("eventID", "eventDate", "year", "month", "day", "recordedBy", "habitat", "verbatimCoordinates", "locality"),
    *("verbatimLocality", "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "dynamicProperties"),
)
_NAME = ("scientificName", "acceptedNameUsage", "verbatimIdentification", "taxonRank", "vernacularName")
_SEEN = ("individualCount", "sex", "lifeStage", "behavior", "associatedMedia", "dynamicProperties", "occurrenceStatus")
_OWN = ("occurrenceRemarks", "dateIdentified", "eventTime")
_REMEMBERED = 20_000  # readings; then they are forgotten, so that memory stays flat
_AUTHORED = re.compile(r"(?P<genus>[A-Z][a-z]+) (?P<epithets>[a-z-]+(?:/[a-z-]+)*)(?: \(?[^\W\d_a-z].*)?")
_DAY = re.compile(r"[0-9]{4}(-[0-9]{2}){0,2}", re.ASCII)


class RowReader:
    """Reads the rows of one file, whose columns are the terms of `header`, as records for the checks.

    What cannot be read is left out, for the validations tell it.
    """

    def __init__(self, grounds: Grounds, header: Sequence[str]) -> None:
        self._grounds = grounds
        # What the key calls a fen may stand there as a ditch.
        self._habitats = habitat_words(grounds.key)
        self._parts = tuple(
            (picker(header, terms), tuple(term for term in terms if term in header)) for terms in (_VISIT, _NAME, _SEEN)
        )
        self._visits: dict[tuple[str, ...], tuple[Visit, Span | None]] = {}
        self._names: dict[tuple[str, ...], tuple[Taxon, tuple[Species, ...]]] = {}
        self._seen: dict[tuple[str, ...], tuple[Any, ...]] = {}
        self._own = [header.index(term) if term in header else None for term in _OWN]

    def read(self, cells: Sequence[str], name: str) -> Record:
        """Give a row, which is as long as the header, as a record called `name`."""
        (pick_visit, visit_terms), (pick_name, name_terms), (pick_seen, seen_terms) = self._parts
        values = pick_visit(cells)
        at = self._visits.get(values) or _keep(
            self._visits, values, self._visit(dict(zip(visit_terms, values, strict=True)))
        )
        visit, days = at
        if not visit.id:
            visit = visit._replace(id=name)
        values = pick_name(cells)
        named = self._names.get(values) or _keep(
            self._names, values, self._named(dict(zip(name_terms, values, strict=True)))
        )
        values = pick_seen(cells)
        seen = self._seen.get(values) or _keep(self._seen, values, _seen(dict(zip(seen_terms, values, strict=True))))
        remarks, named_on, time = ("" if at is None else cells[at].strip() for at in self._own)
        day = named_on if named_on and _DAY.fullmatch(named_on) else None
        # In the order of a sighting's fields: the names of the fields would cost as much as all the rest.
        own = (day, None, "", None, time or None, None, (), remarks, "", None)
        sighting = Sighting._make((name, name, visit.id, named[0], None, *seen, *own))
        return Record(sighting, visit, named[1], visit.place, days)

    def _visit(self, row: Row) -> tuple[Visit, Span | None]:
        day, habitat = _date(row) or None, row.get("habitat", "").strip()
        visit = Visit(
            id=row.get("eventID", "").strip(),
            date=day,
            place=with_regions(self._grounds.key.squares, _place(row, properties_of(row))),
            party=row.get("recordedBy", "").strip(),
            habitat=self._habitats.get(plain_habitat(habitat), habitat),
            habitat_typed=habitat,
        )
        return visit, span(day) if day else None

    def _named(self, row: Row) -> tuple[Taxon, tuple[Species, ...]]:
        told = (row.get(term, "").strip() for term in _NAME[:3])
        name = next((one for one in told if one), "")
        taxon = Taxon(
            name, rank=row.get("taxonRank", "").strip().casefold(), vernacular=row.get("vernacularName", "").strip()
        )
        species = self._grounds.named.get(name)
        if species is None and (bare := _bare(name)):
            # Who gave a name is no part of it; of two that were not told apart both are known.
            found = [self._grounds.named[one] for one in bare if one in self._grounds.named]
            if len(found) == len(bare):
                one_of = bare if len(bare) > 1 else ()
                return taxon._replace(scientific_name=bare[0] if not one_of else name, one_of=one_of), tuple(found)
        return taxon, (species,) if species else ()


def _bare(name: str) -> tuple[str, ...]:
    """Give the names of species in one cell, without who gave them: of `Aus bus (L.)` one, of `Aus bus/cus` two."""
    found = _AUTHORED.fullmatch(name)
    return tuple(f"{found['genus']} {one}" for one in found["epithets"].split("/")) if found else ()


def _keep(known: dict[tuple[str, ...], T], which: tuple[str, ...], found: T) -> T:
    if len(known) >= _REMEMBERED:
        known.clear()
    known[which] = found
    return found


def _seen(row: Row) -> tuple[Any, ...]:
    """Give the fields of a sighting from `count` to `determiner`, in their order."""

    def get(term: str) -> str:
        return row.get(term, "").strip()

    properties = properties_of(row)
    count, pairs, evidence, sex = (
        get("individualCount"),
        properties.get("pairs"),
        properties.get("evidence"),
        get("sex"),
    )
    absent = is_absent(get("occurrenceStatus"))
    fields = Sighting(
        *("", "", "", Taxon("")),
        count=0 if absent else _number(count),
        count_kind="exact" if count or absent else "present",
        pairs=pairs if isinstance(pairs, int) else None,
        sex=sex.casefold() if sex.casefold() in _SEXES else None,  # type: ignore[arg-type]
        stage=_STAGES.get(get("lifeStage").casefold()),
        behaviour=tuple(part.strip() for part in get("behavior").split("|") if part.strip()),
        evidence=evidence if evidence in _EVIDENCE else "photo" if get("associatedMedia") else None,
    )
    first, last = Sighting._fields.index("count"), Sighting._fields.index("determined_on")
    return fields[first:last]


def _number(count: str) -> int | None:
    """A whole number of individuals from 1 on; None for others, which the validations tell."""
    plain = count.removesuffix(".0")
    return (int(plain) or None) if plain.isascii() and plain.isdigit() and len(plain) < 16 else None


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


def _place(row: Row, properties: dict[str, Any]) -> PlaceRecord:
    """The place by its typed coordinates, else by latitude and longitude."""
    locality = unless_blank(row.get("locality", "").strip()) or unless_blank(row.get("verbatimLocality", "").strip())
    county = properties.get("viceCounty")
    vice_county = _vice_county(str(county)) if county else None
    place = _read(row.get("verbatimCoordinates", "").strip())
    latitude, longitude = number(row.get("decimalLatitude")), number(row.get("decimalLongitude"))
    uncertainty = number(row.get("coordinateUncertaintyInMeters"))
    metres = int(uncertainty) if uncertainty and 1 <= uncertainty < 1e8 else None
    if place is None and latitude is not None and longitude is not None:
        # With few decimals it is no finer a place than that, unless the row says how fine it is.
        typed = f"{row['decimalLatitude'].strip()}, {row['decimalLongitude'].strip()}" if metres is None else ""
        place = (typed and _read(typed)) or _read(f"{latitude:.6f}, {longitude:.6f}")
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
