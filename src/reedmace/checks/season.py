"""Is it out at this time of the year?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from reedmace.checks.county import County, Day
from reedmace.checks.query import Grounds, Query, Record, query
from reedmace.keys.model import Species
from reedmace.keys.seasons import MONTHS, show_third

FLYING = ("adult", "immature", "teneral", None)
_YEAR = 366  # days of a leap year, to which all are moved
A_LITTLE = 10  # days: early and late insects happen, so up to a third of a month is only a note


def out_of_season(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Outside the flight period that the county file, else the key, gives: a prompt, and how far out it is."""
    days = record.days
    if days is None or not record.species or record.sighting.stage not in FLYING or days.first[:4] != days.last[:4]:
        return
    county = grounds.county_of(record)
    which = ("flight", tuple(species.index for species in record.species), county is not None)
    period = grounds.once(which, lambda: _period(record.species, county))
    if period is None:
        return
    begins, ends = days.first[5:], days.last[5:]
    if ends >= period.begins and begins <= period.ends:
        return
    first, last = period.first, period.last
    off = _days_out(begins, ends, first, last)
    when = _shown(first, last) if period.local else _thirds(record)
    whose = f" here ({county.cited})" if period.local and county else ""
    reason = f"{record.name} flies{whose} {when}; this is about {abs(off)} days {'early' if off < 0 else 'late'}."
    severity = "note" if abs(off) <= A_LITTLE else "doubt"
    yield query(record, "out-of-season", severity, reason, "check the date and the name; a photograph helps")


class _Period(NamedTuple):
    """First and last day, also as `MM-DD`, which compares quickly; whether the county file has said any of it."""

    first: Day
    last: Day
    begins: str
    ends: str
    local: bool


def _period(several: tuple[Species, ...], county: County | None) -> _Period | None:
    """From the first of any to the last of any; None where one of them has none."""
    flights = [_flight(species, county) for species in several]
    known = [flight for flight in flights if flight]
    if len(known) < len(flights):
        return None
    first, last = min(one[0] for one in known), max(one[1] for one in known)
    local = county is not None and any(_local(species, county) for species in several)
    return _Period(first, last, "{:02}-{:02}".format(*first), "{:02}-{:02}".format(*last), local)


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
    """Days by which a span of `MM-DD` misses a period, to its nearer end, be that across the turn of the year.

    Negative early, positive late, 0 where they touch.
    """
    start, end = _in_leap_year(int(begins[:2]), int(begins[3:])), _in_leap_year(int(ends[:2]), int(ends[3:]))
    opens, closes = _in_leap_year(*first), _in_leap_year(*last)
    if start <= closes and end >= opens:
        return 0
    early, late = (opens - end).days % _YEAR, (start - closes).days % _YEAR
    return -early if early <= late else late


def _in_leap_year(month: int, day: int) -> date:
    return date(2000, month, day)


def _shown(first: Day, last: Day) -> str:
    return " to ".join(f"{day} {MONTHS[month - 1].capitalize()}" for month, day in (first, last))


def _thirds(record: Record) -> str:
    flights = [species.flight for species in record.species if species.flight]
    return f"{show_third(min(one[0] for one in flights))} to {show_third(max(one[3] for one in flights))}"
