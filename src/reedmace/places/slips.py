"""The classic slips in a grid reference, undone: easting and northing swapped, the letters of the next square."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from reedmace.places.datum import GridSystem
from reedmace.places.grid import parse_grid
from reedmace.places.place import distance_m, place_of_square
from reedmace.places.position import Position
from reedmace.places.squares import Square, hundred_km_corner, hundred_km_letters, inside

_PLAIN = r"([A-Z]{1,2})([0-9]{2,10})"


class Meant(NamedTuple):
    """A reference that was perhaps meant, and whether it is the one typed with easting and northing swapped."""

    reference: str
    swapped: bool


def turned_round(reference: str) -> str | None:
    """The same reference with easting and northing swapped; None where that says nothing else."""
    found = re.fullmatch(_PLAIN, reference)
    if found is None or len(found[2]) % 2:
        return None
    half = len(found[2]) // 2
    other = f"{found[1]}{found[2][half:]}{found[2][:half]}"
    return other if other != reference else None


def likely_meant(reference: str, spots: Iterable[tuple[float, float]], within_m: float) -> Meant | None:
    """Of the slips that make this reference, one that lies within so many metres of a known spot; else None.

    `spots` are latitudes and longitudes in degrees.
    """
    known = [Position("", latitude, longitude) for latitude, longitude in spots]
    for meant in _slips(reference):
        square = parse_grid(meant.reference)
        if isinstance(square, Square):
            here = place_of_square(square)
            if any(
                distance_m(here, here._replace(latitude=at.latitude, longitude=at.longitude)) <= within_m
                for at in known
            ):
                return meant
    return None


def _slips(reference: str) -> Iterator[Meant]:
    other = turned_round(reference)
    if other:
        yield Meant(other, swapped=True)
    found = re.fullmatch(_PLAIN, reference)
    if found is None:
        return
    system: GridSystem = "GB" if len(found[1]) == 2 else "IE"
    east, north = hundred_km_corner(found[1])
    for column in (-100_000, 0, 100_000):
        for row in (-100_000, 0, 100_000):
            if (column or row) and inside(system, east + column, north + row):
                yield Meant(f"{hundred_km_letters(system, east + column, north + row)}{found[2]}", swapped=False)
