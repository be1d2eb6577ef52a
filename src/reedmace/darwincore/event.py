"""The visit's share of a line: when, by whom, how, in what weather."""

from __future__ import annotations

from collections.abc import Callable

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.wording import counted, listed, sentences
from reedmace.records import Sighting, Visit, habitat_said, span


def event_terms(
    sighting: Sighting, visit: Visit, name_of: Callable[[str], str], habitat_of: Callable[[str], str] = str
) -> dict[str, str]:
    """Give the terms that tell of the visit.

    `name_of` turns a person's id into a name, `habitat_of` a habitat's id into words, where it was not said by a word.
    """
    days = span(visit.date) if visit.date else None
    minutes = _minutes(visit)
    observers = visit.observers if sighting.observers is None else sighting.observers
    party = visit.party if sighting.observers is None else ""
    return {
        "eventID": visit.id,
        "eventDate": visit.date or "",
        "year": _number(days and days.year),
        "month": _number(days and days.month),
        "day": _number(days and days.day),
        "verbatimEventDate": visit.date_typed,
        "eventTime": time_said(sighting, visit),
        "recordedBy": listed([*map(name_of, observers), one_line(party)]),
        "habitat": habitat_said(visit, habitat_of),
        "samplingProtocol": visit.method,
        "sampleSizeValue": _number(minutes),
        "sampleSizeUnit": "minute" if minutes else "",
        "samplingEffort": _effort(visit, minutes),
        "eventRemarks": visit_prose(visit),
    }


def _number(value: int | None) -> str:
    return "" if value is None else str(value)


def time_said(sighting: Sighting, visit: Visit) -> str:
    """Give the sighting's own time, else the visit's as a time or an interval; local time, as typed."""
    if sighting.time:
        return sighting.time
    if visit.start and visit.end and visit.start != visit.end:
        return f"{visit.start}/{visit.end}"
    return visit.start or ""


def _minutes(visit: Visit) -> int | None:
    if not (visit.start and visit.end):
        return None
    start, end = (int(text[:2]) * 60 + int(text[3:]) for text in (visit.start, visit.end))
    return (end - start) % (24 * 60) or None  # past midnight it ended on the day after


def _effort(visit: Visit, minutes: int | None) -> str:
    if minutes is None and visit.exuvia_passes is None:
        return ""
    people = len(visit.observers) + (visit.party_size or 0)
    parts = [counted(people, "observer", "observers")] if people else []
    if minutes is not None:
        parts.append(counted(minutes, "minute", "minutes"))
    if visit.exuvia_passes is not None:
        parts.append(counted(visit.exuvia_passes, "search for exuviae", "searches for exuviae"))
    return ", ".join(parts)


def visit_prose(visit: Visit) -> str:
    """Give what is said of a visit in words: weather, an end without a beginning, what was noted in full, remarks."""
    return sentences(
        f"Weather: {visit.weather}" if visit.weather else "",
        f"Until {visit.end}" if visit.end and not visit.start else "",
        "All damselfly species seen were noted" if visit.all_damselflies else "",
        "All dragonfly species seen were noted" if visit.all_dragonflies else "",
        "" if visit.remarks.isspace() else visit.remarks,
    )
