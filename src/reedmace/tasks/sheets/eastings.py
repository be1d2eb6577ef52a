"""Columns of eastings and northings in metres, on a grid that the heading or the user names."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from typing import Literal

from reedmace.faults import Fault
from reedmace.places.squares import square_at

EASTINGS: dict[str, tuple[str, ...]] = {
    "british_easting": ("british easting", "british grid easting", "national grid easting"),
    "british_northing": ("british northing", "british grid northing", "national grid northing"),
    "irish_easting": ("irish easting", "irish grid easting"),
    "irish_northing": ("irish northing", "irish grid northing"),
}
# Words of a heading that name the grid, and those that say no more of it.
_NAMING = {
    **dict.fromkeys(("british", "gb", "os", "osgb", "osgb36", "bng"), "british"),
    **dict.fromkeys(("irish", "ireland", "ing"), "irish"),
}
_SILENT = frozenset(("grid", "national", "ref", "reference", "coordinate", "co", "ordinate", "m", "metres", "36"))
_SILENT |= {"full", "in", "of", "on", "the", "x", "y", "britain", "great"}
_WAYS = {**dict.fromkeys(("easting", "eastings"), "easting"), **dict.fromkeys(("northing", "northings"), "northing")}
_OTHERS = frozenset(("itm", "utm"))  # grids that are not read
_GRIDS: tuple[tuple[Literal["GB", "IE"], str], ...] = (("GB", "british"), ("IE", "irish"))
_METRES = re.compile(r"([0-9]{1,7})(?:[.,][0-9]+)?", re.ASCII)


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


def easting_headed(plain: str) -> str | None:
    """Give the field of a heading in plain words that names an easting or northing and one grid; None for others."""
    words = plain.split()
    ways = {_WAYS[word] for word in words if word in _WAYS}
    grids = {_NAMING[word] for word in words if word in _NAMING}
    if not grids and "national" in words and "grid" in words:
        grids = {"british"}
    known = all(word in _WAYS or word in _NAMING or word in _SILENT for word in words)
    return f"{grids.pop()}_{ways.pop()}" if known and len(ways) == len(grids) == 1 else None


def without_grid(columns: Sequence[tuple[str, str | None]], said: Collection[str]) -> Fault | None:
    """Say that there are eastings of a grid that nobody named, and nothing else says where as exactly.

    `columns` are headings with their fields; of those in `said` the user has spoken.
    """
    fields = {field for _, field in columns}
    if fields & {"place", "latitude", "british_easting", "irish_easting"}:
        return None
    left = [heading for heading, field in columns if field is None and heading not in said]
    hint = grid_hint(left)
    if hint is None or not any("northing" in heading.casefold() for heading in left):
        return None
    heading = next(one for one in left if "easting" in one.casefold())
    why = "This sheet has eastings and northings, and does not say of which grid."
    return Fault("easting-not-read", why, f'{hint} ; or leave them out:  --map "{heading}="', heading, typed=True)


def grid_hint(columns: Sequence[str]) -> str | None:
    """Say what to do with eastings of a grid that nobody named."""
    for heading in columns:
        if "easting" not in heading.casefold():
            continue
        if _OTHERS.intersection(re.findall(r"[^\W_]+", heading.casefold())):
            return "eastings of this grid are not read: give grid references, or latitudes and longitudes"
        how = f'--map "{heading}=british_easting"'
        return f"an easting is of a grid; say of which:  {how} , or irish_easting; and the northing likewise"
    return None
