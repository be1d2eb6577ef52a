"""Reading a line of Darwin Core back: terms → the fields that a record is made from, and our own wording undone.

Another program's file gives what its terms say. Our own says more, in words that we know: pairs, evidence and
weather stand in remarks and properties because no term has room for them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

# The field that a term fills, for every term that a record here has room for.
FIELD_OF_TERM: dict[str, str] = {
    "occurrenceID": "id",
    "eventID": "visit_id",
    "occurrenceStatus": "status",
    "eventDate": "date",
    "year": "year",
    "month": "month",
    "day": "day",
    "verbatimEventDate": "date_typed",
    "eventTime": "time",
    "recordedBy": "observer",
    "scientificName": "scientific_name",
    "scientificNameAuthorship": "authorship",
    "taxonRank": "rank",
    "specificEpithet": "specific_epithet",
    "vernacularName": "vernacular",
    "kingdom": "kingdom",
    "phylum": "phylum",
    "class": "class_name",
    "order": "order",
    "family": "family",
    "genus": "genus",
    "verbatimIdentification": "name_typed",
    "identificationQualifier": "qualifier",
    "identifiedBy": "determiner",
    "dateIdentified": "determined_on",
    "sex": "sex",
    "lifeStage": "stage",
    "behavior": "behaviour",
    "individualCount": "count",
    "organismQuantity": "quantity",
    "organismQuantityType": "quantity_type",
    "verbatimCoordinates": "place",
    "verbatimSRS": "place_system",
    "decimalLatitude": "latitude",
    "decimalLongitude": "longitude",
    "geodeticDatum": "datum",
    "coordinateUncertaintyInMeters": "uncertainty",
    "locality": "locality",
    "verbatimLocality": "locality_typed",
    "georeferenceRemarks": "place_kind",
    "habitat": "habitat",
    "samplingProtocol": "method",
    "eventRemarks": "visit_remarks",
    "occurrenceRemarks": "remarks",
    "associatedMedia": "photos",
    "dynamicProperties": "properties",
    "modified": "modified",
    "higherGeography": "geography",
    "informationWithheld": "withheld",
    "fieldNotes": "typed",
}
_TELLING = frozenset({"occurrenceID", "scientificName", "eventDate", "basisOfRecord", "decimalLatitude", "recordedBy"})
_PAIRS = r"(?:At least |About )?[0-9]+ pairs? (?:copulating|in tandem), a male and a female each(?:\. |$)"
_IN_PAIRS = r"Counted with ([1-9][0-9]{0,5}) more that were paired and have a line of their own(?:\. |$)"
_DAYS = ("eventDate", "dateIdentified")
_TURNED = re.compile(r"([0-9]{1,2})[./-]([0-9]{1,2})[./-]([0-9]{4})", re.ASCII)
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::00)?", re.ASCII)
_NOTED = {
    "All damselfly species seen were noted": "all_damselflies",
    "All dragonfly species seen were noted": "all_dragonflies",
}
KINDS = {"individuals (estimated)": "estimate", "individuals (at least)": "at least"}
BANDS = "individuals (counted in bands)"


def looks_like_darwin_core(columns: Sequence[str]) -> bool:
    """Say whether headings are terms of the standard: two that no other sheet would have."""
    return len(_TELLING.intersection(columns)) >= 2


def turned_back(row: Mapping[str, str]) -> dict[str, str] | None:
    """Give a line (term to text) whose days and times a spreadsheet wrote in its own way, in the standard's form.

    Which number is the day and which the month is told by the columns for these. None where there is nothing to turn
    back, or nothing tells how.
    """
    mended = dict(row)
    if found := _TURNED.fullmatch(row.get("eventDate", "")):
        told = [row.get(term, "").strip().lstrip("0") for term in ("day", "month", "year")]
        one, other, year = (part.lstrip("0") for part in found.groups())
        if not all(told) or told not in ([one, other, year], [other, one, year]):
            return None
        day_first = told == [one, other, year]
        for term in _DAYS:
            if turned := _TURNED.fullmatch(row.get(term, "")):
                day, month = (turned[1], turned[2]) if day_first else (turned[2], turned[1])
                mended[term] = f"{turned[3]}-{month.zfill(2)}-{day.zfill(2)}"
    if clock := _CLOCK.fullmatch(row.get("eventTime", "")):
        mended["eventTime"] = f"{clock[1].zfill(2)}:{clock[2]}"
    return mended if mended != row else None


def properties_of(row: Mapping[str, str]) -> dict[str, Any]:
    """Give the properties of a line (term to text) that no column has room for."""
    return _object(row.get("dynamicProperties", "").strip())


def _object(text: str) -> dict[str, Any]:
    if not text.startswith("{"):
        return {}
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def undo_wording(fields: dict[str, str]) -> None:
    """Take what our own words say out of remarks and properties, into fields of its own; in place.

    A quantity that is not plainly a number of individuals stays, with what kind it is of.
    """
    _properties(fields, _object(fields.pop("properties", "")))
    remarks = fields.get("remarks", "")
    if "a male and a female each" in remarks and "pairs_told" in fields:
        fields["remarks"] = re.sub(_PAIRS, "", remarks, count=1)
    if "Counted with" in remarks and (found := re.match(_IN_PAIRS, fields["remarks"], re.ASCII)):
        fields["in_pairs_told"] = found[1]
        fields["remarks"] = fields["remarks"][found.end() :]
    visit = fields.get("visit_remarks", "")
    if visit:
        _visit_remarks(fields, visit)
    kind = fields.pop("quantity_type", "")
    quantity = fields.pop("quantity", "")
    if quantity and kind in KINDS:
        fields["count"] = quantity
        fields["count_kind"] = KINDS[kind]
    elif quantity and kind == BANDS:
        fields["count"] = quantity
        fields["count_kind"] = "band"
    elif quantity and kind.strip().casefold() in ("individual", "individuals") and not fields.get("count", "").strip():
        fields["count"] = quantity
    elif quantity and quantity != fields.get("count"):
        fields["quantity"] = f"{quantity} {kind}".strip()


def _properties(fields: dict[str, str], properties: dict[str, Any]) -> None:
    for name, field in (("viceCounty", "vice_county"), ("evidence", "evidence"), ("pairs", "pairs_told")):
        if isinstance(properties.get(name), str | int):
            fields[field] = str(properties[name])
    digests = properties.get("mediaSHA256")
    if isinstance(digests, list) and all(isinstance(one, str) for one in digests):
        fields["photo_digests"] = " | ".join(digests)


def read_visit_remarks(text: str) -> dict[str, str | bool]:
    """Read the weather, what was noted in full and the remarks of a visit out of one cell."""
    found: dict[str, str | bool] = {"weather": "", "all_damselflies": False, "all_dragonflies": False}
    left = text
    if left.startswith("Weather: "):
        weather, _, left = left.removeprefix("Weather: ").partition(". ")
        found["weather"] = weather.removesuffix(".") if not left else weather
    for words, field in _NOTED.items():
        if left == words or left.startswith(f"{words}. "):
            found[field] = True
            left = left.removeprefix(words).removeprefix(". ")
    found["remarks"] = left
    return found


def _visit_remarks(fields: dict[str, str], text: str) -> None:
    read = read_visit_remarks(text)
    fields["visit_remarks"] = str(read.pop("remarks"))
    fields.update({field: "yes" if value is True else value for field, value in read.items() if value})
