"""Boundaries from GeoJSON: what they hold, with shapely as second witness, and what is no boundary."""

from __future__ import annotations

import json
import math

import pytest
import shapely
import shapely.geometry
from hypothesis import assume, given
from hypothesis import strategies as st

from reedmace.places.boundaries import Boundary, holding, near, read_boundaries

OUTER = [[-2.0, 51.0], [-1.0, 51.0], [-1.0, 52.0], [-2.0, 52.0], [-2.0, 51.0]]
HOLE = [[-1.6, 51.4], [-1.4, 51.4], [-1.4, 51.6], [-1.6, 51.6], [-1.6, 51.4]]
ISLAND = [[-1.55, 51.45], [-1.45, 51.45], [-1.45, 51.55], [-1.55, 51.55], [-1.55, 51.45]]


def feature(geometry: object, **properties: object) -> dict[str, object]:
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def read(*features: object) -> tuple[Boundary, ...]:
    found, faults = read_boundaries(json.dumps({"type": "FeatureCollection", "features": features}), "vc.geojson")
    assert faults == []
    return found


@pytest.mark.parametrize(
    ("latitude", "longitude", "inside"),
    [
        (51.2, -1.5, True),
        (51.5, -1.58, False),  # in the hole
        (51.5, -1.5, True),  # on the island in the hole
        (51.0, -1.5, True),  # on the line
        (52.0, -1.0, True),  # on the corner
        (51.4, -1.5, True),  # on the edge of the hole
        (50.9, -1.5, False),
        (51.5, -0.9, False),
    ],
)
def test_holes_and_islands_in_them(latitude: float, longitude: float, inside: bool) -> None:
    (one,) = read(feature({"type": "MultiPolygon", "coordinates": [[OUTER, HOLE], [ISLAND]]}, name="Harrowshire"))
    assert one.holds(latitude, longitude) is inside
    assert (one.name, one.vice_county) == ("Harrowshire", None)


# Whole numbers, so that the witness, which works in floating point too, sees the same lines.
grid = st.integers(-6, 6)
corners = st.lists(st.tuples(grid, grid), min_size=3, max_size=9, unique=True)


@given(corners, st.lists(st.tuples(grid, grid), min_size=1, max_size=12))
def test_shapely_says_the_same_of_any_simple_polygon(
    points: list[tuple[int, int]], asked: list[tuple[int, int]]
) -> None:
    points.sort(key=lambda p: math.atan2(p[1] - 0.1, p[0] - 0.2))  # around a point: simple, if not always convex
    polygon = shapely.geometry.Polygon(points)
    assume(polygon.is_valid and polygon.area > 0)
    (one,) = read(feature({"type": "Polygon", "coordinates": [[*points, points[0]]]}))
    for x, y in [*asked, *points]:
        assert one.holds(y, x) is bool(polygon.covers(shapely.geometry.Point(x, y)))


@given(corners, corners, st.tuples(grid, grid))
def test_shapely_says_the_same_of_a_hole(outer: list, inner: list, at: tuple[int, int]) -> None:
    ring = [(x * 3, y * 3) for x, y in ((-5, -5), (5, -5), (5, 5), (-5, 5), (-5, -5))]
    inner.sort(key=lambda p: math.atan2(p[1] - 0.1, p[0] - 0.2))
    polygon = shapely.geometry.Polygon(ring, [[*inner, inner[0]]])
    assume(polygon.is_valid and shapely.geometry.Polygon(inner).area > 0)
    (one,) = read(feature({"type": "Polygon", "coordinates": [ring, [*inner, inner[0]]]}))
    assert one.holds(at[1], at[0]) is bool(polygon.covers(shapely.geometry.Point(at)))


def test_near_is_measured_on_the_ground() -> None:
    """A degree of longitude is shorter up here than one of latitude."""
    (one,) = read(feature({"type": "Polygon", "coordinates": [OUTER]}))
    assert near(one, 51.5, -0.99, 700)  # 0.01° of longitude are 690 m there
    assert not near(one, 51.5, -0.99, 680)
    assert not near(one, 50.99, -1.5, 1100)
    assert near(one, 50.99, -1.5, 1120)


@pytest.mark.parametrize(
    ("properties", "number"),
    [
        ({"VC": 11}, "11"),
        ({"name": "South Hampshire"}, "11"),
        ({"vice_county": "H21", "name": "Dublin"}, "H21"),
        ({"name": "Sallow Farm"}, None),
        ({"name": None}, None),
    ],
)
def test_a_vice_county_is_known_by_any_property_that_says_one(
    properties: dict[str, object], number: str | None
) -> None:
    (one,) = read(feature({"type": "Polygon", "coordinates": [OUTER]}, **properties))
    assert one.vice_county == number


def test_points_and_lines_bound_nothing() -> None:
    point = feature({"type": "Point", "coordinates": [-1.5, 51.5]})
    square = feature({"type": "Polygon", "coordinates": [OUTER]}, name="Harrowshire")
    assert [one.name for one in holding(read(point, square), 51.5, -1.5)] == ["Harrowshire"]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("{", "boundaries-not-json"),
        ("[" * 100_000, "boundaries-not-json"),
        ('{"type": "Topology"}', "boundaries-not-geojson"),
        ('{"type": "FeatureCollection", "features": []}', "boundaries-empty"),
        ('{"type": "Polygon", "coordinates": [[[0,0],[1,1],[0,1]]]}', "boundaries-shape"),
        ('{"type": "Polygon", "coordinates": "x"}', "boundaries-shape"),
        ('{"type": "Polygon", "coordinates": [[[NaN,0],[1,1],[0,1],[NaN,0]]]}', "boundaries-shape"),
        (
            '{"type": "Polygon", "coordinates": [[[431000,118000],[432000,118000],[432000,119000],[431000,118000]]]}',
            "boundaries-not-degrees",
        ),
    ],
)
def test_what_is_no_boundary_is_a_fault_with_a_remedy(text: str, code: str) -> None:
    found, faults = read_boundaries(text, "vc.geojson")
    assert found == ()
    assert [fault.code for fault in faults] == [code]
    assert faults[0].hint
