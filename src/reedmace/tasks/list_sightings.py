"""A sighting as plain values, for `ledger list --json`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reedmace.ledger.entries import EntryMeta
from reedmace.records import Sighting, Visit, as_body


def as_json(sighting: Sighting, visit: Visit, meta: EntryMeta, name_of: Callable[[str], str]) -> dict[str, Any]:
    """One JSON-able object: what, where, when, who, and the whole record under `record` and `visit`."""
    place = sighting.place or visit.place
    observers = sighting.observers if sighting.observers is not None else visit.observers
    taxon = sighting.taxon
    return {
        "id": sighting.id,
        "visit_id": visit.id,
        "line_id": sighting.line_id,
        "date": visit.date,
        "name": taxon.scientific_name,
        "rank": taxon.rank,
        "vernacular": taxon.vernacular,
        "one_of": list(taxon.one_of),
        "count": sighting.count,
        "count_kind": sighting.count_kind,
        "pairs": sighting.pairs,
        "sex": sighting.sex,
        "stage": sighting.stage,
        "behaviour": list(sighting.behaviour),
        "place": place.square or place.typed,
        "latitude": place.latitude,
        "longitude": place.longitude,
        "uncertainty_m": place.uncertainty_m,
        "locality": place.locality,
        "observers": [name_of(person) for person in observers],
        "determiner": name_of(sighting.determiner) if sighting.determiner else None,
        "certainty": sighting.certainty,
        "evidence": sighting.evidence,
        "remarks": sighting.remarks,
        "typed": sighting.typed,
        "act": meta.act,
        "written_at": meta.written_at,
        "record": as_body(sighting),
        "visit": as_body(visit),
    }
