"""What people leave out on the line of a visit, told as one fault each: the year of a date, the date of a day."""

from __future__ import annotations

import re
from datetime import timedelta

from reedmace.keys.seasons import MONTHS, bare_day
from reedmace.tasks.shared.dates import WEEKDAYS, weekday_of
from reedmace.tasks.shared.vague_dates import year_lacking
from reedmace.tasks.shorthand.visit_said import Reader
from reedmace.tasks.shorthand.visit_when_where import day


def weekday(reader: Reader, at: int) -> int | None:
    """`Sunday 12 July 2026`, `Sun 12th July 2026`: a day of the week, which belongs to the date behind it.

    It is looked for before the sun, for "sun 12" would be a share of sunshine.
    """
    if weekday_of(reader.plain(at).rstrip(".")) is None:
        return None
    share = reader.plain(at) == "sun"
    if share and not re.match(
        r"(?:[0-2]?[0-9]|3[01])(?:st|nd|rd|th|[/.-]|$)|[0-9]{4}-", reader.plain(at + 1), re.ASCII
    ):
        return None
    before = len(reader.faults)
    end = day(reader, at)
    if end is None and share:
        return None
    if share and any(fault.code == "weekday-differs" for fault in reader.faults[before:]):
        fault = reader.faults.pop()
        reader.faults.append(fault._replace(hint=f"{fault.hint}; for a share of sunshine write  sun 30%"))
    return end or year_missing(reader, at + 1)


def year_missing(reader: Reader, at: int) -> int | None:
    """`12 July`, `July 12`: a date needs its year."""
    found = bare_day(reader.joined(at, at + 2))
    if found is None:
        return None
    shown = year_lacking(*found, reader.today)
    reader.fault("year-missing", "This date has no year.", f"write  {shown}", reader.words[at], reader.words[at + 1])
    return at + 2


def day_unsaid(reader: Reader, at: int) -> int | None:
    """`Sunday`, `last Sunday` and `12/07` alone: each may be of any week or year."""
    last = reader.plain(at) in ("last", "this", "on")
    word = reader.words[at + last] if at + last < len(reader.words) else reader.words[at]
    plain = "" if word.quoted else word.plain.rstrip(".")
    if plain in WEEKDAYS:
        back = (reader.today.weekday() - WEEKDAYS.index(plain)) % 7 or 7
        shown = reader.today - timedelta(days=back)
        hint = f"write the date; the last one was  {shown.isoformat()}"
        reader.fault("date-not-read", "A day of the week alone may be of any week.", hint, reader.words[at], word)
        return at + 1 + last
    found = re.fullmatch(r"(0?[1-9]|[12][0-9]|3[01])[/.](0?[1-9]|1[0-2])", reader.plain(at), re.ASCII)
    if found is None:
        return None
    shown_day = year_lacking(found[1], MONTHS[int(found[2]) - 1], reader.today)
    reader.fault("year-missing", "This date has no year.", f"write  {shown_day}", reader.words[at])
    return at + 1


def about_year(reader: Reader, at: int) -> int | None:
    """`c1990`: about a year; it looks like a square of the Irish grid too."""
    found = re.fullmatch(r"(?:c|ca|circa)\.?((?:1[89]|20)[0-9]{2})", reader.joined(at, at + 2), re.ASCII)
    end = at + 2
    if found is None:
        found, end = re.fullmatch(r"ca?\.?((?:1[89]|20)[0-9]{2})", reader.plain(at), re.ASCII), at + 1
    if found is None:
        return None
    year = int(found[1])
    hint = f"write the year,  {year}  , or the years it may have been,  {year - 1}/{year + 1}"
    reader.fault("year-about", "This is about a year.", hint, reader.words[at], reader.words[end - 1])
    return end
