"""The datum that a latitude and a longitude are on: those of old maps lie up to 120 m beside those of a satellite."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.places.datum import GridSystem, from_grid, project
from reedmace.places.place import Place, read_place

# Without a datum, and where nobody knows it, a position is taken to be from a satellite, as most are by now.
_AS_IT_IS = frozenset(
    (
        *("", "wgs84", "wgs1984", "worldgeodeticsystem1984", "epsg4326", "etrs89", "epsg4258", "gps", "epsg4979"),
        *("unknown", "notrecorded", "notknown"),
    )
)
_NATIONAL: dict[str, GridSystem] = {
    **dict.fromkeys(("osgb36", "osgb1936", "osgb", "epsg4277", "ordnancesurveygreatbritain1936"), "GB"),
    **dict.fromkeys(("tm65", "tm75", "ireland1965", "ireland1975", "epsg4299", "epsg4300"), "IE"),
}


def another_datum(datum: str) -> bool:
    """Say whether positions on this datum are not those that records hold."""
    return _plain(datum) not in _AS_IT_IS


def on_wgs84(read: Place | Fault, datum: str) -> Place | Fault:
    """Give a position, read as it is written, where it is on the datum of records."""
    if isinstance(read, Fault) or not another_datum(datum):
        return read
    system = _NATIONAL.get(_plain(datum))
    if system is None:
        why = "Positions on this datum are not read: they would lie beside the place."
        return Fault("datum-not-read", why, "give positions on WGS84 (EPSG:4326), or a grid reference", datum)
    latitude, longitude = from_grid(system, *project(system, *read.rounded()))
    return read_place(f"{latitude:.6f}, {longitude:.6f}")


def _plain(datum: str) -> str:
    return re.sub(r"[\W_]+", "", datum.casefold())
