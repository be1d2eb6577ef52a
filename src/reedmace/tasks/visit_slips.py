"""What people leave out on the line of a visit, told as one fault each: the year of a date, the sign of a place."""

from __future__ import annotations

import re
from datetime import date

from reedmace.faults import Fault
from reedmace.keys.seasons import MONTHS
from reedmace.places.place import read_place
from reedmace.tasks.visit_said import Reader
from reedmace.tasks.visit_when_where import day

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def weekday(reader: Reader, at: int) -> int | None:
    """`Sunday 12 July 2026`: the day of the week has to be that of the date behind it."""
    word = reader.plain(at)
    if word not in _WEEKDAYS or at + 1 >= len(reader.words):
        return None
    before = len(reader.faults)
    end = day(reader, at + 1) or year_missing(reader, at + 1)
    said = reader.said.day
    if end is None or len(reader.faults) > before or said is None or len(said.iso) != 10:
        return end
    is_day = _WEEKDAYS[date.fromisoformat(said.iso).weekday()]
    if is_day != word:
        hint = "check the date, or leave the day of the week out"
        reader.fault("weekday-differs", f"{said.iso} is a {is_day.capitalize()}.", hint, reader.words[at])
    return end


def year_missing(reader: Reader, at: int) -> int | None:
    """`12 July`: a date needs its year."""
    found = re.fullmatch(r"([0-9]{1,2})(?:st|nd|rd|th)?([a-z]{3,9})", reader.joined(at, at + 2), re.ASCII)
    if found is None or not any(month.startswith(found[2]) for month in MONTHS):
        return None
    shown = f"{found[1]} {found[2].capitalize()} {reader.today.year}"
    reader.fault("year-missing", "This date has no year.", f"write  {shown}", reader.words[at], reader.words[at + 1])
    return at + 2


def sign_missing(reader: Reader, at: int) -> int | None:
    """`SU 431 118` without its `@`."""
    for end in range(min(len(reader.words), at + 3), at, -1):
        run = reader.words[at:end]
        text = reader.typed[run[0].start : run[-1].end]
        if any(one.quoted for one in run) or not re.fullmatch(r"[A-Za-z]{1,2} ?[0-9]{2,5} ?[0-9]{2,5}", text, re.ASCII):
            continue
        if not isinstance(read_place(text), Fault):
            reader.fault("place-without-sign", "A place begins with @.", f"write  @ {text}", run[0], run[-1])
            return end
    return None
