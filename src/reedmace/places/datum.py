"""From WGS84 latitude and longitude to the National Grid (GB) and the Irish Grid (IE), and back.

Two steps each way: a seven-parameter (Helmert) shift between WGS84 and the national datum, and a transverse
Mercator projection.  The shift is good to about 5 m in Great Britain and 1 m in Ireland; the projection adds
less than a millimetre.  WGS84 and ETRS89 count as one here: they differ by less than a metre.

Sources:
- Ordnance Survey, "A guide to coordinate systems in Great Britain" (1999, revised 2010 and later): the
  ellipsoids, the projection constants of both grids, the WGS84 to OSGB36 parameters.
- Ordnance Survey Ireland and Ordnance Survey of Northern Ireland, "Making maps compatible with GPS" (1999):
  the Irish Grid to ETRF89 parameters.
- Krüger, "Konforme Abbildung des Erdellipsoids in der Ebene" (1912), and Karney, "Transverse Mercator with an
  accuracy of a few nanometers" (Journal of Geodesy 85, 2011): the series in the third flattening, here to the
  fourth order.  It agrees with the guide's own series near the meridian, and stays exact far from it.
"""

from math import (
    asinh,
    atan2,
    atanh,
    cos,
    cosh,
    degrees,
    hypot,
    radians,
    sin,
    sinh,
    sqrt,
    tanh,
)
from typing import Literal, NamedTuple

GridSystem = Literal["GB", "IE"]
Vector = tuple[float, float, float]


class Ellipsoid(NamedTuple):
    """Semi-axes in metres."""

    major: float
    minor: float

    @property
    def eccentricity_squared(self) -> float:
        """The first eccentricity squared."""
        return 1 - (self.minor / self.major) ** 2


class Helmert(NamedTuple):
    """Seven parameters: metres, parts per million, seconds of arc (turns in the position-vector sense)."""

    x: float
    y: float
    z: float
    scale_ppm: float
    turn_x: float
    turn_y: float
    turn_z: float


class Projection(NamedTuple):
    """A transverse Mercator projection: its true origin in degrees, false origin in metres, and ellipsoid."""

    ellipsoid: Ellipsoid
    latitude: float
    longitude: float
    easting: float
    northing: float
    scale: float


WGS84 = Ellipsoid(6378137.0, 6356752.314245)
AIRY_1830 = Ellipsoid(6377563.396, 6356256.909)
AIRY_MODIFIED = Ellipsoid(6377340.189, 6356034.447)

PROJECTIONS: dict[GridSystem, Projection] = {
    "GB": Projection(AIRY_1830, 49.0, -2.0, 400000.0, -100000.0, 0.9996012717),
    "IE": Projection(AIRY_MODIFIED, 53.5, -8.0, 200000.0, 250000.0, 1.000035),
}

# Each as it was published: the British set leads from WGS84 to the grid's datum, the Irish set the other way.
WGS84_TO_OSGB36 = Helmert(-446.448, 125.157, -542.060, 20.4894, -0.1502, -0.2470, -0.8421)
IRELAND_1975_TO_WGS84 = Helmert(482.5, -130.6, 564.6, 8.15, -1.042, -0.214, -0.631)


def to_grid(system: GridSystem, latitude: float, longitude: float, height: float = 0.0) -> tuple[float, float]:
    """Easting and northing in metres of a WGS84 position in degrees; `height` in m above its ellipsoid."""
    point = _cartesian(WGS84, latitude, longitude, height)
    shifted = _shift(point, WGS84_TO_OSGB36) if system == "GB" else _unshift(point, IRELAND_1975_TO_WGS84)
    return project(system, *_geodetic(PROJECTIONS[system].ellipsoid, shifted))


def from_grid(system: GridSystem, easting: float, northing: float) -> tuple[float, float]:
    """WGS84 latitude and longitude in degrees of a point on the grid, given in metres."""
    point = _cartesian(PROJECTIONS[system].ellipsoid, *unproject(system, easting, northing), 0.0)
    shifted = _unshift(point, WGS84_TO_OSGB36) if system == "GB" else _shift(point, IRELAND_1975_TO_WGS84)
    return _geodetic(WGS84, shifted)


def project(system: GridSystem, latitude: float, longitude: float) -> tuple[float, float]:
    """Easting and northing of a position that is already on the grid's own datum (no shift)."""
    projection = PROJECTIONS[system]
    radius, forward, _ = _series(projection.ellipsoid)
    north, east = _sphere(projection, latitude, longitude)
    xi = north + sum(a * sin(2 * j * north) * cosh(2 * j * east) for j, a in enumerate(forward, 1))
    eta = east + sum(a * cos(2 * j * north) * sinh(2 * j * east) for j, a in enumerate(forward, 1))
    size = projection.scale * radius
    return (
        projection.easting + size * eta,
        projection.northing + size * (xi - _origin(projection, forward)),
    )


def unproject(system: GridSystem, easting: float, northing: float) -> tuple[float, float]:
    """Latitude and longitude, on the grid's own datum, of an easting and northing in metres."""
    projection = PROJECTIONS[system]
    radius, forward, backward = _series(projection.ellipsoid)
    size = projection.scale * radius
    xi = (northing - projection.northing) / size + _origin(projection, forward)
    eta = (easting - projection.easting) / size
    north = xi - sum(b * sin(2 * j * xi) * cosh(2 * j * eta) for j, b in enumerate(backward, 1))
    east = eta - sum(b * cos(2 * j * xi) * sinh(2 * j * eta) for j, b in enumerate(backward, 1))
    isometric = asinh(sin(north) / hypot(sinh(east), cos(north)))
    e = sqrt(projection.ellipsoid.eccentricity_squared)
    sine = tanh(isometric)
    for _ in range(10):  # each round gains more than two decimal places
        sine = tanh(isometric + e * atanh(e * sine))
    latitude = atan2(sine, sqrt(1 - sine * sine))
    return degrees(latitude), projection.longitude + degrees(atan2(sinh(east), cos(north)))


def _sphere(projection: Projection, latitude: float, longitude: float) -> tuple[float, float]:
    """Carry a position to the conformal sphere: transverse latitude, isometric longitude (radians)."""
    phi, lam = radians(latitude), radians(longitude - projection.longitude)
    e = sqrt(projection.ellipsoid.eccentricity_squared)
    conformal = sinh(atanh(sin(phi)) - e * atanh(e * sin(phi)))
    return atan2(conformal, cos(lam)), asinh(sin(lam) / hypot(conformal, cos(lam)))


def _origin(projection: Projection, forward: tuple[float, ...]) -> float:
    """Rectifying latitude of the true origin (radians)."""
    north, _ = _sphere(projection, projection.latitude, projection.longitude)
    return north + sum(a * sin(2 * j * north) for j, a in enumerate(forward, 1))


def _series(ellipsoid: Ellipsoid) -> tuple[float, tuple[float, ...], tuple[float, ...]]:
    """Rectifying radius in metres and Krüger's coefficients, forward and backward, to the fourth order."""
    n = (ellipsoid.major - ellipsoid.minor) / (ellipsoid.major + ellipsoid.minor)
    radius = ellipsoid.major / (1 + n) * (1 + n**2 / 4 + n**4 / 64)
    forward = (
        n / 2 - n**2 * 2 / 3 + n**3 * 5 / 16 + n**4 * 41 / 180,
        n**2 * 13 / 48 - n**3 * 3 / 5 + n**4 * 557 / 1440,
        n**3 * 61 / 240 - n**4 * 103 / 140,
        n**4 * 49561 / 161280,
    )
    backward = (
        n / 2 - n**2 * 2 / 3 + n**3 * 37 / 96 - n**4 / 360,
        n**2 / 48 + n**3 / 15 - n**4 * 437 / 1440,
        n**3 * 17 / 480 - n**4 * 37 / 840,
        n**4 * 4397 / 161280,
    )
    return radius, forward, backward


def _shift(point: Vector, helmert: Helmert) -> Vector:
    """Move a cartesian point by the seven parameters."""
    x, y, z = point
    scale = 1 + helmert.scale_ppm * 1e-6
    turned = _cross(_turns(helmert), point)
    return (
        helmert.x + scale * (x + turned[0]),
        helmert.y + scale * (y + turned[1]),
        helmert.z + scale * (z + turned[2]),
    )


def _unshift(point: Vector, helmert: Helmert) -> Vector:
    """Undo `_shift` exactly.

    Changing the signs of the seven parameters, as is often done, would miss by more than a centimetre.
    """
    scale = 1 + helmert.scale_ppm * 1e-6
    u = (
        (point[0] - helmert.x) / scale,
        (point[1] - helmert.y) / scale,
        (point[2] - helmert.z) / scale,
    )
    w = _turns(helmert)
    turned = _cross(w, u)
    along = w[0] * u[0] + w[1] * u[1] + w[2] * u[2]
    norm = 1 + w[0] ** 2 + w[1] ** 2 + w[2] ** 2
    return (
        (u[0] - turned[0] + w[0] * along) / norm,
        (u[1] - turned[1] + w[1] * along) / norm,
        (u[2] - turned[2] + w[2] * along) / norm,
    )


def _turns(helmert: Helmert) -> Vector:
    return (
        radians(helmert.turn_x / 3600),
        radians(helmert.turn_y / 3600),
        radians(helmert.turn_z / 3600),
    )


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _cartesian(ellipsoid: Ellipsoid, latitude: float, longitude: float, height: float) -> Vector:
    phi, lam = radians(latitude), radians(longitude)
    e2 = ellipsoid.eccentricity_squared
    normal = ellipsoid.major / sqrt(1 - e2 * sin(phi) ** 2)
    across = (normal + height) * cos(phi)
    return across * cos(lam), across * sin(lam), ((1 - e2) * normal + height) * sin(phi)


def _geodetic(ellipsoid: Ellipsoid, point: Vector) -> tuple[float, float]:
    """Latitude and longitude in degrees of a cartesian point; its height is dropped."""
    x, y, z = point
    e2 = ellipsoid.eccentricity_squared
    across = hypot(x, y)
    phi = atan2(z, across * (1 - e2))
    for _ in range(8):  # each round gains more than two decimal places
        normal = ellipsoid.major / sqrt(1 - e2 * sin(phi) ** 2)
        phi = atan2(z + e2 * normal * sin(phi), across)
    return degrees(phi), degrees(atan2(y, x))
