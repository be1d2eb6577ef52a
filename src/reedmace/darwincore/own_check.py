"""Whether the columns of a line of our own still say what stands exactly beside them.

Somebody may correct a cell in a spreadsheet. Where the exact fields would hide that, the line is read by its columns.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.event import time_said, visit_prose
from reedmace.darwincore.location import location_terms
from reedmace.darwincore.reading import properties_of
from reedmace.faults import Fault
from reedmace.places.place import read_place
from reedmace.records import PlaceRecord, Sighting, Visit

_NEAR = 2e-5  # degrees, two metres: more than versions of the program differ in
_PLACE = ("locality", "verbatimCoordinates", "verbatimSRS", "georeferenceRemarks")
_POSITION = ("decimalLatitude", "decimalLongitude")
_COUNTY = re.compile(r"Vice-county (H?[0-9]{1,3})(?![0-9])", re.ASCII)


def as_written(row: Mapping[str, str], sighting: Sighting, visit: Visit) -> bool:
    """Say whether place, time and the visit's remarks stand in the columns as this record would be written."""
    place = sighting.place or visit.place
    written = _written(place)
    same = all(row.get(term, "") == written[term] for term in _PLACE)
    same = same and all(_near(row.get(term, ""), written[term]) for term in _POSITION)
    if not same or _other_county(row) or row.get("eventTime", "") != time_said(sighting, visit):
        return False
    prose = row.get("eventRemarks", "")
    return (not prose and not visit.weather and not visit.remarks) or prose == one_line(visit_prose(visit))


def place_contradicted(row: Mapping[str, str]) -> str:
    """Give the column of a line that says another place than the other columns do; "" where none does."""
    if _other_county(row):
        return "higherGeography"
    reference = row.get("verbatimCoordinates", "")
    read = _read(reference) if reference else None
    if read is None:
        return ""
    for term, degrees in zip(_POSITION, read, strict=True):
        if (cell := row.get(term, "")) and not _near(cell, f"{degrees:.6f}"):
            return term
    return ""


def _other_county(row: Mapping[str, str]) -> bool:
    found = _COUNTY.search(row.get("higherGeography", ""))
    return found is not None and found[1] != properties_of(row).get("viceCounty", found[1])


@lru_cache(maxsize=4096)  # a file names the same places again and again
def _written(place: PlaceRecord) -> dict[str, str]:
    return {term: one_line(text) for term, text in location_terms(place, {}).items()}


@lru_cache(maxsize=4096)
def _read(reference: str) -> tuple[float, float] | None:
    read = read_place(reference)
    return None if isinstance(read, Fault) else read.rounded()


def _near(cell: str, other: str) -> bool:
    """Say whether two positions are one; a spreadsheet leaves noughts off."""
    if cell == other:
        return True
    try:
        return abs(float(cell) - float(other)) < _NEAR
    except ValueError:
        return False
