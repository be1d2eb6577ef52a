"""Do times of day go together, and is it light at them? A time of the afternoon without pm is the usual slip."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reedmace.checks.query import Grounds, Query, Record, first_of_visit, query
from reedmace.records.visit import past_midnight

_LIGHT_FROM, _LIGHT_UNTIL = "04:00", "23:00"
_BY_LAMP = re.compile(r"\b(?:light|lamp|moth|torch|night|actinic)", re.IGNORECASE)


def visit_in_the_dark(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A visit, or a sighting at its own time, when dragonflies are hardly looked for; the visit is told of once."""
    visit, own = record.visit, record.sighting.time
    if not (visit.start or visit.end or own) or (visit.method and _BY_LAMP.search(visit.method)):
        return
    late = [time for time in (visit.start, visit.end) if time and not _light(time)]
    if late:
        if first_of_visit(grounds, record, "time-in-the-dark"):
            times = "-".join(time for time in (visit.start, visit.end) if time)
            hint = f"check it; in your ledger:  reedmace ledger amend {visit.id[-12:]} start=TIME end=TIME --reason WHY"
            yield _dark(record, f"The visit was at {times}", late[0], hint)
    elif own and not _light(own):
        hint = f"check it; in your ledger:  reedmace ledger amend {record.sighting.id[-12:]} time=TIME --reason WHY"
        yield _dark(record, f"It was seen at {own}", own, hint)


def _dark(record: Record, said: str, time: str, hint: str) -> Query:
    hour = int(time[:2])
    afternoon = f" {hour + 12}:{time[3:]} may be meant." if hour < 12 else ""
    reason = f"{said}, when it is dark.{afternoon}"
    return query(record, "time-in-the-dark", "doubt", reason, hint)


def time_outside_visit(_grounds: Grounds, record: Record) -> Iterator[Query]:
    """A sighting at a time of its own before its visit began, or after it ended."""
    time, visit = record.sighting.time, record.visit
    if not time:
        return
    said = ""
    if past_midnight(visit):
        if (visit.end or "") < time < (visit.start or ""):
            said = f"and its visit was from {visit.start} to {visit.end} of the next day"
    elif visit.start and time < visit.start:
        said = f"before its visit began at {visit.start}"
    elif visit.end and time > visit.end:
        said = f"after its visit ended at {visit.end}"
    if said:
        remedy = f"check both; in your ledger:  reedmace ledger amend {record.sighting.id[-12:]} time=TIME --reason WHY"
        yield query(record, "time-outside-visit", "doubt", f"It was seen at {time}, {said}.", remedy)


def _light(time: str) -> bool:
    return _LIGHT_FROM <= time <= _LIGHT_UNTIL
