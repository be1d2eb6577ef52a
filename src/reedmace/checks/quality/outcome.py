"""What a validation answers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from enum import Enum
from typing import NamedTuple

Row = Mapping[str, str]
"""Term → text as it stands in the file. A term that is not there counts as empty."""

HELD = ""
"""The authority that is always here: the lists in this package."""

# What the standard calls empty: nothing, or only signs from U+0000 to U+0020.
_NOTHING = "".join(map(chr, range(0x21)))


class Status(Enum):
    """Whether a validation could be asked, and what came of it."""

    COMPLIANT = "compliant"
    NOT_COMPLIANT = "not compliant"
    INTERNAL = "the row lacks what the validation needs"
    EXTERNAL = "the list that the validation needs is not here"


class Outcome(NamedTuple):
    """The status, and in a few words why."""

    status: Status
    why: str = ""


class Basis(NamedTuple):
    """What rows are validated against: the day on which it is done, and whose lists are asked."""

    today: date
    authority: str = HELD


Validation = Callable[[Row, Basis], Outcome]

COMPLIANT = Outcome(Status.COMPLIANT)


def refused(why: str) -> Outcome:
    """Not compliant."""
    return Outcome(Status.NOT_COMPLIANT, why)


def lacking(why: str) -> Outcome:
    """It cannot be asked of this row."""
    return Outcome(Status.INTERNAL, why)


def empty(text: str | None) -> bool:
    """Whether a value is empty as the standard means it: the word "null" and a no-break space are not."""
    return not text or not text.strip(_NOTHING)


def integer(text: str) -> int | None:
    """The whole number that a text says, in plain figures; None where it says none."""
    plain = text.strip(_NOTHING)
    bare = plain[1:] if plain[:1] in ("-", "+") else plain
    return int(plain) if bare.isascii() and bare.isdigit() and len(bare) < 20 else None


def words(text: str) -> frozenset[str]:
    """The words of a list written as text."""
    return frozenset(text.split())
