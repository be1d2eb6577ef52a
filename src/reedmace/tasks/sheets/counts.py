"""The cell of a count → how many, and what was said with it: 12, ~40, 40+, 6-20, present, 2m,3f."""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.sheets.values import MORE_STAGES
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, PAIRS, PLAIN_PAIRS, QUOTES, SEXES, STAGES
from reedmace.tasks.shorthand.line import read_tallies
from reedmace.tasks.shorthand.line_said import Counted

_PRESENT = frozenset({"present", "p", "x", "y", "yes", "true", "✓", "✔", "√", "+", "seen", "nc", "not counted"})
_NONE = frozenset({"n", "no", "false", "none", "nil", "-", "–", "—"})
# What is told of a count that says several things, beside that it does not read.
_TOLD = frozenset({"two-stages", "stage-unclear", "total-unclear", "pairs-or-insects"})
# Words that say what insects were, and are no remark.
_KNOWN = frozenset((*SEXES, *STAGES, *MORE_STAGES, *BEHAVIOURS, *PAIRS, *PLAIN_PAIRS))
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
# A range of numbers that a spreadsheet took for a day: `2-5` becomes `Feb-05` or `02/05/2026`.
_AS_DATE = re.compile(r"[A-Za-z]{3}-[0-9]{1,2}|[0-9]{1,2}-[A-Za-z]{3}|[0-9]{1,2}/[0-9]{1,2}/[0-9]{4}", re.ASCII)


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
        if _AS_DATE.fullmatch(text.strip()):
            hint = "a spreadsheet may have made a date of a range such as 2-5: write it as  2 to 5"
        elif not any(map(str.isdigit, text)) and len(text.split()) == 1:
            hint += f'; if it stands for a band, say for which:  --bands "{text.strip()}=2-5"'
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
