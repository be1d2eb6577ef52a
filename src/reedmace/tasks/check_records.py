"""Check records against the rules, one by one and against each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from reedmace.checks.query import Query, Record, record_of
from reedmace.checks.rules import RULES
from reedmace.keys.model import Key
from reedmace.records import Sighting, Visit


class Checked(NamedTuple):
    """A record with its queries."""

    record: Record
    queries: tuple[Query, ...]


def check(key: Key, rows: Iterable[tuple[Sighting, Visit]]) -> Iterator[Checked]:
    """Every record in its order, with the queries it raises."""
    seen: dict[tuple[object, ...], str] = {}
    for sighting, visit in rows:
        record = record_of(key, sighting, visit)
        queries = [query for rule in RULES for query in rule(key, record)]
        queries += _twice(record, seen)
        yield Checked(record, tuple(queries))


def _twice(record: Record, seen: dict[tuple[object, ...], str]) -> list[Query]:
    """The same name, day, place, sex, stage, behaviour and count again: probably one sighting written twice."""
    sighting, visit = record.sighting, record.visit
    place = sighting.place or visit.place
    same = (
        sighting.taxon.scientific_name,
        sighting.taxon.one_of,
        visit.date,
        place.square or place.typed,
        sighting.sex,
        sighting.stage,
        sighting.behaviour,
        sighting.count,
        sighting.time,
    )
    earlier = seen.setdefault(same, sighting.id)
    if earlier == sighting.id:
        return []
    reason = f"The same was written before (record …{earlier[-12:]})."
    return [
        Query(
            "written-twice",
            "doubt",
            sighting.id,
            reason,
            "take one back if it is the same sighting:  reedmace ledger undo",
        )
    ]
