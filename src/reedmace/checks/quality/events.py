"""Do the parts of a date agree with the whole?"""

from __future__ import annotations

from reedmace.checks.quality.isodate import Days, read_days
from reedmace.checks.quality.outcome import COMPLIANT, Basis, Outcome, Row, Validation, empty, integer, lacking, refused

_PARTS = ("year", "month", "day", "startDayOfYear", "endDayOfYear")


def event_consistent(row: Row, basis: Basis) -> Outcome:
    """Do year, month, day and the days of the year say what eventDate says?

    A part agrees only with an eventDate that is as fine as the part and says it of all its days.
    """
    text = row.get("eventDate", "")
    given = [part for part in _PARTS if not empty(row.get(part))]
    if empty(text) or not given:
        return lacking("eventDate is empty, or nothing stands beside it")
    days = read_days(text)
    if days is None:
        return lacking("eventDate is no date")
    for part in given:
        if integer(row[part]) != _said(part, days):
            return refused(f"{part} {row[part].strip()} does not agree with eventDate {text}")
    return COMPLIANT


def _said(part: str, days: Days) -> int | None:
    """What a date says of a part; None where it says nothing certain."""
    first, last = days.first, days.last
    if part == "year":
        return first.year if first.year == last.year else None
    if part == "month":
        return first.month if (first.year, first.month) == (last.year, last.month) else None
    if part == "day":
        return first.day if first == last else None
    if days.finest != "day":
        return None
    return (first if part == "startDayOfYear" else last).timetuple().tm_yday


VALIDATIONS: dict[str, Validation] = {"EVENT_CONSISTENT": event_consistent}
