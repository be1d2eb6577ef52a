"""Single cells of a sheet → values of a record. Every reader gives a value or a fault that says what to do."""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, did_you_mean
from reedmace.places.place import read_place
from reedmace.places.vice_counties import find_vice_county
from reedmace.records import PlaceRecord, span
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.sheets.numbers import day_hint, time_hint
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, PAIRS, PLAIN_PAIRS, QUOTES, SEXES, STAGES
from reedmace.tasks.shorthand.line import read_tallies
from reedmace.tasks.shorthand.line_said import Counted

_NO_SEX = frozenset({"both", "m/f", "m & f", "mixed", "unknown", "undetermined", "u", "?", "male and female", "m+f"})
_PRESENT = frozenset({"present", "p", "x", "y", "yes", "true", "✓", "✔", "√", "+", "seen", "nc", "not counted"})
_NONE = frozenset({"n", "no", "false", "none", "nil"})
_MORE_STAGES = {
    **dict.fromkeys(("imago", "imagines", "imagos"), "adult"),
    **dict.fromkeys(("exuviae", "exuvium", "cast skin", "cast skins"), "exuvia"),
    **dict.fromkeys(("emergent", "emerged", "emergence"), "emerging"),
    **dict.fromkeys(("juvenile",), "immature"),
}
# What is told of a count that says several things, beside that it does not read.
_TOLD = frozenset({"two-stages", "stage-unclear", "total-unclear", "pairs-or-insects"})
# Words that say what insects were, and are no remark.
_KNOWN = frozenset((*SEXES, *STAGES, *_MORE_STAGES, *BEHAVIOURS, *PAIRS, *PLAIN_PAIRS))
_RANGE = re.compile(r"([0-9]{1,7})\s*(?:-|–|—|to)\s*([0-9]{1,7})", re.ASCII)
_ABOUT = re.compile(r"(?:~|c\.?|ca\.?|circa|about|approx\.?|est\.?)\s*([0-9]{1,7})", re.ASCII)
_LEAST = re.compile(r"(?:>=|≥|at least|min\.?)\s*([0-9]{1,7})|([0-9]{1,7})\s*\+", re.ASCII)
_OVER = re.compile(r"(?:>|over|more than)\s*([0-9]{1,7})", re.ASCII)
_UNDER = re.compile(r"(?:<|under|less than|fewer than)\s*([0-9]{1,7})|(?:<=|≤|up to|max\.?)\s*([0-9]{1,7})", re.ASCII)
# What says no more than that insects were counted.
_INSECTS = re.compile(r"(.*[0-9+])\s*(?:individuals?|indivs?\.?|ind\.|insects?|specimens?|counted|seen)", re.ASCII)
_REMARKED = re.compile(r"([1-9][0-9]{0,6})\s*\(([^\W\d_]{3,}(?: [^\W\d_]{3,})*)\)")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+", re.ASCII)
_AMONG = re.compile(r"([1-9][0-9]{0,6})\s*\(([^()]+)\)", re.ASCII)
_DECIMAL_COMMA = re.compile(r"^([^0-9,]*[0-9]{1,3}),([0-9]+[^0-9,]*)$", re.ASCII)
_REFERENCE = r"([A-Z]{2} ?(?:[0-9]{3} ?[0-9]{3}|[0-9]{4} ?[0-9]{4}|[0-9]{5} ?[0-9]{5}))"
_REFERENCED = re.compile(rf"{_REFERENCE}(?![^\s,;:.()-])", re.ASCII)
_REFERENCES = re.compile(rf"(?:^|[\s,;:(]){_REFERENCE}\)?$", re.ASCII)
_SHORT_YEAR = re.compile(r"(.*[^0-9])([0-9]{2})", re.ASCII)
# A time of day behind a date, as spreadsheets and databases add it.
NIGHT = re.compile(
    r"[ T]+(?P<clock>[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?)(?:\.[0-9]+)?(?P<half> ?[ap]m)?"
    r" ?(?P<zone>Z|[+-][0-9]{2}:?[0-9]{2})?$",
    re.IGNORECASE,
)


class Count(NamedTuple):
    """How many, of one sex where that was said with it; `zero` for a bare 0.

    `stage`, `certainty`, `evidence` and `remarks` are what else the cell of the count said. Of a column that counts
    one part, `typed` is its cell and `part` what the part is called.
    """

    number: int | None
    to: int | None = None
    kind: str = "present"
    sex: str | None = None
    pairs: int | None = None
    behaviour: tuple[str, ...] = ()
    zero: bool = False
    stage: str | None = None
    certainty: str | None = None
    evidence: str | None = None
    remarks: str = ""
    typed: str = ""
    part: str = ""


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
    plain = NIGHT.sub("", plain)
    short = _SHORT_YEAR.fullmatch(plain.replace("-", " ") if not plain[:4].isdecimal() else "")
    if short and century is not None:
        plain = f"{short[1]}{century + int(short[2])}"
    read = read_date(plain, today)
    if not isinstance(read, Fault):
        return read.iso
    if read.code == "two-digit-year":
        return read._replace(said=text, hint="write the year in full, or say for the whole file:  --century 2000")
    return read._replace(said=text, hint=day_hint(text) or read.hint)


def read_time(text: str) -> str | Fault:
    """Read a time of day to HH:MM: 10:30, 10.30, 1030, 9:15 am."""
    found = re.fullmatch(r"([0-9]{1,2})[:.h]?([0-9]{2})?(?::[0-9]{2})?\s*(am|pm)?", text.strip().casefold(), re.ASCII)
    if found is not None and (found[2] or found[3]):
        hours = int(found[1]) % 12 + 12 * (found[3] == "pm") if found[3] else int(found[1])
        minutes = int(found[2] or 0)
        if hours < 24 and minutes < 60:
            return f"{hours:02}:{minutes:02}"
    return Fault("time-not-read", "This is no time of day.", time_hint(text) or "write it as  10:30", text)


def read_count(text: str) -> tuple[Count, ...] | Fault:
    """Read a cell of counts: 12, ~40, 40+, 6-20, present, 0, or `2m,3f`."""
    plain = text.strip().casefold()
    if not plain or plain in _PRESENT:
        return (Count(None),)
    if plain in _NONE:
        return (Count(None, zero=True),)
    plain = plain.replace(",", "") if _THOUSANDS.fullmatch(plain) else plain
    if plain.isdecimal() and plain.isascii() and len(plain) < 8:
        number = int(plain)
        return (Count(number, kind="exact", zero=not number),) if number else (Count(None, zero=True),)
    if (found := _AMONG.fullmatch(plain)) and (among := _among(int(found[1]), found[2], text)) is not None:
        return among
    if re.fullmatch(r"[0-9]{1,7}\.0+", plain):
        return read_count(plain.partition(".")[0])
    if (bounded := _bounded(plain)) is not None:
        return (bounded,)
    if found := _INSECTS.fullmatch(plain):
        read = read_count(found[1])
        return read._replace(said=text) if isinstance(read, Fault) else read
    return _read_words(text)


def _bounded(plain: str) -> Count | None:
    """Read a number that is known to some bounds: 6-20, ~40, 40+, >40, <5; None where it is none."""
    if found := _RANGE.fullmatch(plain):
        first, last = int(found[1]), int(found[2])
        if 0 < first < last:
            return Count(first, last, "band")
    if (found := _ABOUT.fullmatch(plain)) and int(found[1]):
        return Count(int(found[1]), kind="estimate")
    if (found := _LEAST.fullmatch(plain)) and int(found[1] or found[2]):
        return Count(int(found[1] or found[2]), kind="at least")
    if found := _OVER.fullmatch(plain):
        return Count(int(found[1]) + 1, kind="at least")
    if found := _UNDER.fullmatch(plain):
        # Of what is named there was one at least.
        most = int(found[2]) if found[2] else int(found[1]) - 1
        return None if most < 1 else Count(1, most, "band") if most > 1 else Count(1, kind="exact")
    return None


def _read_words(text: str) -> tuple[Count, ...] | Fault:
    """Read a cell with words of the shorthand: 2m 3f, 3 exuviae."""
    quoted = any(sign in QUOTES for sign in text)
    # Commas stay, for they tell what belongs together; "+" and "/" may stand between words of their own.
    read = read_tallies(text.strip() if quoted else re.sub(r"(?<=\s)[&+/](?=\s)|\band\b", " ", text.strip()))
    if (
        isinstance(read, Fault)
        and (found := _REMARKED.fullmatch(text.strip()))
        and _KNOWN.isdisjoint(found[2].casefold().split())
    ):
        return (Count(int(found[1]), kind="exact", remarks=found[2]),)
    if isinstance(read, Fault) or _says_more(read):
        why = "This is no count that can be read."
        hint = "write a number, a range like 6-20, ~40, 40+, 2m 3f, 3 exuviae, or present"
        if isinstance(read, Fault) and read.code in _TOLD:
            why, hint = read.message.replace("This line", "This count"), "write a row for each"
        return Fault("count-not-read", why, hint, text)
    also = {"certainty": read.certainty, "evidence": read.evidence, "remarks": read.remarks}
    return tuple(
        Count(tally.count, tally.to, tally.kind, tally.sex, tally.pairs, tally.behaviour, stage=tally.stage, **also)  # type: ignore[arg-type]
        for tally in read.tallies
    )


def _among(number: int, brackets: str, text: str) -> tuple[Count, ...] | Fault | None:
    """Read `10 (2f)`: how many, and in brackets what some of them were; None where the brackets count nothing."""
    parts = read_count(brackets)
    if isinstance(parts, Fault) or not all(
        one.kind == "exact" and one.number and (one.sex or one.stage or one.pairs or one.behaviour) for one in parts
    ):
        return None
    rest = number - sum(one.number or 0 for one in parts)
    if rest < 0:
        why = "More are counted in the brackets than before them."
        return Fault("count-not-read", why, "correct one of them", text)
    return (*parts, Count(rest, kind="exact")) if rest else parts


def _says_more(read: Counted) -> bool:
    """Say whether a count says what has no room in it: people, places, times, photographs, a sign beside a name."""
    people = read.observers or read.company or read.determiner
    return bool(people or read.place or read.locality or read.time or read.photos or read.qualifier)


def read_sex(text: str) -> str | Fault | None:
    """Read a sex; None for both, or not known."""
    plain = text.strip().casefold()
    if plain in _NO_SEX:
        return None
    if plain in SEXES:
        return SEXES[plain]
    return Fault("unknown-word", f'"{text}" is no sex.', "write male, female, or leave it empty", text)


def read_stage(text: str) -> str | Fault:
    """Read a stage of life."""
    plain = text.strip().casefold()
    stages = STAGES | _MORE_STAGES
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
    reference: str, system: str, latitude: str, longitude: str, uncertainty: str
) -> PlaceRecord | Fault:
    """Read where: a grid reference or position as written, else latitude and longitude from cells of their own."""
    typed = reference.strip()
    read = read_place(typed) if typed else None
    if read is None or (isinstance(read, Fault) and latitude and longitude and not system):
        if not (latitude.strip() and longitude.strip()):
            return read if isinstance(read, Fault) else PlaceRecord()
        # In cells of their own a comma parts nothing: it is the decimal sign.
        halves = [_DECIMAL_COMMA.sub(r"\1.\2", half.strip()) for half in (latitude, longitude)]
        read = read_place(", ".join(halves))
    if isinstance(read, Fault):
        return read
    shown = read.rounded()
    metres: int | None = round(read.uncertainty_m) if read.uncertainty_m is not None else None
    said = uncertainty.strip().casefold().removesuffix("m").strip()
    if read.side_m is None and re.fullmatch(r"[0-9]{1,7}(\.[0-9]+)?", said, re.ASCII):
        metres = max(1, round(float(said)))
    return PlaceRecord(
        typed=typed or read.typed,
        system=read.system,
        square=read.square,
        side_m=read.side_m,
        latitude=shown[0],
        longitude=shown[1],
        uncertainty_m=metres,
    )


def reference_in(locality: str) -> str:
    """Give the grid reference that a place's name begins or ends with (`SU 431 118 Tern Hollow`); blank without one.

    Of six figures at least: four behind two capitals may be a year.
    """
    found = _REFERENCED.match(locality) or _REFERENCES.search(locality)
    return found[1] if found and not isinstance(read_place(found[1]), Fault) else ""


def read_vice_county(text: str) -> str | Fault:
    """Read a vice-county's number."""
    county = find_vice_county(text)
    return county._replace(said=text) if isinstance(county, Fault) else county.number
