"""ISO 8601 dates as Darwin Core uses them: a year, a month, a day, with or without time, or an interval of two."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

_DATE = r"([0-9]{4})(?:-(?:([0-9]{3})|([0-9]{2})(?:-([0-9]{2}))?))?"
_TIME = r"(?:T(?:[01][0-9]|2[0-4])(?::?[0-5][0-9](?::?[0-5][0-9](?:[.,][0-9]+)?)?)?"
_ZONE = r"(?:Z|[-+](?:[01][0-9]|2[0-3])(?::?[0-5][0-9])?)?)?"
_WHOLE = re.compile(_DATE + _TIME + _ZONE, re.ASCII)


class Days(NamedTuple):
    """First and last day that a date may mean. `finest` says how exact it is written: year, month or day."""

    first: date
    last: date
    finest: str

    @property
    def one_day(self) -> bool:
        """Whether it is one single day."""
        return self.first == self.last


@lru_cache(maxsize=4096)  # a file holds the same few days again and again
def read_days(text: str) -> Days | None:
    """The days that a date or an interval of two may mean; None where it is no ISO 8601 date.

    The end of an interval may leave out what it shares with the start (2026-06-14/15).
    """
    start, slash, end = text.strip("".join(map(chr, range(0x21)))).partition("/")
    first = _one(start)
    if first is None or not slash:
        return first
    day = start.partition("T")[0]
    if re.fullmatch(r"[0-9]{2}(-[0-9]{2})?", end.partition("T")[0]) and len(end.partition("T")[0]) < len(day):
        end = day[: len(day) - len(end.partition("T")[0])] + end
    last = _one(end)
    if last is None or last.last < first.first:
        return None
    order = ("year", "month", "day")
    return Days(first.first, last.last, min(first.finest, last.finest, key=order.index))


def _one(text: str) -> Days | None:
    found = _WHOLE.fullmatch(text)
    if found is None:
        return None
    year, ordinal, month, day = (int(part) if part else None for part in found.groups())
    if "T" in text and ordinal is None and day is None:
        return None
    assert year is not None
    try:
        if ordinal is not None:
            one = date(year, 1, 1) + timedelta(ordinal - 1)
            return Days(one, one, "day") if ordinal and one.year == year else None
        if month is None:
            return Days(date(year, 1, 1), date(year, 12, 31), "year")
        first = date(year, month, day or 1)
        if day is not None:
            return Days(first, first, "day")
        after = date(year + month // 12, month % 12 + 1, 1) if (year, month) != (9999, 12) else None
        return Days(first, after - timedelta(1) if after else date.max, "month")
    except (ValueError, OverflowError):
        return None
