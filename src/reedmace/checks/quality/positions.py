"""Latitude, longitude and what goes with them."""

from __future__ import annotations

import re

from reedmace.checks.quality.outcome import (
    COMPLIANT,
    HELD,
    Basis,
    Outcome,
    Row,
    Status,
    Validation,
    empty,
    lacking,
    refused,
)

_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]{1,2})?", re.ASCII)
# Half way round the earth along the equator of WGS84, in metres, rounded up.
_FARTHEST_M = 20_037_509
# Geographic reference systems of the EPSG registry that records of these islands and their neighbours carry.
_GEOGRAPHIC = frozenset(
    f"EPSG:{code}"
    for code in (4326, 4258, 4277, 4299, 4300, 4188, 4230, 4231, 4269, 4267, 4289, 4313, 4314, 4171, 4979)
)
# Codes from here on name projected and vertical systems, no geographic ones.
_PROJECTED_FROM = 20_000


def number(text: str | None) -> float | None:
    """The decimal number that a text says, in plain figures (no `nan`, `inf` or `1_0`); None where it says none."""
    if empty(text):
        return None
    assert text is not None
    plain = text.strip()
    return float(plain) if _NUMBER.fullmatch(plain) else None


def latitude_in_range(row: Row, basis: Basis) -> Outcome:
    """Does decimalLatitude lie between -90 and 90?"""
    return _within("decimalLatitude", 90, row)


def longitude_in_range(row: Row, basis: Basis) -> Outcome:
    """Does decimalLongitude lie between -180 and 180?"""
    return _within("decimalLongitude", 180, row)


def _within(term: str, most: int, row: Row) -> Outcome:
    value = number(row.get(term))
    if value is None:
        return lacking(f"{term} is empty or no number")
    return COMPLIANT if -most <= value <= most else refused(f"{term} {value:g} is beyond {most}")


def not_zero(row: Row, basis: Basis) -> Outcome:
    """Are latitude and longitude not both 0, which is what a phone without a fix says?"""
    latitude, longitude = number(row.get("decimalLatitude")), number(row.get("decimalLongitude"))
    if latitude is None or longitude is None:
        return lacking("a coordinate is empty or no number")
    return refused("Latitude and longitude are both 0") if latitude == longitude == 0 else COMPLIANT


def uncertainty_in_range(row: Row, basis: Basis) -> Outcome:
    """Is coordinateUncertaintyInMeters from 1 m to half way round the earth?"""
    value = number(row.get("coordinateUncertaintyInMeters"))
    if value is None:
        return lacking("coordinateUncertaintyInMeters is empty or no number")
    return COMPLIANT if 1 <= value <= _FARTHEST_M else refused(f"An uncertainty of {value:g} m cannot be")


def datum_standard(row: Row, basis: Basis) -> Outcome:
    """Is geodeticDatum a geographic reference system written as EPSG writes it, or "not recorded"?"""
    text = row.get("geodeticDatum", "")
    if empty(text):
        return lacking("geodeticDatum is empty")
    if basis.authority != HELD:
        return Outcome(Status.EXTERNAL, f"no list of {basis.authority} is held here")
    if text in _GEOGRAPHIC or text == "not recorded":
        return COMPLIANT
    code = re.fullmatch(r"EPSG:([0-9]{4,5})", text, re.ASCII)
    if code and int(code[1]) < _PROJECTED_FROM:
        return Outcome(Status.EXTERNAL, f"{text} is not in the short list held here")
    return refused(f'geodeticDatum "{text}" is no geographic system such as EPSG:4326')


VALIDATIONS: dict[str, Validation] = {
    "DECIMALLATITUDE_INRANGE": latitude_in_range,
    "DECIMALLONGITUDE_INRANGE": longitude_in_range,
    "COORDINATES_NOTZERO": not_zero,
    "COORDINATEUNCERTAINTY_INRANGE": uncertainty_in_range,
    "GEODETICDATUM_STANDARD": datum_standard,
}
