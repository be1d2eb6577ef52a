"""Dates as records hold them: a day, a month, a year, or an interval of two of these (ISO 8601).

Vague dates are part of the trade; old notebooks say "June 1987". The typed words are kept elsewhere.
"""

import re
from datetime import date
from functools import lru_cache
from typing import NamedTuple

# Compiled where it is used, like all patterns on the way to `log`: it costs nothing to start then.
_PART = r"([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2}))?)?"


class Span(NamedTuple):
    """The first and last day a date may mean, both as `YYYY-MM-DD`; equal for an exact day."""

    first: str
    last: str

    @property
    def year(self) -> int | None:
        """The year, where the whole span lies within one."""
        return int(self.first[:4]) if self.first[:4] == self.last[:4] else None

    @property
    def month(self) -> int | None:
        """The month, where the whole span lies within one month of one year."""
        return int(self.first[5:7]) if self.first[:7] == self.last[:7] else None

    @property
    def day(self) -> int | None:
        """The day of the month, where the span is one day."""
        return int(self.first[8:]) if self.first == self.last else None


def _part(text: str) -> Span | None:
    found = re.fullmatch(_PART, text)
    if found is None:
        return None
    year, month, day = (int(group) if group else None for group in found.groups())
    assert year is not None
    try:
        first = date(year, month or 1, day or 1)
        if day is not None:
            return Span(first.isoformat(), first.isoformat())
        last_month = month or 12
        # The day before the first of the next month; year 9999 has no next month, so December is spelt out.
        last_day = 31 if last_month == 12 else (date(year, last_month + 1, 1) - date(year, last_month, 1)).days
        return Span(first.isoformat(), date(year, last_month, last_day).isoformat())
    except ValueError:
        return None


@lru_cache(maxsize=4096)  # thousands of records share a day
def span(text: str) -> Span | None:
    """Give the days an ISO 8601 date may mean; None where it is no date or its interval runs backwards.

    Read are `2026-06-14`, `2026-06`, `2026`, and two of these with a slash between, each written in full.
    """
    start, slash, end = text.partition("/")
    first = _part(start)
    if not slash or first is None:
        return first
    last = _part(end)
    if last is None or last.last < first.first:
        return None
    return Span(first.first, last.last)
