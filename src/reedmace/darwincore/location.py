"""The place's share of a line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from reedmace.darwincore.wording import listed
from reedmace.faults import Fault
from reedmace.places.place import Place, read_place
from reedmace.records import PlaceRecord, unless_blank

# The British and Irish grids as the EPSG registry numbers them; and what they are called.
_GRIDS = {"GB": ("EPSG:27700", "British National Grid"), "IE": ("EPSG:29903", "Irish Grid")}
_WGS84 = "EPSG:4326"
_UNITED_KINGDOM = ("United Kingdom", "GB")
_IRELAND = ("Ireland", "IE")
_ISLE_OF_MAN = ("Isle of Man", "IM")
# Vice-counties of Northern Ireland: Fermanagh, Tyrone, Armagh, Down, Antrim, Londonderry (Praeger 1901).
_NORTHERN_IRELAND = frozenset({"H33", "H36", "H37", "H38", "H39", "H40"})
# 100 km squares of the British grid that hold land of the Isle of Man, or of Ireland and no British land.
_NOT_SURELY_BRITISH = frozenset({"NX", "SC", "NQ", "NV", "SA", "SB", "SF", "SG", "SL"})
_DECIMAL = re.compile(r"[-+]?[0-9]+(?:\.[0-9]+)?", re.ASCII)
_KINDS = {
    "exact": "the place of the sighting itself",
    "map estimate": "estimated on a map",
    "centroid": "the centre of the site, not the place of the sighting itself",
}

_KIND_OF_WORDS = {words: kind for kind, words in _KINDS.items()}


def location_terms(place: PlaceRecord, vice_county_names: Mapping[str, str]) -> dict[str, str]:
    """Give the terms that tell where; `vice_county_names` gives the name for a vice-county's number."""
    country, code = _country(place)
    known = place.latitude is not None and place.longitude is not None
    srs, system = _grid(place)
    locality = unless_blank(place.locality)
    return {
        "verbatimLocality": locality or ("" if place.system else place.typed),
        "verbatimCoordinates": _coordinates(place),
        "verbatimCoordinateSystem": system,
        "verbatimSRS": srs,
        "decimalLatitude": _degrees(place.latitude) if known else "",
        "decimalLongitude": _degrees(place.longitude) if known else "",
        "geodeticDatum": _WGS84 if known else "",
        "coordinateUncertaintyInMeters": str(place.uncertainty_m) if known and place.uncertainty_m else "",
        "georeferenceRemarks": _KINDS.get(place.kind or "", "") if known else "",
        "locality": locality,
        "country": country,
        "countryCode": code,
        "higherGeography": _higher(place, country, vice_county_names),
    }


def _coordinates(place: PlaceRecord) -> str:
    """Give the reference as typed; of a square that came with a site's name, its reference."""
    if place.system is None:
        return ""
    return place.typed or (place.square or "" if place.system in _GRIDS else "")


def _degrees(value: float | None) -> str:
    text = f"{value:.6f}"
    return text.removeprefix("-") if not text.strip("-0.") else text  # there is no minus nought


def _grid(place: PlaceRecord) -> tuple[str, str]:
    """Give the reference system of the typed place, and how its coordinates are written, where sure."""
    if place.system is None:
        return "", ""
    if place.system in _GRIDS:
        return _GRIDS[place.system]
    minutes = any(sign in place.typed for sign in "'′\"″")
    return _WGS84, "decimal degrees" if not minutes and len(_DECIMAL.findall(place.typed)) == 2 else ""


def _country(place: PlaceRecord) -> tuple[str, str]:
    """Give country and code by vice-county; without one, by a British square; the rest is not guessed.

    An Irish grid reference may lie in Northern Ireland. Vice-county 113, the Channel Islands, is two.
    """
    number = place.vice_county
    if number is None:
        british = place.system == "GB" and place.square and place.square[:2] not in _NOT_SURELY_BRITISH
        return _UNITED_KINGDOM if british else ("", "")
    if number == "71":
        return _ISLE_OF_MAN
    if number == "113":
        return "", ""
    return _IRELAND if number.startswith("H") and number not in _NORTHERN_IRELAND else _UNITED_KINGDOM


def _higher(place: PlaceRecord, country: str, names: Mapping[str, str]) -> str:
    number = place.vice_county
    if number is None:
        return ""
    name = names.get(number)
    return listed([country, f"Vice-county {number} {name}" if name else f"Vice-county {number}"])


def read_location(cells: Mapping[str, str], vice_county: str | None) -> PlaceRecord | None:
    """Read the columns of a place as we write them; None where they say something else than their coordinates do."""
    typed, srs = cells.get("verbatimCoordinates", ""), cells.get("verbatimSRS", "")
    locality, written = cells.get("locality", ""), cells.get("verbatimLocality", "")
    kind = _KIND_OF_WORDS.get(cells.get("georeferenceRemarks", ""))
    if not typed:
        if any(cells.get(term) for term in ("decimalLatitude", "decimalLongitude", "verbatimSRS")):
            return None
        return PlaceRecord(typed="" if locality else written, locality=locality, vice_county=vice_county)
    read = _read(typed)
    if read is None or _GRIDS.get(read.system, (_WGS84, ""))[0] != srs or (written and written != locality):
        return None
    latitude, longitude = read.rounded()
    metres = round(read.uncertainty_m) if read.uncertainty_m is not None else None
    said = cells.get("coordinateUncertaintyInMeters", "")
    if read.side_m is None and said.isascii() and said.isdigit():
        metres = int(said)
    return PlaceRecord(
        *(typed, read.system, read.square, read.side_m, latitude, longitude, metres),
        kind=kind,  # type: ignore[arg-type]  # one of its words, by the table above
        vice_county=vice_county,
        locality=locality,
    )


@lru_cache(maxsize=4096)  # a file names the same places again and again
def _read(typed: str) -> Place | None:
    read = read_place(typed)
    return None if isinstance(read, Fault) else read
