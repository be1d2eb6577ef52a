"""Days and times as a spreadsheet keeps them inside: days counted from 1900, a time as part of a day.

They come out where a column was saved as numbers. A whole column of them is taken for what it is, which is shown; one
among other dates is not, but its fault says what it looks like.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from datetime import date, timedelta

_DAY = re.compile(r"([2-5][0-9]{4}|60000)(\.[0-9]+)?", re.ASCII)
_PART = re.compile(r"0?\.[0-9]+", re.ASCII)
_SURE = 5  # signs: 0.437 is no time as people write it, 0.50 and 0.5 may be
# Day 1 is 1 January 1900, and a 29 February is counted in that year: so the days since count from here.
_FIRST = date(1899, 12, 30)


def are_numbers(dates: Collection[str], times: Collection[str]) -> bool:
    """Say whether all cells of dates, or all of times, are a spreadsheet's numbers."""
    days = bool(dates) and all(_DAY.fullmatch(cell) for cell in dates)
    parts = bool(times) and all(_PART.fullmatch(cell) for cell in times)
    return days or (parts and any(len(cell) >= _SURE for cell in times))


def day_of(cell: str) -> str | None:
    """Give the day of a number, None where it is none."""
    found = _DAY.fullmatch(cell.strip())
    return (_FIRST + timedelta(int(found[1]))).isoformat() if found else None


def time_of(cell: str) -> str | None:
    """Give the time of a part of a day, None where it is none."""
    if not _PART.fullmatch(cell.strip()):
        return None
    minutes = min(round(float(cell) * 24 * 60), 24 * 60 - 1)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def in_words(fields: dict[str, str], numbers: bool) -> None:
    """Put a row's numbers, if that is what its cells are, into days and times as people write them; in place.

    The number stays as it was typed.
    """
    if not numbers:
        return
    text = fields.get("date", "").strip()
    day, (whole, point, part) = day_of(text), text.partition(".")
    if day is not None:
        fields["date"] = day
        fields.setdefault("date_typed", whole)
        if part.strip("0") and not fields.keys() & {"time", "start", "end"}:
            fields["time"] = f"{point}{part}"
    for field in ("time", "start", "end"):
        if (cell := fields.get(field)) is not None and (time := time_of(cell)) is not None:
            fields[field] = time


def day_hint(text: str) -> str | None:
    """Say what a number in the place of a date looks like."""
    day = day_of(text)
    if day is None:
        return None
    return f"it looks like a spreadsheet's number for {day}, counted from 1900: have the column shown as dates there"


def time_hint(text: str) -> str | None:
    """Say what a number in the place of a time looks like."""
    time = time_of(text)
    return time and f"it looks like a spreadsheet's number for {time}: have the column shown as times there"
