"""Is there a value at all?"""

from __future__ import annotations

from reedmace.checks.quality.outcome import COMPLIANT, Basis, Outcome, Row, Validation, empty, refused

# The terms of the groups, by the standard's list of terms.
LOCATION = (
    *("locationID", "higherGeographyID", "higherGeography", "continent", "waterBody", "islandGroup", "island"),
    *("country", "countryCode", "stateProvince", "county", "municipality", "locality", "verbatimLocality"),
    *("decimalLatitude", "decimalLongitude", "verbatimCoordinates", "verbatimLatitude", "verbatimLongitude"),
    "footprintWKT",
)
TIME = ("eventDate", "year", "month", "day", "startDayOfYear", "endDayOfYear", "verbatimEventDate")
TAXON = (
    *("taxonID", "scientificNameID", "acceptedNameUsageID", "parentNameUsageID", "originalNameUsageID"),
    *("taxonConceptID", "scientificName", "acceptedNameUsage", "originalNameUsage", "higherClassification"),
    *("kingdom", "phylum", "class", "order", "superfamily", "family", "subfamily", "tribe", "subtribe", "genus"),
    *("genericName", "subgenus", "infragenericEpithet", "specificEpithet", "infraspecificEpithet"),
    *("cultivarEpithet", "vernacularName"),
)
_SINGLE = (
    *("basisOfRecord", "country", "countryCode", "decimalLatitude", "decimalLongitude", "eventDate"),
    *("geodeticDatum", "kingdom", "license", "occurrenceID", "occurrenceStatus", "scientificName"),
    *("scientificNameAuthorship", "scientificNameID", "taxonRank", "year"),
)


def _of(term: str) -> Validation:
    nothing = refused(f"{term} is empty")

    def there(row: Row, basis: Basis) -> Outcome:
        """Is there a value?"""
        return nothing if empty(row.get(term)) else COMPLIANT

    return there


def _any(terms: tuple[str, ...], what: str) -> Validation:
    nothing = refused(f"No term tells {what}")

    def there(row: Row, basis: Basis) -> Outcome:
        """Is there a value in any of these terms?"""
        return nothing if all(empty(row.get(term)) for term in terms) else COMPLIANT

    return there


TERM_OF = {"DCTYPE_NOTEMPTY": "type", **{f"{term.upper()}_NOTEMPTY": term for term in _SINGLE}}
"""Label → the one term it asks for."""

VALIDATIONS: dict[str, Validation] = {
    **{label: _of(term) for label, term in TERM_OF.items()},
    "EVENTTEMPORAL_NOTEMPTY": _any(TIME, "when"),
    "LOCATION_NOTEMPTY": _any(LOCATION, "where"),
    "TAXON_NOTEMPTY": _any(TAXON, "what"),
}
