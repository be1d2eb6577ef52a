"""Cells of a sheet for people and their spreadsheets: dates, counts and text that no program takes for a formula."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from reedmace.darwincore import one_line
from reedmace.records import Sighting
from reedmace.tasks.export.profiles import DateStyle, band_of

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_NUMBER = re.compile(r"[-+]?[0-9]+(?:[.,][0-9]+)?", re.ASCII)
# What a spreadsheet takes for the beginning of a formula, in the wide forms of East Asian keyboards too.
_FORMULA = re.compile(r"\s*[=+\-@＝＋－＠]")
# The same behind a sign that another country's spreadsheet takes for the end of a cell.
_INSIDE = re.compile(r"([;,\t]\s*)(?=[=@＝＠]|[+\-＋－][^\s\d])")


def harmless(text: str) -> str:
    """Give text on one line that no spreadsheet takes for a formula: an apostrophe stands before what looks like one.

    Numbers stay numbers.
    """
    line = one_line(text)
    if not line or line.isalnum() or _NUMBER.fullmatch(line):
        return line
    line = _INSIDE.sub(r"\1'", line)
    return f"'{line}" if _FORMULA.match(line) else line


def day_written(iso: str, style: DateStyle) -> str:
    """Give a date as a sheet writes dates; a month, a year or an interval as far as it is known."""
    return " to ".join(dict.fromkeys(_part(part, style) for part in iso.split("/")))


def _part(part: str, style: DateStyle) -> str:
    if style == "2026-12-31":
        return part
    year, *rest = part.split("-")
    if style == "31 Dec 2026":
        words = [str(int(rest[1]))] if len(rest) > 1 else []
        return " ".join([*words, *([_MONTHS[int(rest[0]) - 1]] if rest else []), year])
    sign = "." if style == "31.12.2026" else "/"
    return sign.join([*reversed(rest), year])


class Number(NamedTuple):
    """How many, as far as that is known: between `low` and `high` (None for no upper end).

    `rough` says that it is an estimate, `uncounted` that some were not counted at all.
    """

    low: int = 0
    high: int | None = 0
    rough: bool = False
    uncounted: bool = False

    def plus(self, other: Number) -> Number:
        """Give both together."""
        high = None if self.high is None or other.high is None else self.high + other.high
        return Number(self.low + other.low, high, self.rough or other.rough, self.uncounted or other.uncounted)


def number_of(sighting: Sighting) -> Number:
    """Give how many individuals a sighting counts."""
    count, to = sighting.count, sighting.count_to
    if count is None:
        return Number(uncounted=True)
    if sighting.count_kind == "at least" or (sighting.count_kind == "band" and to is None):
        return Number(count, None)
    return Number(count, to or count, sighting.count_kind == "estimate")


def number_written(number: Number, bands: Mapping[str, str], present: str) -> str:
    """Give a number as a sheet writes it: as a number, as 6-20, 40+ or about 40, or as the name of its class.

    What reaches over several classes is of that of the smallest number it can be.
    """
    if not number.low:
        return present if number.uncounted else ""
    for name, text in bands.items():
        ends = band_of(text)
        if ends and ends[0] <= number.low and (ends[1] is None or number.low <= ends[1]):
            return name
    more = number.uncounted or number.high is None
    if more:
        return f"{number.low}+"
    between = str(number.low) if number.high == number.low else f"{number.low}-{number.high}"
    return f"about {between}" if number.rough else between
