"""Places as squares of a size, for those who are not to know more."""

from __future__ import annotations

from functools import lru_cache

from reedmace.faults import Fault
from reedmace.places.place import Place, place_of_square, read_place
from reedmace.places.squares import Square, square_at
from reedmace.records import PlaceRecord


@lru_cache(maxsize=65536)
def on_grid(place: PlaceRecord) -> Place | None:
    """Give a place on its grid, read again from its square, else from its position; None where no grid has it."""
    text = place.square if place.system in ("GB", "IE") else ""
    if not text and place.latitude is not None and place.longitude is not None:
        text = f"{place.latitude:.6f}, {place.longitude:.6f}"
    read = read_place(text or place.typed) if text or place.typed else None
    return None if read is None or isinstance(read, Fault) or read.grid is None else read


def as_square(square: Square) -> PlaceRecord:
    """Give a square as a place of a record: its reference, its centre, and nothing else."""
    made = place_of_square(square)
    metres = round(made.uncertainty_m or 0)
    return PlaceRecord(square.reference, square.system, square.reference, square.side_m, *made.rounded(), metres)


@lru_cache(maxsize=65536)
def coarsened(place: PlaceRecord, side_m: int) -> PlaceRecord:
    """Give a place no finer than a square of this side; its name and vice-county stay.

    What no grid has, and is finer, is left without a position.
    """
    if place.side_m and place.side_m >= side_m:
        return place
    found = on_grid(place)
    square = PlaceRecord()
    if found is not None and found.grid and found.centre_easting is not None and found.centre_northing is not None:
        square = as_square(square_at(found.grid, found.centre_easting, found.centre_northing, side_m))
    return square._replace(vice_county=place.vice_county, locality=place.locality, regions=place.regions)


def side_words(side_m: int) -> str:
    """Say the side of a square: 10 km, 100 m."""
    return f"{side_m // 1000} km" if side_m >= 1000 else f"{side_m} m"
