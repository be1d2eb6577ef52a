"""Records of the made tarn flies, for the rules to look at."""

from __future__ import annotations

from datetime import date
from typing import Any

from reedmace.checks.county import County
from reedmace.checks.query import Grounds, Query, Record, grounds, record_of
from reedmace.checks.rules import RULES
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.shared.taxa import taxon_of

TODAY = date(2026, 12, 31)
LOWLAND = PlaceRecord("SU 431 118", "GB", "SU431118", 100, 50.9, -1.38, 76, regions=("lowland",))
UPLAND = PlaceRecord("NN 112 224", "GB", "NN112224", 100, 56.4, -5.0, 76, regions=("upland",))


def sighting(key: Key, name: str, **fields: Any) -> Sighting:
    """A sighting of one adult male of a named insect, and whatever else is said."""
    found = find_name(key, name)
    assert isinstance(found, FoundName)
    given = {"count": 1, "count_kind": "exact", "sex": "male", "stage": "adult", **fields}
    return Sighting(id="s-1", line_id="l-1", visit_id="v-1", taxon=taxon_of(key, found), **given)


def visit(**fields: Any) -> Visit:
    """A visit on a summer's day in the lowland."""
    return Visit(**{"id": "v-1", "date": "2026-07-12", "place": LOWLAND, "observers": ("p-1",), **fields})


def judged_by(key: Key, county: County | None = None, **more: Any) -> Grounds:
    """The key alone, or with a county file, on the last day of 2026."""
    return grounds(key, TODAY, county, **more)


def record(key: Key, name: str = "pale", at: Visit | None = None, **fields: Any) -> Record:
    """A record with nothing doubtful about it, but for what is said."""
    return record_of(judged_by(key), sighting(key, name, **fields), at or visit())


def queries(key: Key, one: Record, county: County | None = None, **more: Any) -> list[Query]:
    """What all rules say of one record."""
    return [query for rule in RULES for query in rule(judged_by(key, county, **more), one)]


def codes(key: Key, one: Record, county: County | None = None, **more: Any) -> list[str]:
    """Severity and code of every query."""
    return [f"{query.severity} {query.code}" for query in queries(key, one, county, **more)]
