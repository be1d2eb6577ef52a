"""A date as people type it → ISO 8601. Day first, year in full; a vague date stays as vague as it was typed."""

import re
from calendar import monthrange
from datetime import date, timedelta
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.seasons import MONTHS, third_of
from reedmace.tasks.vague_dates import read_vague

_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})(?:-([0-9]{1,2}))?", re.ASCII)
_DAY_FIRST = re.compile(r"([0-9]{1,2})[./ -]([0-9]{1,2})[./ -]([0-9]+)", re.ASCII)
_NAMED = re.compile(r"(?:([0-9]{1,2})(?:st|nd|rd|th)?\s+)?([a-z]{3,9})\.?,?(?:\s+([0-9]+))?", re.ASCII)


class TypedDate(NamedTuple):
    """`iso` is a day, a month, a year or an interval of these; `third` the third of the year it lies in.

    None for a bare year and an interval.
    """

    iso: str
    typed: str
    third: int | None


def read_date(text: str, today: date, *, future: bool = False) -> TypedDate | Fault:
    """Read a date. A day after `today` is a fault unless `future` is allowed."""
    plain = text.strip().casefold()
    vague = read_vague(plain)
    if vague is not None:
        if not future and vague[:10].partition("/")[0] > today.isoformat():
            return _fault("date-in-future", f"{vague} is still to come.", "check the year", text)
        return TypedDate(vague, text, None)
    parts = _parts(plain, today)
    if parts is None:
        return _fault(
            "date-not-read",
            "This is no date that can be read.",
            "write it as  2026-07-12  or  12 July 2026",
            text,
        )
    year, month, day = parts
    if len(year) == 2:
        century = f"20{year}"
        return _fault(
            "two-digit-year",
            f"The year {year} could be in any century.",
            f"write the year in full:  {century}",
            text,
        )
    if len(year) != 4 or year < "1600":
        return _fault("date-not-read", f"{year} is no year.", "write the year with four digits", text)
    if month is not None and not 1 <= month <= 12:
        hint = "the day comes first:  12/7/2026  is 12 July"
        return _fault("impossible-date", f"There is no month {month}.", hint, text)
    if month is not None and day is not None:
        days = monthrange(int(year), month)[1]
        if not 1 <= day <= days:
            name = MONTHS[month - 1].capitalize()
            return _fault(
                "impossible-date",
                f"{name} {year} has {days} days.",
                f"check the day; the last is {year}-{month:02}-{days}",
                text,
            )
    found = _typed(int(year), month, day, text)
    if not future and found.iso > today.isoformat()[: len(found.iso)]:
        return _fault(
            "date-in-future",
            f"{found.iso} is still to come.",
            f"today is {today.isoformat()}; check day, month and year",
            text,
        )
    return found


def _parts(plain: str, today: date) -> tuple[str, int | None, int | None] | None:
    if plain in ("today", "yesterday"):
        day = today - timedelta(days=plain == "yesterday")
        return str(day.year), day.month, day.day
    if re.fullmatch(r"[0-9]{4}", plain, re.ASCII):
        return plain, None, None
    if iso := _ISO.fullmatch(plain):
        return iso[1], int(iso[2]), int(iso[3]) if iso[3] else None
    if first := _DAY_FIRST.fullmatch(plain):
        return first[3], int(first[2]), int(first[1])
    if named := _NAMED.fullmatch(plain):
        month = next((index + 1 for index, name in enumerate(MONTHS) if name.startswith(named[2])), None)
        if month is not None and named[3]:
            return named[3], month, int(named[1]) if named[1] else None
    return None


def _typed(year: int, month: int | None, day: int | None, text: str) -> TypedDate:
    if month is None:
        return TypedDate(f"{year:04}", text, None)
    if day is None:
        return TypedDate(f"{year:04}-{month:02}", text, third_of(month, 15))
    return TypedDate(f"{year:04}-{month:02}-{day:02}", text, third_of(month, day))


def _fault(code: str, message: str, hint: str, said: str) -> Fault:
    return Fault(code, message, hint, said, typed=True)
