"""Boundaries that the user supplies as GeoJSON (RFC 7946): what they hold, and what comes near.

Longitude before latitude, WGS84, as the standard has it. Only Polygon and MultiPolygon bound anything; other
shapes are left out. Nothing is held here: which boundaries are right is the user's own business.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from itertools import pairwise
from math import cos, hypot, radians
from typing import Any, NamedTuple

from reedmace.faults import Fault, Where
from reedmace.places.vice_counties import ViceCounty, find_vice_county

Ring = tuple[tuple[float, float], ...]
"""Corners as (longitude, latitude), the last the same as the first."""

_DEGREE_M = 111_200  # metres in a degree of latitude, near enough for "does it come near"
_NAMES = ("vice_county", "vc", "number", "vcnumber", "code", "name", "title", "label")


class Boundary(NamedTuple):
    """One feature: its name, its vice-county's number where its properties say one, and its polygons.

    A polygon is its outer ring and then its holes; `box` is west, south, east, north.
    """

    name: str
    vice_county: str | None
    polygons: tuple[tuple[Ring, ...], ...]
    box: tuple[float, float, float, float]

    def holds(self, latitude: float, longitude: float) -> bool:
        """Whether a point lies inside or on the line; a point on the edge of a hole lies on the line too."""
        west, south, east, north = self.box
        if not (west <= longitude <= east and south <= latitude <= north):
            return False
        return any(_in_polygon(polygon, longitude, latitude) for polygon in self.polygons)


def holding(boundaries: Iterable[Boundary], latitude: float, longitude: float) -> list[Boundary]:
    """Every boundary that holds a point."""
    return [one for one in boundaries if one.holds(latitude, longitude)]


def near(boundary: Boundary, latitude: float, longitude: float, metres: float) -> bool:
    """Whether a boundary holds a point or comes within so many metres of it."""
    if boundary.holds(latitude, longitude):
        return True
    if metres <= 0:
        return False
    wide = cos(radians(latitude))
    reach = metres / _DEGREE_M
    west, south, east, north = boundary.box
    if not (south - reach <= latitude <= north + reach and west - reach / wide <= longitude <= east + reach / wide):
        return False
    return any(
        _to_edge((one[0] - longitude) * wide, one[1] - latitude, (two[0] - longitude) * wide, two[1] - latitude)
        <= reach
        for polygon in boundary.polygons
        for ring in polygon
        for one, two in pairwise(ring)
    )


def read_boundaries(text: str, file: str) -> tuple[tuple[Boundary, ...], list[Fault]]:
    """Read GeoJSON: every polygon with a name, and what is wrong. `file` is the name shown in faults."""
    try:
        whole = json.loads(text)
    except (ValueError, RecursionError) as error:
        line = getattr(error, "lineno", None)
        where = Where(file, line, getattr(error, "colno", None), text.splitlines()[line - 1] if line else None)
        return (), [_fault("boundaries-not-json", "This is not JSON.", "export it as GeoJSON once more", None, where)]
    features = _features(whole)
    if features is None:
        message = "This is no GeoJSON: it needs a FeatureCollection, a Feature, a Polygon or a MultiPolygon."
        return (), [_fault("boundaries-not-geojson", message, "export it as GeoJSON (RFC 7946)", None, Where(file))]
    found, faults = [], []
    for number, feature in enumerate(features, 1):
        made = _boundary(feature, number, file)
        if isinstance(made, Fault):
            faults.append(made)
        elif made:
            found.append(made)
    if not found and not faults:
        message = "No polygon is in this file."
        faults.append(_fault("boundaries-empty", message, "export areas, not points or lines", None, Where(file)))
    return tuple(found), faults


def _features(whole: Any) -> list[Any] | None:
    kind = whole.get("type") if isinstance(whole, dict) else None
    if kind == "FeatureCollection" and isinstance(whole.get("features"), list):
        return list(whole["features"])
    if kind == "Feature":
        return [whole]
    return [{"geometry": whole}] if kind in ("Polygon", "MultiPolygon") else None


def _boundary(feature: Any, number: int, file: str) -> Boundary | Fault | None:
    geometry = feature.get("geometry") if isinstance(feature, dict) else None
    if not isinstance(geometry, dict) or geometry.get("type") not in ("Polygon", "MultiPolygon"):
        return None
    name, vice_county = _named(feature.get("properties"), number)
    shapes: Any = geometry.get("coordinates")
    several: Any = [shapes] if geometry["type"] == "Polygon" else shapes
    try:
        polygons = tuple(_polygon(rings) for rings in several)
        corners = [corner for polygon in polygons for corner in polygon[0]]
        west, east = min(x for x, _ in corners), max(x for x, _ in corners)
        south, north = min(y for _, y in corners), max(y for _, y in corners)
    except (TypeError, ValueError, IndexError) as slip:
        hint = "each ring is a list of [longitude, latitude], at least four, the last the same as the first"
        return _fault(
            "boundaries-shape", f"The shape of feature {number} cannot be read: {slip}.", hint, name, Where(file)
        )
    if not (-180 <= west <= east <= 180 and -90 <= south <= north <= 90):
        message = f"Feature {number} is not in degrees: {west:g}, {south:g}."
        hint = "export it in longitude and latitude (WGS84, EPSG:4326), not in metres of a grid"
        return _fault("boundaries-not-degrees", message, hint, name, Where(file))
    return Boundary(name, vice_county, polygons, (west, south, east, north))


def _polygon(rings: Any) -> tuple[Ring, ...]:
    made = []
    for ring in rings:
        corners = tuple((float(corner[0]), float(corner[1])) for corner in ring)
        if any(x != x or y != y for x, y in corners):
            raise ValueError("a corner is no number")
        if len(corners) < 4 or corners[0] != corners[-1]:
            raise ValueError("a ring is not closed")
        made.append(corners)
    if not made:
        raise ValueError("a polygon has no ring")
    return tuple(made)


def _named(properties: Any, number: int) -> tuple[str, str | None]:
    """A feature's name, and the vice-county that one of its properties is the number or the name of."""
    given = {str(name).casefold(): value for name, value in properties.items()} if isinstance(properties, dict) else {}
    texts = [str(given[name]) for name in _NAMES if isinstance(given.get(name), str | int)]
    county = next((found for text in texts if isinstance(found := find_vice_county(text), ViceCounty)), None)
    plain = [str(given[name]) for name in ("name", "title", "label") if isinstance(given.get(name), str)]
    name = plain[0] if plain else str(county) if county else f"feature {number}"
    return name, county.number if county else None


def _in_polygon(polygon: tuple[Ring, ...], x: float, y: float) -> bool:
    """By counting crossings: inside the outer ring and in no hole. A point on a line is inside."""
    inside = False
    for ring in polygon:
        for (x1, y1), (x2, y2) in pairwise(ring):
            if (y1 > y) != (y2 > y):
                across = (x2 - x1) * (y - y1) - (x - x1) * (y2 - y1)
                if across == 0:
                    return True
                inside ^= (across > 0) == (y2 > y1)
            elif (y1 == y == y2 and min(x1, x2) <= x <= max(x1, x2)) or (x1 == x and y1 == y) or (x2 == x and y2 == y):
                return True
    return inside


def _to_edge(x1: float, y1: float, x2: float, y2: float) -> float:
    """How far the origin is from a line between two points, in their unit."""
    dx, dy = x2 - x1, y2 - y1
    length = dx * dx + dy * dy
    along = max(0.0, min(1.0, -(x1 * dx + y1 * dy) / length)) if length else 0.0
    return hypot(x1 + along * dx, y1 + along * dy)


def _fault(code: str, message: str, hint: str, said: str | None, where: Where) -> Fault:
    return Fault(code, message, hint, said, where)
