"""Headings of numbers that count no insects: what was measured, and what numbers a place, a page or a row.

One of several places, such as `Section 2` or `Zone B`, is no such heading: what stands beneath may be counts there.
"""

from __future__ import annotations

import re

_MEASURED = frozenset(
    (
        *("depth", "altitude", "elevation", "height", "distance", "duration", "length", "width", "salinity"),
        *("conductivity", "ph", "shade", "cover", "slope", "mins", "minutes", "hours", "hrs", "cm", "mm", "km", "ha"),
        *("metres", "miles", "hectares", "percent", "temp", "temperature"),
    )
)
_NUMBERED = frozenset(
    (
        *("phone", "telephone", "tel", "mobile", "postcode", "page", "line", "row", "week", "image", "film", "section"),
        *("transect", "route", "zone", "compartment", "quadrat", "map", "sheet", "sequence", "seq", "index", "ref"),
        "area",
    )
)
_COUNTING = frozenset(("count", "counts", "counted", "number", "numbers", "total", "totals", "seen", "insects"))

_ONE_OF_SEVERAL = re.compile(r"(?:[0-9]|[\W_][a-z])$")  # Section 2, Zone B


def counts_no_insects(heading: str) -> bool:
    """Say whether numbers under a heading are of something else than insects: one word says of what."""
    words = set(re.findall(r"[^\W\d_]+", heading.casefold()))
    if not words.isdisjoint(_COUNTING):
        return False
    alone = not _ONE_OF_SEVERAL.search(heading.casefold())
    return not words.isdisjoint(_MEASURED) or (alone and not words.isdisjoint(_NUMBERED))
