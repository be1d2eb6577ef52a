"""Is it out at this time of the year?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache

from reedmace.checks.county import County, Day
from reedmace.checks.query import Grounds, Query, Record, query
from reedmace.keys.model import Species
from reedmace.keys.seasons import MONTHS, show_third

FLYING = ("adult", "immature", "teneral", None)
A_LITTLE = 10  # days: early and late insects happen, so up to a third of a month is only a note


def out_of_season(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Outside the flight period that the county file, else the key, gives: a prompt, and how far out it is."""
    days = record.days
    if days is None or not record.species or record.sighting.stage not in FLYING or days.first[:4] != days.last[:4]:
        return
    county = grounds.county_of(record)
    periods = [_flight(species, county) for species in record.species]
    known = [period for period in periods if period]
    if len(known) < len(periods):
        return
    first, last = min(period[0] for period in known), max(period[1] for period in known)
    off = _days_out(days.first[5:], days.last[5:], first, last)
    if not off:
        return
    local = county and any(species.name in county.species and _local(species, county) for species in record.species)
    when = _shown(first, last) if local else _thirds(record)
    whose = f" here ({county.cited})" if local and county else ""
    reason = f"{record.name} flies{whose} {when}; this is about {abs(off)} days {'early' if off < 0 else 'late'}."
    severity = "note" if abs(off) <= A_LITTLE else "doubt"
    yield query(record, "out-of-season", severity, reason, "check the date and the name; a photograph helps")


def _flight(species: Species, county: County | None) -> tuple[Day, Day] | None:
    local = _local(species, county) if county else None
    if local:
        return local
    return (_begins(species.flight[0]), _ends(species.flight[3])) if species.flight else None


def _local(species: Species, county: County) -> tuple[Day, Day] | None:
    return county.species[species.name].flight if species.name in county.species else None


def _begins(third: int) -> Day:
    return third // 3 + 1, (1, 11, 21)[third % 3]


def _ends(third: int) -> Day:
    month = third // 3 + 1
    last = (date(2000 + month // 12, month % 12 + 1, 1) - timedelta(1)).day
    return month, (10, 20, last)[third % 3]


@lru_cache(maxsize=4096)
def _days_out(begins: str, ends: str, first: Day, last: Day) -> int:
    """Days by which a span of `MM-DD` misses a period: negative early, positive late, 0 where they touch."""
    start, end = _in_leap_year(int(begins[:2]), int(begins[3:])), _in_leap_year(int(ends[:2]), int(ends[3:]))
    if end < _in_leap_year(*first):
        return (end - _in_leap_year(*first)).days
    return max(0, (start - _in_leap_year(*last)).days)


def _in_leap_year(month: int, day: int) -> date:
    return date(2000, month, day)


def _shown(first: Day, last: Day) -> str:
    return " to ".join(f"{day} {MONTHS[month - 1].capitalize()}" for month, day in (first, last))


def _thirds(record: Record) -> str:
    flights = [species.flight for species in record.species if species.flight]
    return f"{show_third(min(one[0] for one in flights))} to {show_third(max(one[3] for one in flights))}"
