"""Single cells of a sheet → values of a record. Every reader gives a value or a fault that says what to do."""

from __future__ import annotations

import re
from datetime import date

from reedmace.checks.quality.isodate import Days, read_days
from reedmace.faults import Fault, did_you_mean
from reedmace.places.place import Place, read_place
from reedmace.places.vice_counties import find_vice_county
from reedmace.records import PlaceRecord, span
from reedmace.tasks.shared.dates import read_day as read_alone
from reedmace.tasks.sheets.datums import on_wgs84
from reedmace.tasks.sheets.numbers import day_hint, time_hint
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, PAIRS, SEXES, STAGES

NO_SEX = frozenset(
    (
        *("both", "m/f", "m & f", "mixed", "unknown", "undetermined", "u", "?", "male and female", "m+f", "pairs"),
        *("indeterminate", "unsexed", "not recorded", "n/a"),
    )
)
MORE_STAGES = {
    **dict.fromkeys(("imago", "imagines", "imagos"), "adult"),
    **dict.fromkeys(("exuviae", "exuvium", "cast skin", "cast skins"), "exuvia"),
    **dict.fromkeys(("emergent", "emerged", "emergence"), "emerging"),
    **dict.fromkeys(("juvenile",), "immature"),
}
_DECIMAL_COMMA = re.compile(r"^([^0-9,]*[0-9]{1,3}),([0-9]+[^0-9,]*)$", re.ASCII)
_METRES = re.compile(
    r"(?:\+/?-|±|~|<|c\.?|about|within)?\s*([0-9]{1,7}(?:\.[0-9]+)?)\s*(?:(k?)(?:m|metres?|meters?|ilometres?)?)",
    re.ASCII,
)
# What people add to a reference: `(approx)`, `(1 km)`. Other figures may be another reference.
_BESIDE = re.compile(r"(?<=[0-9A-Za-z])\s*\((?:[^()0-9]*|10{0,2} ?k?m(?: square)?)\)$", re.ASCII)
_REFERENCE = r"([A-Z]{2} ?(?:[0-9]{3} ?[0-9]{3}|[0-9]{4} ?[0-9]{4}|[0-9]{5} ?[0-9]{5}))"
_REFERENCED = re.compile(rf"{_REFERENCE}(?![^\s,;:.()-])(?!\s*[0-9]+(?:\s|$))", re.ASCII)
_REFERENCES = re.compile(rf"(?:^|[\s,;:(]){_REFERENCE}\)?$", re.ASCII)
# Of fewer figures where nothing else stands in the cell; a letter and four figures may be a road.
_COARSE = re.compile(r"[A-Z]{2} ?[0-9]{2}(?: ?[0-9]{2}|[A-NP-Z])|[A-HJ-Z] [0-9]{2} ?[0-9]{2}", re.ASCII)
_IN_FIGURES = re.compile(r"((?:1[6-9]|20)[0-9]{2})([0-9]{2})([0-9]{2})", re.ASCII)
# Days of the year, and intervals whose end leaves out what it shares with the beginning, as the standard writes them.
_ABRIDGED = re.compile(r"[0-9]{4}-(?:[0-9]{3}|[0-9]{2}(?:-[0-9]{2})?/[0-9]{2}(?:-[0-9]{2})?)", re.ASCII)
_NOON = 12
_TO = re.compile(r"\s+(?:-|–|—|to|until)\s+")
_SHORT_YEAR = re.compile(r"(.*[^0-9])([0-9]{2})", re.ASCII)
_SHORTENED = re.compile(r"['’]([0-9]{2})$", re.ASCII)
# What stands behind a month alone: the day (June 13), or the year (June 26)?
_DAY_OR_YEAR = re.compile(r"[^\W\d_]{3,9}\.?[ ./-]+(?:0[1-9]|[12][0-9]|3[01])", re.ASCII)
# A time of day behind a date, as spreadsheets and databases add it, and people in words.
NIGHT = re.compile(
    r"(?:,? (?:at|@) |, *|[ T]+)"
    r"(?P<clock>[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?|[0-9]{1,2}(?:\.[0-9]{2})?(?= ?[ap]m))(?:\.[0-9]+)?(?P<half> ?[ap]m)?"
    r" ?(?P<zone>Z|[+-][0-9]{2}:?[0-9]{2})?$",
    re.IGNORECASE,
)


def read_day(text: str, today: date, century: int | None) -> str | Fault:
    """Read a date to ISO 8601, day first; a time of day behind it is left off, a vague date stays vague."""
    plain = text.strip()
    if len(plain) == 10 and plain[4] == "-" and span(plain) is not None:
        if plain > today.isoformat():
            return Fault("date-in-future", f"{plain} is still to come.", "check day, month and year", text)
        return plain
    if "/" in plain and plain[:4].isdecimal():
        ends = [NIGHT.sub("", end) for end in plain.split("/")]
        if span("/".join(ends)) is not None:
            return ends[0] if ends[0] == ends[-1] else "/".join(ends)
    if _ABRIDGED.fullmatch(plain) and (days := read_days(plain)) is not None:
        return _whole(days, plain, today)
    if len(ends := _TO.split(plain)) == len(("first", "last")):
        first, last = (read_day(end, today, century) for end in ends)
        if isinstance(first, str) and isinstance(last, str) and span(f"{first}/{last}") is not None:
            return f"{first}/{last}"
    plain = NIGHT.sub("", plain)
    shortened = _SHORTENED.search(plain)
    plain = _SHORTENED.sub(r"\1", plain)
    short = _SHORT_YEAR.fullmatch(plain.replace("-", " ") if not plain[:4].isdecimal() else "")
    if short and century is not None and (shortened or not _DAY_OR_YEAR.fullmatch(plain)):
        plain = f"{short[1]}{century + int(short[2])}"
    if found := _IN_FIGURES.fullmatch(plain):
        plain = "-".join(found.groups())
    read = read_alone(plain, today)
    if not isinstance(read, Fault):
        return read.iso
    if read.code == "two-digit-year" and not (_DAY_OR_YEAR.fullmatch(plain) and not shortened):
        return read._replace(said=text, hint="write the year in full, or say for the whole file:  --century 2000")
    return read._replace(said=text, hint=day_hint(text) or read.hint)


def _whole(days: Days, plain: str, today: date) -> str | Fault:
    """Write days out that were abridged, as exact as they were."""
    if days.first > today:
        return Fault("date-in-future", f"{plain} is still to come.", "check day, month and year", plain)
    many = len("2026-07") if days.finest == "month" else len("2026-07-12")
    first, last = (day.isoformat()[:many] for day in (days.first, days.last))
    return first if first == last else f"{first}/{last}"


def read_time(text: str, *, hours: bool = False) -> str | Fault:
    """Read a time of day to HH:MM: 10:30, 10.30, 1030, 9:15 am, noon.

    With `hours` an hour alone from 12 on is one too; a smaller one could be of either half of the day.
    """
    plain = text.strip().casefold()
    if plain in ("noon", "midday"):
        return "12:00"
    found = re.fullmatch(r"([0-9]{1,2})[:.h]?([0-9]{2})?(?::[0-9]{2})?\s*(am|pm)?", plain, re.ASCII)
    if found is not None and (found[2] or found[3] or (hours and int(found[1]) >= _NOON)):
        hour = int(found[1]) % 12 + 12 * (found[3] == "pm") if found[3] else int(found[1])
        minutes = int(found[2] or 0)
        if hour < 24 and minutes < 60:
            return f"{hour:02}:{minutes:02}"
    return Fault("time-not-read", "This is no time of day.", time_hint(text) or "write it as  10:30", text)


def read_sex(text: str) -> str | Fault | None:
    """Read a sex; None for both, or not known."""
    plain = text.strip().casefold()
    if plain in NO_SEX:
        return None
    if plain in SEXES:
        return SEXES[plain]
    return Fault("unknown-word", f'"{text}" is no sex.', "write male, female, or leave it empty", text)


def read_stage(text: str) -> str | Fault:
    """Read a stage of life."""
    plain = text.strip().casefold()
    stages = STAGES | MORE_STAGES
    if plain in stages:
        return stages[plain]
    hint = did_you_mean(plain, stages, "one of: larva, exuvia, emerging, teneral, immature, adult")
    return Fault("unknown-word", f'"{text}" is no stage of life.', hint, text)


def read_behaviour(text: str) -> tuple[str, ...]:
    """Read what they did, in our words where we have one, else as written."""
    known = BEHAVIOURS | PAIRS
    parts = [part.strip() for part in re.split(r"[|,;]", text)]
    return tuple(dict.fromkeys(known.get(part.casefold(), part) for part in parts if part))


def read_place_cells(
    reference: str, system: str, latitude: str, longitude: str, uncertainty: str, datum: str = ""
) -> PlaceRecord | Fault:
    """Read where: a grid reference or position as written, else latitude and longitude from cells of their own.

    These are brought from the `datum` that they are on to that of the records.
    """
    typed = reference.strip()
    read = read_place(_BESIDE.sub("", typed)) if typed else None
    if read is None or (isinstance(read, Fault) and latitude and longitude and not system):
        if not (latitude.strip() and longitude.strip()):
            return read if isinstance(read, Fault) else PlaceRecord()
        read = read_position(latitude, longitude, datum)
    if isinstance(read, Fault):
        return read
    shown = read.rounded()
    metres: int | None = round(read.uncertainty_m) if read.uncertainty_m is not None else None
    if read.side_m is None and (reach := read_reach(uncertainty)) is not None:
        metres = reach
    return PlaceRecord(
        typed=typed or read.typed,
        system=read.system,
        square=read.square,
        side_m=read.side_m,
        latitude=shown[0],
        longitude=shown[1],
        uncertainty_m=metres,
    )


def read_position(latitude: str, longitude: str, datum: str = "") -> Place | Fault:
    """Read a latitude and a longitude from cells of their own, on the `datum` that they are on."""
    # In cells of their own a comma parts nothing: it is the decimal sign.
    halves = [_DECIMAL_COMMA.sub(r"\1.\2", half.strip()) for half in (latitude, longitude)]
    return on_wgs84(read_place(", ".join(halves)), datum)


def read_reach(uncertainty: str) -> int | None:
    """Read how many metres around its position a place may lie; None where the cell says nothing of the kind."""
    said = _METRES.fullmatch(uncertainty.strip().casefold())
    return max(1, round(float(said[1]) * (1000 if said[2] == "k" else 1))) if said else None


def reference_in(locality: str) -> str:
    """Give the grid reference that a place's name begins or ends with (`SU 431 118 Tern Hollow`); blank without one.

    Of six figures at least, for four behind two capitals may be a year; unless the cell says nothing else.
    """
    found = _REFERENCED.match(locality) or _REFERENCES.search(locality)
    reference = found[1] if found else locality if _COARSE.fullmatch(locality) else ""
    return reference if reference and not isinstance(read_place(reference), Fault) else ""


def read_vice_county(text: str) -> str | Fault:
    """Read a vice-county's number."""
    county = find_vice_county(text)
    return county._replace(said=text) if isinstance(county, Fault) else county.number
