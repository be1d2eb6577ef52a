"""Instants (14:30Z, 14:30+01:00) → the time on the clocks of Britain and Ireland.

The rule of summer time is written out, and not asked of the machine: not every one has the tables of time zones, and
a file has to come to the same record on each.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

# Before this year summer time went by other rules, and by some years' own.
FIRST_YEAR = 1981
_LAST_YEAR = 9000  # no date of a record; what lies beyond the calendar is not reckoned with
# It ends on the first Sunday from this day of October on, up to these years; since then on the last one.
_OCTOBERS = ((1989, 23), (1995, 22))
_SINCE = 25
_AT = timedelta(hours=1)  # UTC, at both ends
_MOST_HOURS = 14  # that a clock is apart from UTC


def local_time(day: date, clock: str, zone: str) -> datetime | None:
    """Give the local day and time of a clock (HH:MM) with its zone (Z, +01:00, +0100).

    None where that is not known: in the years before the rule, and for a zone that is none.
    """
    offset = _offset(zone)
    if offset is None or not FIRST_YEAR <= day.year <= _LAST_YEAR:
        return None
    hours, _, minutes = clock.partition(":")
    utc = datetime(day.year, day.month, day.day, int(hours), int(minutes)) - offset
    return utc + timedelta(hours=1) if _is_summer(utc) else utc


def _offset(zone: str) -> timedelta | None:
    if zone in ("Z", "z"):
        return timedelta()
    hours, minutes = int(zone[1:3]), int(zone[-2:])
    apart = timedelta(hours=hours, minutes=minutes)
    if minutes > 59 or apart > timedelta(hours=_MOST_HOURS):
        return None
    return -apart if zone[0] == "-" else apart


def _is_summer(utc: datetime) -> bool:
    first = _sunday(utc.year, 3, 25)
    last = _sunday(utc.year, 10, next((day for year, day in _OCTOBERS if utc.year <= year), _SINCE))
    return first + _AT <= utc < last + _AT


def _sunday(year: int, month: int, day: int) -> datetime:
    """Give the first Sunday from a day on."""
    found = datetime(year, month, day)
    return found + timedelta(days=6 - found.weekday())
