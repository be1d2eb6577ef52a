"""Lines made of ready pieces are those that the standard library would write of the same cells."""

from __future__ import annotations

import csv
import io
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from darwincore.test_occurrence import DATASET, NAMES, SEEN, VISIT
from records.strategies import sightings, visits
from reedmace.darwincore import DEFAULT_COLUMNS, PlainLines, QuickRows, line_of, occurrence, one_line
from reedmace.darwincore.plain_lines import quoted
from reedmace.records import as_body


def written(cells: list[str]) -> str:
    """As `csv.writer` puts them down."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerow(cells)
    return out.getvalue()


@given(st.lists(st.text(st.characters(exclude_characters="\r\n")), min_size=2))
def test_cells_are_quoted_as_the_standard_library_does(cells: list[str]) -> None:
    assert ",".join(map(quoted, cells)) + "\n" == written(cells)
    assert line_of(cells) + "\n" == written(cells)


@settings(max_examples=150)
@given(
    st.lists(st.tuples(visits(), st.lists(sightings(), max_size=5)), max_size=3),
    st.booleans(),
    st.one_of(
        st.just(DEFAULT_COLUMNS),
        st.lists(st.sampled_from([*DEFAULT_COLUMNS, "island"]), min_size=2, unique=True).map(tuple),
    ),
)
def test_a_line_out_of_a_body_is_the_same(made: list[tuple[Any, list[Any]]], named: bool, columns: Any) -> None:
    """Or there is none, and the body is to be read whole: in any columns, for one visit after the other."""
    rows = QuickRows(lambda person: f'P{person[:3]} "é", x', DATASET)
    lines = PlainLines(rows, columns)
    for visit, some in made:
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
                found = lines.line(as_body(one), visit, "then")
                terms = occurrence(one, visit, "then", lambda person: f'P{person[:3]} "é", x', DATASET)
                cells = [one_line(terms.get(column, "")) for column in columns]
                assert found is None or found + "\n" == written(cells)
                assert found is not None or one is not plain


@settings(max_examples=100)
@given(st.sampled_from(["id", "count", "sex", "stage", "taxon", "typed", "remarks", "determiner", "determined_on"]))
def test_a_body_that_is_not_as_it_has_to_be_is_left_to_be_read(field: str) -> None:
    """Where it is refused as damaged."""
    lines = PlainLines(QuickRows(NAMES.__getitem__, DATASET), DEFAULT_COLUMNS)
    whole = as_body(SEEN._replace(count=7, count_kind="exact"))
    assert lines.line(whole, VISIT, "then") is not None
    for value in (None, 0, 1.5, True, [], {}, "" if field in ("taxon",) else ["x"]):
        assert lines.line({**whole, field: value}, VISIT, "then") is None, (field, value)
    assert lines.line({**whole, "later": 1}, VISIT, "then") is None
