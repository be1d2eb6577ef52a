"""The quick way gives the same lines as the plain one."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from darwincore.test_occurrence import DATASET, NAMES, SEEN, VISIT
from records.strategies import sightings, visits
from reedmace.darwincore import DEFAULT_COLUMNS, QuickRows, RowNotes, chosen_cells, occurrence, one_line
from reedmace.records import as_body

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


@settings(max_examples=150)
@given(visits(), st.lists(sightings(), max_size=6), st.booleans())
def test_a_line_out_of_a_body_is_the_same(visit: Any, some: list[Any], named: bool) -> None:
    """Or there is none, and the body is to be read whole."""
    quick = QuickRows(lambda person: f"P{person[:3]}", DATASET)
    for seen in some:
        plain = seen._replace(
            **dict.fromkeys(("place", "time", "observers", "certainty", "pairs", "in_pairs", "count_to")),
            visit_id=visit.id,
            count=7,
            count_kind="exact",
            count_typed="",
            qualifier="",
            behaviour=(),
            photos=(),
            taxon=seen.taxon._replace(one_of=(), typed="azure"),
            naming=seen.naming if named else None,
        )
        for one in (plain, seen._replace(visit_id=visit.id)):
            found = quick.cells_of_body(as_body(one), visit, "then")
            wanted = occurrence(one, visit, "then", lambda person: f"P{person[:3]}", DATASET)
            assert found is None or found == [one_line(text) for text in wanted.values()]
            assert found is not None or one is not plain or one.remarks.isspace()


@settings(max_examples=100)
@given(st.sampled_from(["id", "count", "sex", "stage", "taxon", "typed", "remarks", "determiner", "determined_on"]))
def test_a_body_that_is_not_as_it_has_to_be_is_left_to_be_read(field: str) -> None:
    """Where it is refused as damaged."""
    quick = QuickRows(NAMES.__getitem__, DATASET)
    whole = as_body(SEEN._replace(count=7, count_kind="exact"))
    assert quick.cells_of_body(whole, VISIT, "then") is not None
    for value in (None, 0, 1.5, True, [], {}, "" if field in ("taxon",) else ["x"]):
        assert quick.cells_of_body({**whole, field: value}, VISIT, "then") is None, (field, value)
    assert quick.cells_of_body({**whole, "later": 1}, VISIT, "then") is None
