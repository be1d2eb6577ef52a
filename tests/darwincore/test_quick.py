"""The quick way gives the same lines as the plain one."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from darwincore.test_occurrence import DATASET, NAMES, SEEN, VISIT
from records.strategies import sightings, visits
from reedmace.darwincore import DEFAULT_COLUMNS, QuickRows, RowNotes, chosen_cells, occurrence, one_line

NOTES = st.sampled_from([RowNotes(), RowNotes(verification="correct"), RowNotes(change="new"), RowNotes(withheld="x")])


@settings(max_examples=150)
@given(st.lists(st.tuples(visits(), st.lists(st.tuples(sightings(), NOTES), max_size=4)), max_size=3))
def test_every_line_is_as_it_would_be_by_itself(made: list[tuple[Any, list[Any]]]) -> None:
    """Whatever went before: lines of one visit, of several, with a place of their own and without."""
    quick = QuickRows(lambda person: f"P{person[:3]} | é", DATASET)
    for visit, some in made:
        for sighting, notes in some:
            for seen in (sighting, sighting._replace(place=None, time=None, observers=None, photos=())):
                wanted = occurrence(
                    seen, visit, "2026-06-20T08:00:00Z", lambda person: f"P{person[:3]} | é", DATASET, notes
                )
                found = quick.cells(seen, visit, "2026-06-20T08:00:00Z", notes)
                told = {column: one_line(text) for column, text in wanted.items()}
                assert dict(zip(DEFAULT_COLUMNS, found, strict=True)) == told


def test_columns_of_ones_own() -> None:
    """In any order; a term that is no default column is empty."""
    cells = QuickRows(NAMES.__getitem__, DATASET).cells(SEEN, VISIT, "then")
    assert chosen_cells(DEFAULT_COLUMNS)(cells) == cells
    assert tuple(chosen_cells(("modified", "occurrenceID", "island"))(cells)) == ("then", "s-1", "")
    assert list(chosen_cells(("eventID",))(cells)) == ["v-1"]


def test_a_qualifier_of_control_signs_alone_says_nothing() -> None:
    """The doubt itself is told in its place, either way."""
    seen = SEEN._replace(certainty="probable", qualifier="\x1e")
    plain = occurrence(seen, VISIT, "then", NAMES.__getitem__, DATASET, RowNotes())
    cells = QuickRows(NAMES.__getitem__, DATASET).cells(seen, VISIT, "then")
    assert plain["identificationQualifier"] == "probable"
    assert dict(zip(DEFAULT_COLUMNS, cells, strict=True))["identificationQualifier"] == "probable"
