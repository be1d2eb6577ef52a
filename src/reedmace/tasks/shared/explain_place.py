"""What a place means, in plain values: a reference, a position, a vice-county or a registered site."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from reedmace.checks.query import Grounds, Query, record_of
from reedmace.checks.whereabouts import outside_county, square_without_land
from reedmace.faults import Fault, Refused
from reedmace.keys.model import Named
from reedmace.places.boundaries import Boundary, holding, near
from reedmace.places.grid import tidy
from reedmace.places.place import Place, coarsen, read_place
from reedmace.places.vice_counties import ViceCounty, find_vice_county
from reedmace.records import PlaceRecord, Sighting, Site, Taxon, Visit
from reedmace.tasks.shared.setting import regions_of

WIDER = {"ten_km": 10_000, "five_km": 5000, "tetrad": 2000, "one_km": 1000}


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


def explain(grounds: Grounds, typed: str, sites: Iterable[Site] = ()) -> dict[str, Any] | Fault:
    """Say what was typed means, whatever it is; a fault where it means no place.

    Besides the contract's values, where there is something to say: `wider`, the larger squares that hold it;
    `inside`, the boundaries that do (`perhaps_inside`, those its square reaches); `vice_county`, by the boundaries, by
    the site, or because that is what was typed; `also`, another meaning of the same words; `queries`.
    """
    place = read_place(typed)
    if not isinstance(place, Fault):
        return _of_place(grounds, place)
    county = find_vice_county(typed)
    if isinstance(county, ViceCounty):
        return {"typed": typed, "vice_county": county.number, "vice_county_name": county.name}
    site = next((one for one in sites if _folded(typed) in map(_folded, (one.name, *one.also))), None)
    if site is None:
        return place
    there = read_place(site.place.typed or site.place.square or "")
    told: dict[str, Any] = (
        {"typed": typed} if isinstance(there, Fault) else _of_place(grounds, there) | {"typed": typed}
    )
    said = {"site": site.name, "vice_county": site.place.vice_county, "habitat": site.habitat, "may_see": site.may_see}
    return told | {name: value for name, value in said.items() if value}


def _folded(name: str) -> str:
    return tidy(name).casefold()


def _of_place(grounds: Grounds, place: Place) -> dict[str, Any]:
    told = explained(place, regions_of(grounds.key, place))
    wider = {name: square for name, side in WIDER.items() if (square := _wider(place, side))}
    inside = holding(grounds.boundaries, place.latitude, place.longitude)
    reached = [one for one in grounds.boundaries if one not in inside and _reaches(one, place)]
    numbers = list(dict.fromkeys(one.vice_county for one in inside if one.vice_county))
    other = find_vice_county(place.typed)
    also = f"vice-county {other.number} {other.name}" if isinstance(other, ViceCounty) else ""
    more = {
        "wider": wider,
        "inside": [one.name for one in inside],
        "perhaps_inside": [one.name for one in reached],
        "vice_county": numbers[0] if len(numbers) == 1 else None,
        "also": also,
        "queries": [query._asdict() for query in _queries(grounds, place)],
    }
    return told | {name: value for name, value in more.items() if value}


def _wider(place: Place, side_m: int) -> str | None:
    """The square of that side that holds the place, where it is larger than the place's own and one does."""
    if place.side_m and side_m <= place.side_m:
        return None
    try:
        return coarsen(place, side_m).reference
    except Refused:
        return None


def _reaches(boundary: Boundary, place: Place) -> bool:
    return near(boundary, place.latitude, place.longitude, place.uncertainty_m or 0)


def _queries(grounds: Grounds, place: Place) -> list[Query]:
    """What checks would ask of any record from here."""
    there = PlaceRecord(place.typed, place.system, place.square or place.hundred_km, place.side_m)
    record = record_of(grounds, Sighting("", "", "", Taxon("")), Visit("", place=there))
    return [query for rule in (square_without_land, outside_county) for query in rule(grounds, record)]


def _metres(value: float | None) -> float | int | None:
    """Whole metres as whole numbers, others to the centimetre."""
    if value is None:
        return None
    return int(value) if value == int(value) else round(value, 2)
