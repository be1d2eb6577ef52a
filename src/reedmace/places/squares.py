"""Squares of the National Grid (GB) and the Irish Grid (IE): what a reference means, and its spelling.

A reference is a square, not a point: the digits say how large.  The letters of 100 km squares are A to Z
without I, five by five from the north-west corner; a 2 km square (tetrad) takes the letters A to Z without O,
column by column from the south-west corner of its 10 km square (the DINTY arrangement).
"""

from math import floor
from typing import NamedTuple

from reedmace.places.datum import GridSystem

SIDES = (10_000, 5_000, 2_000, 1_000, 100, 10, 1)
"""The sizes a reference can have: side lengths in metres."""

EXTENT: dict[GridSystem, tuple[int, int]] = {"GB": (700_000, 1_300_000), "IE": (500_000, 500_000)}
"""How far east and north each grid reaches from its false origin, in metres."""

GRID_LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ"
TETRAD_LETTERS = "ABCDEFGHIJKLMNPQRSTUVWXYZ"
QUADRANTS = {"SW": (0, 0), "SE": (5_000, 0), "NW": (0, 5_000), "NE": (5_000, 5_000)}

_HUNDRED_KM = 100_000
_DIGITS = {10_000: 1, 5_000: 1, 2_000: 1, 1_000: 2, 100: 3, 10: 4, 1: 5}


class Square(NamedTuple):
    """A grid square. `easting` and `northing` are its south-west corner and `side_m` its side, in metres.

    `reference` is the canonical spelling ("SU431118"); `typed` is what the user wrote, untouched.
    """

    system: GridSystem
    letters: str
    easting: int
    northing: int
    side_m: int
    reference: str
    typed: str

    def holds(self, easting: float, northing: float) -> bool:
        """Whether a point of the same grid lies in the square (its west and south edges are its own)."""
        return (
            self.easting <= easting < self.easting + self.side_m
            and self.northing <= northing < self.northing + self.side_m
        )


def square_reference(system: GridSystem, easting: float, northing: float, side_m: int) -> str:
    """Name the square of that side (one of `SIDES`) that holds the point: floored, never rounded.

    ValueError for a side that no reference can say, or a point outside the grid.
    """
    return square_at(system, easting, northing, side_m).reference


def square_at(system: GridSystem, easting: float, northing: float, side_m: int, typed: str | None = None) -> Square:
    """Find the square of that side that holds the point; `typed` is its own reference unless given.

    ValueError for a side that no reference can say, or a point outside the grid.
    """
    if side_m not in _DIGITS:
        raise ValueError(f"no grid reference has squares of {side_m} m")
    if not inside(system, easting, northing):
        raise ValueError(f"{easting}, {northing} is outside the {system} grid")
    east, north = floor(easting), floor(northing)
    letters = hundred_km_letters(system, east, north)
    in_east, in_north = east % _HUNDRED_KM, north % _HUNDRED_KM
    digits = _DIGITS[side_m]
    step = 10 ** (5 - digits)
    reference = f"{letters}{in_east // step:0{digits}d}{in_north // step:0{digits}d}"
    column, row = east % 10_000, north % 10_000
    if side_m == 5_000:
        reference += ("N" if row >= 5_000 else "S") + ("E" if column >= 5_000 else "W")
    elif side_m == 2_000:
        reference += TETRAD_LETTERS[column // 2_000 * 5 + row // 2_000]
    corner = east - east % side_m, north - north % side_m
    return Square(system, letters, *corner, side_m, reference, reference if typed is None else typed)


def inside(system: GridSystem, easting: float, northing: float) -> bool:
    """Whether the grid reaches a point, given in metres."""
    width, height = EXTENT[system]
    return 0 <= easting < width and 0 <= northing < height


def hundred_km_letters(system: GridSystem, easting: int, northing: int) -> str:
    """Letters of the 100 km square that holds a point inside the grid."""
    column, row = easting // _HUNDRED_KM, northing // _HUNDRED_KM
    if system == "IE":
        return GRID_LETTERS[(4 - row) * 5 + column]
    # The false origin is the south-west corner of S, which stands third in the fourth row of 500 km squares.
    first = GRID_LETTERS[(3 - row // 5) * 5 + 2 + column // 5]
    return first + GRID_LETTERS[(4 - row % 5) * 5 + column % 5]


def hundred_km_corner(letters: str) -> tuple[int, int]:
    """South-west corner, in metres, of the 100 km square with these letters (one: Irish, two: GB).

    By the lettering alone: the corner may lie outside the grid.  ValueError for the letter I.
    """
    last = GRID_LETTERS.index(letters[-1])
    column, row = last % 5, 4 - last // 5
    if len(letters) == 2:
        first = GRID_LETTERS.index(letters[0])
        column += (first % 5 - 2) * 5
        row += (3 - first // 5) * 5
    return column * _HUNDRED_KM, row * _HUNDRED_KM
