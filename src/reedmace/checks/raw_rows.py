"""What the published validations say of a raw row, as queries like any other."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.catalogue import FILE, Entry
from reedmace.checks.quality import VALIDATIONS, Basis, Row, Status
from reedmace.checks.quality.positions import number
from reedmace.checks.quality.presence import TERM_OF
from reedmace.checks.query import Query
from reedmace.places.position import around_british_isles

# What rules over records ask too, in better words.
_TOLD_BY_RULES = frozenset(
    {"EVENTTEMPORAL_NOTEMPTY", "LOCATION_NOTEMPTY", "TAXON_NOTEMPTY", "EVENTDATE_STANDARD", "EVENTDATE_NOTEMPTY"}
)
_ERRORS = frozenset({"COORDINATES_NOTZERO", "DECIMALLATITUDE_INRANGE", "DECIMALLONGITUDE_INRANGE"})
# Without these a row cannot be told from another, or says too little of what it is.
_NEEDED = frozenset({"OCCURRENCEID_NOTEMPTY", "BASISOFRECORD_NOTEMPTY", "SCIENTIFICNAME_NOTEMPTY"})
_REMEDIES = {
    "NOTEMPTY": "fill it in where it is known",
    "STANDARD": "write it as the standard has it",
    "INRANGE": "check the figures against the notebook",
    "CONSISTENT": "correct whichever of them is wrong",
    "COMPLETE": "write the whole identifier, with the register it comes from",
    "NOTZERO": "leave both empty where the position is not known",
}
_ASKED = tuple((label, ask) for label, ask in VALIDATIONS.items() if label not in _TOLD_BY_RULES)


def code_of(label: str) -> str:
    """The code of a validation: `DAY_INRANGE` → `day-inrange`."""
    return label.lower().replace("_", "-")


def severity_of(label: str) -> str:
    """How loud it is told."""
    if label in _ERRORS:
        return "error"
    return "note" if label.endswith("_NOTEMPTY") and label not in _NEEDED else "doubt"


def row_queries(row: Row, basis: Basis, name: str, lacking: frozenset[str] = frozenset()) -> Iterator[Query]:
    """Every validation that a row does not meet. `lacking` are labels told for the whole file already."""
    for label, ask in _ASKED:
        if label in lacking:
            continue
        found = ask(row, basis)
        if found.status is Status.NOT_COMPLIANT:
            yield Query(code_of(label), severity_of(label), name, f"{found.why}.", _REMEDIES[label.rpartition("_")[2]])
    yield from _slips(row, name)


def _slips(row: Row, name: str) -> Iterator[Query]:
    """Latitude and longitude that come right when they are swapped, or when a lost minus is put back."""
    latitude, longitude = number(row.get("decimalLatitude")), number(row.get("decimalLongitude"))
    if latitude is None or longitude is None or around_british_isles(latitude, longitude):
        return
    for code, right, slip in (
        ("position-swapped", (longitude, latitude), "if latitude and longitude were swapped"),
        ("position-sign", (latitude, -longitude), "if the minus of a western longitude was lost"),
    ):
        if abs(right[0]) <= 90 and around_british_isles(*right):
            reason = f"{latitude:g}, {longitude:g} lies outside the British Isles."
            yield Query(code, "doubt", name, reason, f"{slip}, write {right[0]:g}, {right[1]:g}")
            return


def absent_columns(header: frozenset[str]) -> frozenset[str]:
    """The labels of validations that ask for a column which the whole file does not have."""
    told = {label for label, term in TERM_OF.items() if term not in header}
    return frozenset(told - _TOLD_BY_RULES)


def _entries() -> Iterator[tuple[str, Entry]]:
    for label, ask in VALIDATIONS.items():
        asks = _QUESTIONS.get(label) or (ask.__doc__ or "").strip().partition("\n")[0]
        told = " Asked by our own rules too, which tell it." if label in _TOLD_BY_RULES else ""
        why = f"VALIDATION_{label} of the Biodiversity Data Quality standard (TDWG, draft of 2026-07-29).{told}"
        remedy = _REMEDIES[label.rpartition("_")[2]]
        yield code_of(label), Entry(FILE, severity_of(label), asks, why, f"{remedy[0].upper()}{remedy[1:]}.")
    slip = "Which way round is the usual slip; where the other way lies in the British Isles it is suggested."
    yield "position-swapped", Entry(FILE, "doubt", "Latitude and longitude look swapped.", slip, "Swap them, if so.")
    lost = "West of Greenwich longitude is negative; where it comes right with a minus, that is suggested."
    yield "position-sign", Entry(FILE, "doubt", "The minus of a longitude looks lost.", lost, "Put it back, if so.")
    shape = "Cells have moved: a comma, a quote or a line break stands where it should not."
    yield (
        "row-misshapen",
        Entry(FILE, "error", "The row has more or fewer cells than the heading.", shape, "Save it again."),
    )
    again = "Two rows of one identifier are one record to whoever loads them."
    yield "id-twice", Entry(FILE, "error", "An occurrenceID stands in the file twice.", again, "Give each its own.")
    columns = "What a column would say is missing from every row, so it is told once."
    yield "columns-missing", Entry(FILE, "note", "Columns are missing from the file.", columns, "Add what is known.")


_QUESTIONS = {
    **{label: f"Is there a value in {term}?" for label, term in TERM_OF.items()},
    "EVENTTEMPORAL_NOTEMPTY": "Does any term tell when?",
    "LOCATION_NOTEMPTY": "Does any term tell where?",
    "TAXON_NOTEMPTY": "Does any term tell what?",
    **{
        f"{label}_STANDARD": f"Does {term} come from its list?"
        for label, term in (
            ("DCTYPE", "type"),
            ("BASISOFRECORD", "basisOfRecord"),
            ("OCCURRENCESTATUS", "occurrenceStatus"),
            ("SEX", "sex"),
            ("TAXONRANK", "taxonRank"),
            ("COUNTRYCODE", "countryCode"),
        )
    },
}
FILE_CODES: dict[str, Entry] = dict(_entries())
