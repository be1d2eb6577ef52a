"""A row that says where in two ways, a reference and a position or metres beside it, which have to be of one place."""

from __future__ import annotations

import re
from functools import lru_cache

from reedmace.faults import Fault
from reedmace.places.agreement import far_apart, gap_m, rounded_m
from reedmace.places.place import Place, read_place
from reedmace.tasks.sheets.datums import another_datum
from reedmace.tasks.sheets.values import read_position, read_reach

_DECIMAL = re.compile(r"[+-]?[0-9]{1,3}(?:\.[0-9]{1,20})?", re.ASCII)
_read = lru_cache(1000)(read_place)  # rows of a site stand together


def places_differ(
    reference: str, metres: str, latitude: str, longitude: str, uncertainty: str, datum: str
) -> Fault | None:
    """Say that the cells of a row are of places that cannot be one; None where they can, or one says nothing.

    `metres` is the reference that eastings and northings stand for. Cells that do not read are told elsewhere.
    """
    first = reference or metres
    one = _read(first) if first.strip() else None
    if one is None or isinstance(one, Fault):
        return None
    others: list[tuple[Place | Fault, str, float | None]] = []
    if reference and metres:
        others.append((read_place(metres), metres, None))
    if latitude.strip() and longitude.strip():
        reach: float | None = read_reach(uncertainty)
        if _in_degrees(latitude, longitude):
            reach = max(reach or 0, rounded_m(latitude, longitude))
        if not _plainly_near(one, latitude, longitude, reach, datum):
            typed = f"{latitude.strip()}, {longitude.strip()}"
            others.append((read_position(latitude, longitude, datum), typed, reach))
    for other, typed, reach in others:
        if not isinstance(other, Fault) and far_apart(one, other, reach):
            kilometres = max(1, round(gap_m(one, other, reach) / 1000))
            why = f"This row gives two places: {typed} lies {kilometres} km from {one.square or one.typed}."
            return Fault("place-differs", why, "correct one of them, or leave its cell empty", first.strip())
    return None


def _plainly_near(one: Place, latitude: str, longitude: str, reach_m: float | None, datum: str) -> bool:
    """Say whether a position in decimal degrees is near, which needs no grid: reading one whole takes as long as a row.

    False where that is not plain.
    """
    if another_datum(datum) or not _in_degrees(latitude, longitude):
        return False
    other = one._replace(latitude=float(latitude), longitude=float(longitude), uncertainty_m=None)
    return not far_apart(one, other, reach_m)


def _in_degrees(latitude: str, longitude: str) -> bool:
    return all(_DECIMAL.fullmatch(degrees.strip()) for degrees in (latitude, longitude))
