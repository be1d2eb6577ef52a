"""The regions of a key that a place lies in, by its 100 km square."""

from __future__ import annotations

from collections.abc import Mapping

from reedmace.records import PlaceRecord


def with_regions(squares: Mapping[str, tuple[str, ...]], place: PlaceRecord) -> PlaceRecord:
    """Give the place with the regions that a key's table of 100 km squares (`squares`) has for it."""
    square = place.square or ""
    letters = square[:2] if square[1:2].isalpha() else square[:1]
    return place._replace(regions=squares.get(letters, ()))
