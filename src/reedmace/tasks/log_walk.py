"""Log a walk: lines or one named insect → a visit with its sightings, written whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from reedmace.keys.model import Key, Named
from reedmace.ledger.store import Ledger
from reedmace.places.place import Place
from reedmace.records import Naming, PlaceRecord, Sighting, Visit
from reedmace.tasks.dates import TypedDate
from reedmace.tasks.shorthand import Line
from reedmace.tasks.taxa import taxon_of

NewId = Callable[[], str]


class Occasion(NamedTuple):
    """What all lines of a visit share."""

    day: TypedDate
    place: Place | None
    locality: str = ""
    vice_county: str | None = None
    regions: tuple[Named, ...] = ()
    habitat: str = ""
    evidence: str | None = None
    remarks: str = ""


def place_record(occasion: Occasion) -> PlaceRecord:
    """The record's plain copy of a place: typed text, square, centre, uncertainty."""
    place = occasion.place
    if place is None:
        return PlaceRecord(locality=occasion.locality, vice_county=occasion.vice_county)
    latitude, longitude = place.rounded()
    return PlaceRecord(
        typed=place.typed,
        system=place.system,
        square=place.square,
        side_m=place.side_m,
        latitude=latitude,
        longitude=longitude,
        uncertainty_m=round(place.uncertainty_m) if place.uncertainty_m is not None else None,
        vice_county=occasion.vice_county,
        regions=tuple(region.id for region in occasion.regions),
        locality=occasion.locality,
    )


def sightings_of(
    key: Key,
    line: Line,
    visit: str,
    person: str,
    day: TypedDate,
    evidence: str | None,
    naming: Naming | None,
    new_id: NewId,
) -> list[Sighting]:
    """One sighting for each tally of a line; they share the line's id."""
    line_id = new_id()
    return [
        Sighting(
            id=new_id(),
            line_id=line_id,
            visit_id=visit,
            taxon=taxon_of(key, line.name),
            naming=naming,
            count=tally.count,
            count_kind=tally.kind,  # type: ignore[arg-type]  # the words of shorthand are the records' own
            count_typed=tally.typed,
            pairs=tally.pairs,
            sex=tally.sex,  # type: ignore[arg-type]
            stage=line.stage or key.stage,  # type: ignore[arg-type]
            behaviour=line.behaviour,
            evidence=evidence,  # type: ignore[arg-type]
            determiner=person,
            determined_on=day.iso,
            certainty="uncertain" if line.doubtful else None,
            remarks=line.remarks,
            typed=line.typed,
        )
        for tally in line.tallies
    ]


def log_lines(
    ledger: Ledger,
    key: Key,
    occasion: Occasion,
    lines: Sequence[Line],
    *,
    person: str,
    written_at: str,
    new_id: NewId,
    naming: Naming | None = None,
) -> tuple[Visit, list[Sighting]]:
    """Write the lines as one visit. When this returns they are on the disk."""
    visit = Visit(
        id="",
        date=occasion.day.iso,
        date_typed=occasion.day.typed,
        place=place_record(occasion),
        observers=(person,),
        habitat=occasion.habitat,
        remarks=occasion.remarks,
    )
    visit = _same_visit(ledger, visit) or visit._replace(id=new_id())
    sightings = [
        sighting
        for line in lines
        for sighting in sightings_of(key, line, visit.id, person, occasion.day, occasion.evidence, naming, new_id)
    ]
    ledger.record_walk(visit, sightings, person, written_at, new_id)
    return visit, sightings


def _same_visit(ledger: Ledger, wanted: Visit) -> Visit | None:
    """A visit of the same person to the same place on the same day: further lines belong to it."""
    year = int((wanted.date or "0")[:4])
    for visit, _ in ledger.current_visits(year):
        if visit._replace(id="") == wanted:
            return visit
    return None
