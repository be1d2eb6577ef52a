"""Headings of numbers that count no insects: what was measured, and what numbers a place, a page or a row."""

from __future__ import annotations

import re

_MEASURED = frozenset(
    (
        *("depth", "altitude", "elevation", "height", "distance", "area", "duration", "length", "width", "salinity"),
        *("conductivity", "ph", "shade", "cover", "slope", "mins", "minutes", "hours", "hrs", "cm", "mm", "km", "ha"),
        *("metres", "miles", "hectares", "percent", "temp", "temperature"),
    )
)
_NUMBERED = frozenset(
    (
        *("phone", "telephone", "tel", "mobile", "postcode", "page", "line", "row", "week", "image", "film", "section"),
        *("transect", "route", "zone", "compartment", "quadrat", "map", "sheet", "sequence", "seq", "index", "ref"),
    )
)
_COUNTING = frozenset(("count", "counts", "counted", "number", "numbers", "total", "totals", "seen", "insects"))


def counts_no_insects(heading: str) -> bool:
    """Say whether numbers under a heading are of something else than insects: one word says of what."""
    words = set(re.findall(r"[^\W\d_]+", heading.casefold()))
    return not words.isdisjoint(_MEASURED | _NUMBERED) and words.isdisjoint(_COUNTING)
