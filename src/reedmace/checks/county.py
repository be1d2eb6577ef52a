"""What a county recorder says of the county: where it differs from the key, the county recorder is right.

Plain values; the file they come from is read in county_file.py.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

NOBODY_COMES = ("lost", "absent")

Day = tuple[int, int]
"""Month and day, in any year."""


class LocalSpecies(NamedTuple):
    """One species in this county. What is None or empty is as the key has it.

    `flight` are the first and last day it is known to fly here, `photo` of which insects a photograph is asked
    (always, males, females, unsexed, never), `blur_m` the side in metres of the smallest square that may be published.
    """

    name: str
    status: str | None = None
    flight: tuple[Day, Day] | None = None
    photo: str | None = None
    blur_m: int | None = None
    note: str = ""


class County(NamedTuple):
    """One county file. `vice_counties` and `squares` (100 km or 10 km) say where it speaks; none of both: anywhere.

    `wants_m` is the side in metres of the coarsest square that the county recorder likes.
    """

    name: str
    updated: str = ""
    vice_counties: tuple[str, ...] = ()
    squares: tuple[str, ...] = ()
    wants_m: int | None = None
    species: Mapping[str, LocalSpecies] = {}

    @property
    def cited(self) -> str:
        """How the file is named where it decides something."""
        return f"county file of {self.name}{f', {self.updated}' if self.updated else ''}"

    def speaks_for(self, square: str | None, vice_county: str | None) -> bool:
        """Whether a place lies in the county, as far as its vice-county, else its square, says so."""
        if vice_county and self.vice_counties:
            return vice_county in self.vice_counties
        if square and self.squares:
            return self.holds(square)
        return True

    def holds(self, square: str) -> bool:
        """Whether a square lies in one of the county's squares; any does where none are listed."""
        return not self.squares or any(part in self.squares for part in wider(square))


def wider(square: str) -> tuple[str, ...]:
    """The 100 km letters and the 10 km square of a compact reference: SU431118 → SU, SU41."""
    found = re.fullmatch(r"([A-Z]{1,2})([0-9]*)([A-Z]{0,2})", square)
    if found is None:
        return ()
    letters, digits = found[1], found[2]
    half = len(digits) // 2
    return (letters, f"{letters}{digits[0]}{digits[half]}") if half else (letters,)
