"""Thirds of a month, as handbooks write flight periods: 0 is early January, 35 is late December."""

from __future__ import annotations

import re
from typing import NamedTuple

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
PARTS = ("early", "mid", "late")


class Period(NamedTuple):
    """What is said of the period in which there is something to see: a heading, before "from … to …", and of others.

    `hardly` goes between "Hardly anything" and "then".
    """

    heading: str
    running: str
    over: str
    hardly: str


# By the stage that a key names: adults fly, skins are left where adults emerge.
PERIODS = {
    "adult": Period("On the wing", "on the wing", "not on the wing", "is on the wing"),
    "exuvia": Period("Emerges", "emerges", "not emerging", "emerges"),
    "larva": Period("To be found", "to be found", "not to be found", "is to be found"),
}


def month_of(word: str) -> int | None:
    """The number of the month that a word in small letters begins, in three letters or more; None for others."""
    return next((index + 1 for index, name in enumerate(MONTHS) if len(word) > 2 and name.startswith(word)), None)


def bare_day(plain: str) -> tuple[str, str] | None:
    """The day and the month of words in small letters that name no year: `12 july`, `july 12th`; None for others."""
    found = re.fullmatch(r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?\s*(?:of\s+)?(?P<month>[a-z]{3,9})\.?", plain, re.ASCII)
    found = found or re.fullmatch(r"(?P<month>[a-z]{3,9})\.?\s*(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?", plain, re.ASCII)
    number = month_of(found["month"]) if found else None
    return (found["day"], MONTHS[number - 1]) if found and number else None


def third_of(month: int, day: int) -> int:
    """The third a day falls in: days 1–10, 11–20, 21 to the end."""
    return (month - 1) * 3 + min((day - 1) // 10, 2)


def parse_third(text: str) -> int | None:
    """`mid-june` → 16; None when it is no third of a month."""
    part, _, month = text.partition("-")
    if part not in PARTS or month not in MONTHS:
        return None
    return MONTHS.index(month) * 3 + PARTS.index(part)


def show_third(third: int) -> str:
    """16 → `mid-June`."""
    month, part = divmod(third, 3)
    return f"{PARTS[part]}-{MONTHS[month].capitalize()}"
