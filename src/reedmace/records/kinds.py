"""The kinds of plain value a field may hold, each with what it refuses.

A kind is a function from a value to its plain form; it raises `Unfit` where the value does not fit.
The same functions read and write, except where JSON knows no tuples (see shape.py).
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

from reedmace.records.dates import span
from reedmace.records.text import unreadable

Kind = Callable[[Any], Any]

_CLOCK = r"(?:[01][0-9]|2[0-3]):[0-5][0-9]"
_VICE_COUNTY = r"[1-9][0-9]{0,2}|H[1-9][0-9]?"
# Larger numbers lose digits in programs that read JSON numbers as doubles.
_MOST = 2**53 - 1


class Unfit(Exception):  # noqa: N818  (never leaves this room: bodies.py makes a fault of it)
    """A value that does not fit its field; `path` grows as the exception climbs."""

    def __init__(self, why: str, said: object = None, code: str = "value-unfit") -> None:
        super().__init__(why)
        self.why = why
        self.said = said
        self.code = code
        self.path: list[str] = []


def text(value: Any) -> str:
    """Take any text that a file can carry."""
    if type(value) is str and value.isascii() and "\x00" not in value:
        return value  # nearly all there is, and a great deal of it
    if not isinstance(value, str):
        raise Unfit("this should be text", value)
    why = unreadable(value)
    if why is not None:
        raise Unfit(f"this text cannot be kept: {why}", value, "text-unreadable")
    return value


def filled(value: Any) -> str:
    """Take text with something in it."""
    if not text(value).strip():
        raise Unfit("this should not be empty", value)
    return value  # type: ignore[no-any-return]


def identifier(value: Any) -> str:
    """Take an identifier, ours or someone else's: not empty, no blanks and no control characters."""
    # The plain blank is the only white space that counts as printable; NUL does not count as such.
    if type(value) is str and value and value.isascii() and value.isprintable() and " " not in value:
        return value
    if not text(value) or " " in value or not value.isprintable():
        raise Unfit("an identifier is not empty and holds no blanks", value)
    return value  # type: ignore[no-any-return]


def flag(value: Any) -> bool:
    """Take true or false."""
    if not isinstance(value, bool):
        raise Unfit("this should be true or false", value)
    return value


def whole(least: int) -> Kind:
    """Take a whole number from `least` upwards."""

    def check(value: Any) -> int:
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= _MOST:
            raise Unfit(f"this should be a whole number, {least} or more", value)
        return value

    return check


def within(least: int, most: int) -> Kind:
    """Take a whole number within bounds."""
    at_least = whole(least)

    def check(value: Any) -> int:
        if at_least(value) > most:
            raise Unfit(f"this should be a whole number from {least} to {most}", value)
        return value  # type: ignore[no-any-return]

    return check


def real(least: float, most: float) -> Kind:
    """Take a finite number within bounds."""

    def check(value: Any) -> float:
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise Unfit("this should be a number", value)
        if not (math.isfinite(value) and least <= value <= most):
            raise Unfit(f"this should lie between {least:g} and {most:g}", value)
        return value

    return check


def digest(value: Any) -> str:
    """Take a SHA-256 as 64 lower-case hex digits, or nothing."""
    if not isinstance(value, str) or (value and re.fullmatch(r"[0-9a-f]{64}", value) is None):
        raise Unfit("this should be a SHA-256, 64 hex digits", value)
    return value


def word(*words: str) -> Kind:
    """Take one of a few words."""

    def check(value: Any) -> str:
        if not isinstance(value, str) or value not in words:
            raise Unfit(f"this should be one of: {', '.join(words)}", value)
        return value

    return check


def iso_date(value: Any) -> str:
    """Take an ISO 8601 day, month, year or interval."""
    if not isinstance(value, str) or span(value) is None:
        raise Unfit("this should be a date such as 2026-06-14, 2026-06, 2026 or 2026-06-01/2026-06-07", value)
    return value


def clock(value: Any) -> str:
    """Take a time of day, `HH:MM`."""
    if not isinstance(value, str) or re.fullmatch(_CLOCK, value) is None:
        raise Unfit("this should be a time such as 10:30", value)
    return value


def vice_county(value: Any) -> str:
    """Take a vice-county number: 1 to 113, or H1 to H40."""
    if not isinstance(value, str) or re.fullmatch(_VICE_COUNTY, value) is None:
        raise Unfit("this should be a vice-county number such as 17 or H33", value)
    if int(value.lstrip("H")) > (40 if value.startswith("H") else 113):
        raise Unfit("vice-counties run from 1 to 113 and from H1 to H40", value)
    return value
