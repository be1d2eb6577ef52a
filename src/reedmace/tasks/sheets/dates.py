"""The date of a row as typed, without the time of day behind it, and whether the rows of a visit type it alike."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from reedmace.faults import Fault
from reedmace.tasks.sheets.instants import in_local_time
from reedmace.tasks.sheets.month_first import FIELD
from reedmace.tasks.sheets.values import NIGHT, read_time

_TIMES = ("time", "start", "end")


def typed_date(fields: dict[str, str]) -> tuple[str, str | None]:
    """Give a row's date as typed, and the time of day that stood behind it, for the sighting to keep.

    Midnight is what spreadsheets add, and no time. A time that has no room in the sighting, because the row has
    another or its zone is not known, stays in the date as typed.
    """
    text = fields.get("date", "").strip()
    plain, time = _apart(text)
    if time is not None and time != "00:00":
        others = [read_time(cell) for field in _TIMES if (cell := fields.get(field, "").strip())]
        if others and time not in others:
            plain, time = text, None
        elif others:
            time = None
    return fields.get("date_typed", "") or plain, None if time == "00:00" else time


def _apart(text: str) -> tuple[str, str | None]:
    found = NIGHT.search(text)
    if found is None or found["zone"] or ("/" in text and text[:4].isdecimal()):
        return text, None
    time = read_time(found["clock"] + (found["half"] or ""))
    return (text, None) if isinstance(time, Fault) else (text[: found.start()].rstrip(), time)


def typed_unlike(
    places: Sequence[tuple[int, str, str]], rows: Iterable[Sequence[str]], today: date, century: int | None
) -> frozenset[str]:
    """Give the visits' ids whose rows type their date in different ways; `places` say what the cells are."""
    wanted = [
        (place, field) for place, field, _ in places if field in ("visit_id", "date", FIELD, "date_typed", *_TIMES)
    ]
    first: dict[str, int] = {}
    unlike: set[str] = set()
    for cells in rows:
        fields = {field: cells[place] for place, field in wanted if place < len(cells)}
        if FIELD in fields:
            fields["date"] = fields.pop(FIELD)
        visit = fields.get("visit_id", "").strip()
        if visit and visit not in unlike:
            in_local_time(fields, today, century)
            typed = hash(typed_date(fields)[0].strip())
            if first.setdefault(visit, typed) != typed:
                unlike.add(visit)
    return frozenset(unlike)
