"""One sighting as one line of Darwin Core: term to text, empty where not known."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.csvfile import escaped
from reedmace.darwincore.event import event_terms
from reedmace.darwincore.exact import Earlier, exact_fields
from reedmace.darwincore.identification import identification_terms, named_before
from reedmace.darwincore.location import location_terms
from reedmace.darwincore.quantity import quantity_terms
from reedmace.darwincore.wording import listed, sentences
from reedmace.records import Sighting, Visit, with_names
from reedmace.records.verification import Verification

ALWAYS = {"type": "Event", "basisOfRecord": "HumanObservation"}
"""What every line says, beside that something was there."""


class Dataset(NamedTuple):
    """What all lines of one file share: its name, its licence as an IRI, vice-county names by number.

    `present` is the word for what was there: receivers know `present`, the list of 2026 recommends `detected`.
    `habitat_of` gives the title of a key's habitat by its id, for visits of which the word is not known it was said by.
    """

    name: str = ""
    license: str = ""
    vice_county_names: Mapping[str, str] = {}
    present: str = "present"
    habitat_of: Callable[[str], str] = str


class RowNotes(NamedTuple):
    """What one line says that is not in the sighting itself.

    `previous` are earlier names, oldest first; `verification` is the county recorder's word, never ours, and
    `verified` the whole answer;
    `generalised` and `withheld` say what was blurred or left out. `earlier` are the determinations that were followed
    by others, the oldest first, and `reason` why the present one came; `change` (new, changed, withdrawn) and
    `change_note` tell what has become of the record since a submission before.
    """

    previous: tuple[str, ...] = ()
    verification: str = ""
    generalised: str = ""
    withheld: str = ""
    earlier: tuple[Earlier, ...] = ()
    reason: str = ""
    change: str = ""
    change_note: str = ""
    verified: Verification | None = None


def occurrence(
    sighting: Sighting,
    visit: Visit,
    modified: str,
    name_of: Callable[[str], str],
    dataset: Dataset = Dataset(),  # noqa: B008  (immutable)
    notes: RowNotes = RowNotes(),  # noqa: B008
) -> dict[str, str]:
    """Give the line of a sighting: every default column, in order, with its text.

    `modified` is when the sighting or its visit last changed in the ledger (UTC), not the time of exporting,
    so that the same ledger gives the same bytes. `name_of` turns a person's id into a name.
    """
    place = sighting.place or visit.place
    terms = {
        "occurrenceID": sighting.id,
        **ALWAYS,
        "occurrenceStatus": dataset.present,
        **event_terms(sighting, visit, name_of, dataset.habitat_of),
        **identification_terms(sighting, name_of),
        **({"identificationRemarks": _with_verifier(sighting, notes, name_of)} if notes.verified else {}),
        **quantity_terms(sighting),
        **location_terms(place, dataset.vice_county_names),
        "dynamicProperties": _properties(sighting, visit, place.vice_county, dataset, notes, name_of),
        # The typed line may name the very place that was to be blurred.
        "fieldNotes": "" if notes.generalised or notes.withheld else with_names(sighting.typed, name_of),
        "associatedMedia": listed(photo.path for photo in sighting.photos),
        "identificationVerificationStatus": notes.verification,
        "previousIdentifications": listed(notes.previous or named_before(notes.earlier, name_of)),
        "license": dataset.license,
        "datasetName": dataset.name,
        "modified": modified,
        "dataGeneralizations": notes.generalised,
        "informationWithheld": notes.withheld,
    }
    return {column: terms[column] for column in DEFAULT_COLUMNS}


def withdrawn_row(row: Mapping[str, str], on: str, reason: str) -> dict[str, str]:
    """Give the line that tells of a withdrawal: which record, and nothing that could be taken for a sighting.

    `row` is the record's own line, `on` the day it was withdrawn.
    """
    kept = {"occurrenceID", "eventID", "eventDate", "scientificName", "modified", "license", "datasetName"}
    words = ": ".join(filter(None, (f"Withdrawn on {on}", reason.strip()))).rstrip(".")
    return {
        **{column: text if column in kept else "" for column, text in row.items()},
        "occurrenceRemarks": f"{words}. Please delete the record of this occurrenceID.",
        "dynamicProperties": escaped(json.dumps({"change": "withdrawn", "changeNote": reason}, ensure_ascii=False)),
    }


def county_properties(vice_county: str | None, dataset: Dataset) -> dict[str, Any]:
    """Give the vice-county by number and name, where it is known."""
    if vice_county is None:
        return {}
    name = dataset.vice_county_names.get(vice_county)
    return {"viceCounty": vice_county} | ({"viceCountyName": name} if name is not None else {})


def weather_properties(visit: Visit) -> dict[str, Any]:
    """Give the weather of a visit in numbers, as far as they are known."""
    wind: int | str | None = visit.wind_force
    if wind is not None and visit.wind_force_to not in (None, wind):
        wind = f"{wind}-{visit.wind_force_to}"
    told = {"temperatureInCelsius": visit.temperature_c, "sunPercent": visit.sun_percent, "windBeaufort": wind}
    return {name: value for name, value in told.items() if value is not None}


def _with_verifier(sighting: Sighting, notes: RowNotes, name_of: Callable[[str], str]) -> str:
    """Give the grounds of the name, with who verified it and when behind them: there is no term for either."""
    assert notes.verified is not None
    said = notes.verified
    words = ", ".join(part for part in (notes.verification, name_of(said.verifier), said.date) if part)
    grounds = identification_terms(sighting, name_of)["identificationRemarks"]
    return sentences(grounds, f"Verification: {words}" if notes.verification else "", said.remark)


def _verification(said: Verification, name_of: Callable[[str], str]) -> dict[str, str]:
    """Give the county recorder's answer as it was, people by name."""
    whole = said._replace(verifier=name_of(said.verifier))._asdict()
    return {field: value for field, value in whole.items() if value}


def _properties(
    sighting: Sighting,
    visit: Visit,
    vice_county: str | None,
    dataset: Dataset,
    notes: RowNotes,
    name_of: Callable[[str], str],
) -> str:
    """Give what no term has room for, as JSON: vice-county, evidence, pairs, weather, checksums, exact fields."""
    properties: dict[str, Any] = {
        **county_properties(vice_county, dataset),
        "evidence": sighting.evidence,
        "pairs": sighting.pairs,
        **weather_properties(visit),
        # One for each photograph, in the order of associatedMedia; empty where the file was not read.
        "mediaSHA256": [photo.sha256 for photo in sighting.photos]
        if any(photo.sha256 for photo in sighting.photos)
        else None,
        "change": notes.change or None,
        "changeNote": notes.change_note or None,
        "verification": _verification(notes.verified, name_of) if notes.verified else None,
        "exact": None
        if notes.generalised or notes.withheld
        else exact_fields(sighting, visit, name_of, notes.earlier, notes.reason, dataset.habitat_of),
    }
    told = {name: value for name, value in properties.items() if value is not None}
    return escaped(json.dumps(told, ensure_ascii=False)) if told else ""
