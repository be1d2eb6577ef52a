"""Where: a plain copy of what the places room understood, beside what was typed."""

from typing import Literal, NamedTuple

System = Literal["GB", "IE", "WGS84"]
PlaceKind = Literal["exact", "map estimate", "centroid"]


class PlaceRecord(NamedTuple):
    """A place as it was recorded.

    `typed` is the reference as typed (a grid reference or a position; empty where only a name was given).
    `system` says how it was read: the British grid, the Irish grid, or latitude and longitude.
    `square` is the grid square in its compact form, with `side_m` its side in metres: the precision claimed.
    `latitude` and `longitude` are degrees on WGS84, of the centre; `uncertainty_m` is in whole metres.
    `vice_county` is the number as text, "17" or "H33". `locality` is the name as typed;
    `site` is the registered site's id.
    """

    typed: str = ""
    system: System | None = None
    square: str | None = None
    side_m: int | None = None
    latitude: float | None = None
    longitude: float | None = None
    uncertainty_m: int | None = None
    kind: PlaceKind | None = None
    vice_county: str | None = None
    regions: tuple[str, ...] = ()
    locality: str = ""
    site: str | None = None
