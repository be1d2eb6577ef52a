"""The one door for places: a text becomes a `Place`, be it a grid reference or a latitude and longitude.

A grid reference is a square and stays one; its centre and uncertainty are worked out from it.  A position
keeps the accuracy it was typed with, and is never turned into a square finer than that, or than 100 m.
"""

import re
from math import ceil, cos, hypot, radians, sin, sqrt
from typing import Literal, NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.places.datum import WGS84, GridSystem, from_grid, to_grid
from reedmace.places.grid import parse_grid, tidy
from reedmace.places.position import Position, in_channel_islands, parse_position
from reedmace.places.squares import Square, inside, square_at, square_reference

__all__ = [
    "Place",
    "coarsen",
    "distance_m",
    "grid_of",
    "place_of_position",
    "place_of_square",
    "read_place",
    "square_reference",
    "square_uncertainty_m",
]

FINEST_FROM_POSITION_M = 100
"""The smallest square ever derived from a latitude and longitude: the datum shift is good to 5 m only."""

# A position goes to the first of these that is not much finer than it was typed.
_FROM_POSITION_M = (FINEST_FROM_POSITION_M, 1_000, 2_000, 10_000)
_MUCH_FINER = 0.85

_DATUM_ERROR_M = 5
# 1 / 0.9996: on the National Grid's central meridian the ground is that much longer than the grid.
_MOST_GROUND_PER_GRID = 1.0004


class Place(NamedTuple):
    """Where a sighting was made.  Lengths in metres, latitude and longitude in WGS84 degrees, unrounded.

    `system` says what was typed: "GB" or "IE" for a grid reference, "WGS84" for a position.
    `square` is the canonical reference: of the typed square, or of one that holds the position, of 100 m and no
    finer than it was typed (None where neither grid reaches, or it was typed in whole degrees).
    `side_m` is None for a position.  `easting` and `northing` are the square's south-west corner, or the position
    projected onto `grid`; latitude and longitude are those of the centre.  `uncertainty_m` is None where unknown.
    `hundred_km` names the 100 km square (for the Channel Islands "WV" or "WA"), None beyond them all; `grid` is
    the grid that easting and northing are on.
    """

    typed: str
    system: Literal["GB", "IE", "WGS84"]
    square: str | None
    side_m: int | None
    easting: float | None
    northing: float | None
    centre_easting: float | None
    centre_northing: float | None
    latitude: float
    longitude: float
    uncertainty_m: float | None
    hundred_km: str | None
    grid: GridSystem | None

    def covers(self, other: "Place") -> bool:
        """Say whether the corner of another place, which may be larger, lies in this square of the same grid."""
        corners = ((self.easting, other.easting), (self.northing, other.northing))
        return self.grid == other.grid and all(
            low is not None and at is not None and low <= at < low + (self.side_m or 1) for low, at in corners
        )

    def rounded(self) -> tuple[float, float]:
        """Latitude and longitude at six decimals (about 0.1 m), for showing and sending only."""
        return round(self.latitude, 6) + 0.0, round(self.longitude, 6) + 0.0  # + 0.0: never "-0.0"


def read_place(text: str) -> Place | Fault:
    """Read the place a text says; a fault says why it can't be read.  Never raises."""
    plain = tidy(text)
    if not plain:
        hint = 'give a grid reference like "SU 123 345" or a position like "51.0596, -1.3101"'
        return Fault("place-empty", "There is no place here.", hint, said=text, typed=True)
    square = parse_grid(text)
    if isinstance(square, Square):
        return place_of_square(square)
    position = parse_position(text)
    if isinstance(position, Position):
        return place_of_position(position)
    return _likelier_fault(plain, text, square, position)


def place_of_square(square: Square) -> Place:
    """Make a place of a square: its centre, and the uncertainty that reaches its corners."""
    half = square.side_m / 2
    east, north = square.easting + half, square.northing + half
    latitude, longitude = from_grid(square.system, east, north)
    return Place(
        typed=square.typed,
        system=square.system,
        square=square.reference,
        side_m=square.side_m,
        easting=square.easting,
        northing=square.northing,
        centre_easting=east,
        centre_northing=north,
        latitude=latitude,
        longitude=longitude,
        uncertainty_m=square_uncertainty_m(square.side_m),
        hundred_km=square.letters,
        grid=square.system,
    )


def place_of_position(position: Position) -> Place:
    """Make a place of a position, on the grid that applies there, if one does."""
    latitude, longitude = position.latitude, position.longitude
    grid = grid_of(latitude, longitude)
    east = north = square = None
    letters = _channel_islands_letters(latitude, longitude)
    if grid:
        east, north = to_grid(grid, latitude, longitude)
        letters = square_at(grid, east, north, FINEST_FROM_POSITION_M).letters
        side_m = _side_of(position)
        square = square_at(grid, east, north, side_m).reference if side_m else None
    return Place(
        typed=position.typed,
        system="WGS84",
        square=square,
        side_m=None,
        easting=east,
        northing=north,
        centre_easting=east,
        centre_northing=north,
        latitude=latitude,
        longitude=longitude,
        uncertainty_m=position.uncertainty_m,
        hundred_km=letters,
        grid=grid,
    )


def _side_of(position: Position) -> int | None:
    """The side of the square that a position is said to lie in: no more is claimed than was typed."""
    known = max(position.step_m or 0.0, (position.uncertainty_m or 0.0) * sqrt(2)) * _MUCH_FINER
    return next((side for side in _FROM_POSITION_M if known <= side), None)


def square_uncertainty_m(side_m: int) -> int:
    """Metres from the centre that surely hold the whole square: ceil(side/√2 × 1.0004 + 5).

    Half the diagonal, stretched to the ground by the projection's scale, and the error of the datum shift.
    """
    return ceil(side_m / sqrt(2) * _MOST_GROUND_PER_GRID + _DATUM_ERROR_M)


def grid_of(latitude: float, longitude: float) -> GridSystem | None:
    """Say which grid maps use at a WGS84 position: "IE" around Ireland, else "GB", None beyond both.

    A rule of thumb: west of a line down the middle of the sea between the islands it is the Irish Grid.  The
    line runs at 5.95° W in the North Channel (between Rathlin and Kintyre), 5.3° W past Galloway and Man, and
    5.9° W in St George's Channel; north of 55.5° N (Islay) and south of 51.2° N (Scilly) all is the National
    Grid.
    """
    if 55.2 <= latitude < 55.5:
        line = -5.95
    elif 53.0 <= latitude < 55.2:
        line = -5.3
    elif 51.2 <= latitude < 53.0:
        line = -5.9
    else:
        line = -180.0
    likely: tuple[GridSystem, GridSystem] = ("IE", "GB") if longitude < line else ("GB", "IE")
    return next((grid for grid in likely if inside(grid, *to_grid(grid, latitude, longitude))), None)


def coarsen(place: Place, side_m: int) -> Square:
    """Find the square of that side that holds the whole place (for a position: the point).

    ValueError for a side no reference can say; Refused where no such square holds the place.
    """
    if place.grid is None or place.centre_easting is None or place.centre_northing is None:
        raise Refused(_refusal(place, "place-off-grid", "No grid reaches this place.", "keep the position"))
    square = square_at(place.grid, place.centre_easting, place.centre_northing, side_m)
    own = parse_grid(place.square) if place.square else None
    finest = own.side_m if isinstance(own, Square) else _FROM_POSITION_M[-1]
    if side_m < finest:
        message = f"A square of {side_m} m would say more than is known: {finest} m is the finest here."
        raise Refused(_refusal(place, "place-too-coarse", message, f"ask for {finest} m or more"))
    if place.side_m and place.easting is not None and place.northing is not None:
        last = place.easting + place.side_m - 1, place.northing + place.side_m - 1
        if not (square.holds(place.easting, place.northing) and square.holds(*last)):
            message = f"{place.square} straddles squares of {side_m} m."
            raise Refused(_refusal(place, "place-straddles", message, "ask for 10000 m, which holds it"))
    return square


def distance_m(one: Place, other: Place) -> float:
    """Metres over the ground between two places' centres.

    By the WGS84 ellipsoid's radii at the middle latitude: within one part in a thousand up to some 300 km.
    """
    middle = radians((one.latitude + other.latitude) / 2)
    e2 = WGS84.eccentricity_squared
    w = 1 - e2 * sin(middle) ** 2
    north = WGS84.major * (1 - e2) / w**1.5 * radians(one.latitude - other.latitude)
    east = WGS84.major / sqrt(w) * cos(middle) * radians(one.longitude - other.longitude)
    return hypot(north, east)


def _channel_islands_letters(latitude: float, longitude: float) -> str | None:
    """WA holds Alderney, WV the other islands; the line is where northing 5500 km of UTM zone 30 runs."""
    if not in_channel_islands(latitude, longitude):
        return None
    return "WA" if latitude >= 49.65 else "WV"


def _likelier_fault(plain: str, typed: str, square: Fault, position: Fault) -> Fault:
    """Of two refusals, the one about what the user most likely meant."""
    if not re.search(r"[0-9]", plain) and square.code in (
        "grid-not-a-reference",
        "grid-unexpected-characters",
    ):
        if position.code != "position-not-read":
            return position
        hint = 'give a grid reference like "SU 123 345" or a position like "51.0596, -1.3101"'
        return Fault("place-not-read", "A name says no place on the map.", hint, said=typed, typed=True)
    if re.match(r"[A-Za-z]{1,2} ?[0-9]", plain) and plain[0] not in "NSEWnsew":
        return square
    if position.code != "position-not-read":
        return position
    return position if re.search(r"[.,;°]|^ ?[-+−]", plain) and not plain[0].isalpha() else square


def _refusal(place: Place, code: str, message: str, hint: str) -> Fault:
    return Fault(code, message, hint, said=place.typed)
