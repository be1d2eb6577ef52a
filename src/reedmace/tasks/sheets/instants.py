"""Times of a row that say their zone, as phones and databases write them → local days and times."""

from __future__ import annotations

import re
from datetime import date

from reedmace.faults import Fault
from reedmace.tasks.shared.local_time import FIRST_YEAR, local_time
from reedmace.tasks.sheets.values import NIGHT, read_day, read_time

_TIMES = ("time", "start", "end")
_SHORTEST = 12  # signs of a date with a time and its zone: 1/6/19 9:30Z
_ZONED = re.compile(
    r"(?P<clock>[0-9]{1,2}:?[0-9]{2})(?::?[0-9]{2}(?:\.[0-9]+)?)? ?(?P<zone>Z|\+[0-9]{2}:?[0-9]{2})", re.I
)
# A minus in a cell of times is "to".
_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T", re.ASCII | re.IGNORECASE)
_MIDNIGHT = "00:00"


def in_local_time(fields: dict[str, str], today: date, century: int | None) -> bool:
    """Put a row's instants into local days and times, in place; what was typed is kept under `instants`.

    True where a time was left out, because nobody knows here how clocks went in that year. A midnight is what is
    added to a date, and no instant. What cannot be turned stays, for those who read the cells to tell.
    """
    text = fields.get("date", "").strip()
    lost = False
    typed = []
    if len(text) >= _SHORTEST and (turned := _days(text, today, century)) is not None:
        typed.append(text)
        fields["date"], clock = turned
        lost = clock is None
        if clock and fields.keys().isdisjoint(_TIMES):
            fields["time"] = clock
    for field in _TIMES:
        cell = fields.get(field, "").strip()
        if not cell or (cell[-1] not in "Zz" and "+" not in cell):
            continue
        times = [_time(part.strip(), fields, today, century) for part in cell.split("/")]
        if None in times or "/".join(filter(None, times)) == cell:
            continue
        typed.append(cell)
        if all(times):
            fields[field] = "/".join(filter(None, times))
        else:
            del fields[field]
            lost = True
    if typed:
        fields["instants"] = " ".join(filter(None, (fields.get("instants"), *typed)))
    return lost


def _days(text: str, today: date, century: int | None) -> tuple[str, str | None] | None:
    """Give the local day of a date with a time and its zone, and that time; None where it is no such date.

    The time is blank at midnight and for an interval, None where it is not known.
    """
    if "/" in text and text[:4].isdecimal():
        ends = [_days(end.strip(), today, century) for end in text.split("/")]
        if len(ends) != 2 or ends[0] is None or ends[1] is None:
            return None
        (first, one), (last, other) = ends[0], ends[1]
        return (first if first == last else f"{first}/{last}"), None if None in (one, other) else ""
    found = NIGHT.search(text)
    # A minus behind a time in words may be "to".
    if found is None or not found["zone"] or (found["zone"][0] == "-" and not _ISO.match(text)):
        return None
    day = read_day(text[: found.start()], today, century)
    clock = read_time(found["clock"] + (found["half"] or ""))
    if isinstance(day, Fault) or isinstance(clock, Fault) or len(day) != len("2026-07-12"):
        return None
    if clock == _MIDNIGHT:
        return day, ""
    local = local_time(date.fromisoformat(day), clock, found["zone"])
    if local is None:
        return (day, None) if day[:4] < str(FIRST_YEAR) else None
    clock = f"{local:%H:%M}"
    return local.date().isoformat(), "" if clock == _MIDNIGHT else clock


def _time(cell: str, fields: dict[str, str], today: date, century: int | None) -> str | None:
    """Give a time with its zone as the local one of the row's day; as it is without a zone, None where it can't be."""
    found = _ZONED.fullmatch(cell)
    if found is None:
        return cell
    clock = read_time(found["clock"])
    day = read_day(fields.get("date", ""), today, century)
    if isinstance(clock, Fault) or isinstance(day, Fault) or len(day) != len("2026-07-12"):
        return None
    local = local_time(date.fromisoformat(day), clock, found["zone"])
    if local is None:
        return "" if day[:4] < str(FIRST_YEAR) else None
    # Whether the row's day is that of the clock or of the zone, nobody says.
    return f"{local:%H:%M}" if local.date().isoformat() == day else None
