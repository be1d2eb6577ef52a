"""Every column is a term of the standard."""

from __future__ import annotations

import csv

from reedmace.darwincore import DEFAULT_COLUMNS, TERMS, VERSION
from reference import reference


def listed() -> dict[str, str]:
    """Give term and IRI from the List of Darwin Core Terms, issued 2026-05-26 (shared reference file)."""
    with reference("dwc_terms.csv").open(encoding="utf-8", newline="") as file:
        return {row["term"]: row["iri"] for row in csv.DictReader(file)}


def test_our_list_is_the_standards() -> None:
    """All 206 terms, letter by letter, each with its IRI, in the list's order."""
    assert list(TERMS.items()) == list(listed().items())
    assert len(TERMS) == 206
    assert VERSION == "2026-05-26"


def test_every_column_is_a_term_of_the_standard() -> None:
    """Checked against the reference file, not only against our own list."""
    standard = listed()
    assert [column for column in DEFAULT_COLUMNS if column not in standard] == []


def test_every_column_is_a_term_of_our_list() -> None:
    """Holds where the reference folder is absent too; and no column comes twice."""
    assert set(DEFAULT_COLUMNS) <= set(TERMS)
    assert len(set(DEFAULT_COLUMNS)) == len(DEFAULT_COLUMNS)
    assert DEFAULT_COLUMNS[0] == "occurrenceID"
