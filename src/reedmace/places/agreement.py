"""Whether two ways of saying where, such as a reference and a position beside it, can mean one place."""

from __future__ import annotations

from math import hypot

from reedmace.places.place import Place, distance_m

FAR_M = 1000
"""Metres between what two places can reach, from which they are not of one spot: people stand beside what they see,
ponds have two ends, and a reference may be that of the site."""


DEGREE_M = 111_320
"""Metres of a degree of latitude; one of longitude is shorter."""


def rounded_m(latitude: str, longitude: str) -> float:
    """Give how far a position in decimal degrees may have been rounded, in metres: half of its last decimals."""
    halves = (0.5 / 10 ** len(degrees.strip().partition(".")[2]) for degrees in (latitude, longitude))
    return DEGREE_M * hypot(*halves)


def gap_m(one: Place, other: Place, reach_m: float | None = None) -> float:
    """Give the metres over the ground between what two places can reach; 0 where they may be one.

    A square reaches to its corners, a position as far as its `uncertainty_m`, or as the second is said to (`reach_m`).
    """
    reach = (one.uncertainty_m or 0.0) + max(other.uncertainty_m or 0.0, reach_m or 0.0)
    return max(0.0, distance_m(one, other) - reach)


def far_apart(one: Place, other: Place, reach_m: float | None = None) -> bool:
    """Say whether two places cannot be of one spot."""
    return gap_m(one, other, reach_m) > FAR_M
