"""Columns of eastings and northings in metres, on a grid that the heading or the user names."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from reedmace.faults import Fault
from reedmace.places.squares import square_at

EASTINGS: dict[str, tuple[str, ...]] = {
    "british_easting": (
        "british easting",
        "british grid easting",
        "national grid easting",
        "os easting",
        "bng easting",
    ),
    "british_northing": (
        *("british northing", "british grid northing", "national grid northing", "os northing", "bng northing"),
    ),
    "irish_easting": ("irish easting", "irish grid easting"),
    "irish_northing": ("irish northing", "irish grid northing"),
}
_GRIDS: tuple[tuple[Literal["GB", "IE"], str], ...] = (("GB", "british"), ("IE", "irish"))
_METRES = re.compile(r"([0-9]{1,7})(?:\.[0-9]+)?", re.ASCII)


def reference_of(fields: Mapping[str, str]) -> tuple[str, str] | Fault | None:
    """Give the square of 1 m that an easting and a northing stand for, and both as typed; None where there are none."""
    for system, grid in _GRIDS:
        east, north = (fields.get(f"{grid}_{part}", "").strip() for part in ("easting", "northing"))
        if not (east or north):
            continue
        typed = f"{east}, {north}"
        one, other = _METRES.fullmatch(east), _METRES.fullmatch(north)
        if one is None or other is None:
            why = "An easting and a northing are two numbers of metres."
            return Fault("easting-not-read", why, "write both in full, such as  443150  and  111850", typed)
        try:
            return square_at(system, int(one[1]), int(other[1]), 1).reference, typed
        except ValueError:
            why = f"The {grid.capitalize()} grid does not reach this easting and northing."
            return Fault("easting-not-read", why, "look whether they are in metres, in full, and of this grid", typed)
    return None


def grid_hint(columns: tuple[str, ...]) -> str | None:
    """Say what to do with eastings of a grid that nobody named."""
    for heading in columns:
        if "easting" in heading.casefold():
            how = f'--map "{heading}=british_easting"'
            return f"an easting is of a grid; say of which:  {how} , or irish_easting; and the northing likewise"
    return None
