"""What a place means, in plain values."""

from __future__ import annotations

from typing import Any

from reedmace.keys.model import Named
from reedmace.places.place import Place


def explained(place: Place, regions: tuple[Named, ...]) -> dict[str, Any]:
    """Say what a place means, in the names of the command contract.

    Easting and northing are of the south-west corner in metres, latitude and longitude of the centre in WGS84
    degrees; `region` lists the regions that the 100 km square overlaps.
    """
    latitude, longitude = place.rounded()
    return {
        "typed": place.typed,
        "system": place.system,
        "square": place.square,
        "side_m": place.side_m,
        "easting": _metres(place.easting),
        "northing": _metres(place.northing),
        "centre_easting": _metres(place.centre_easting),
        "centre_northing": _metres(place.centre_northing),
        "latitude": latitude,
        "longitude": longitude,
        "uncertainty_m": place.uncertainty_m,
        "region": [region.id for region in regions],
    }


def _metres(value: float | None) -> float | int | None:
    """Whole metres as whole numbers, others to the centimetre."""
    if value is None:
        return None
    return int(value) if value == int(value) else round(value, 2)
