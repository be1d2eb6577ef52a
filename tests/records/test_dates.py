"""Days, months, years and intervals."""

from __future__ import annotations

import calendar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.strategies import unhurried, vague_dates
from reedmace.records import Span, span


@pytest.mark.parametrize(
    ("text", "first", "last", "parts"),
    [
        ("2026-06-14", "2026-06-14", "2026-06-14", (2026, 6, 14)),
        ("2026-06", "2026-06-01", "2026-06-30", (2026, 6, None)),
        ("2024-02", "2024-02-01", "2024-02-29", (2024, 2, None)),
        ("2026", "2026-01-01", "2026-12-31", (2026, None, None)),
        ("9999-12", "9999-12-01", "9999-12-31", (9999, 12, None)),
        ("2026-06-01/2026-06-07", "2026-06-01", "2026-06-07", (2026, 6, None)),
        ("2026-05-30/2026-06-02", "2026-05-30", "2026-06-02", (2026, None, None)),
        ("2025/2026", "2025-01-01", "2026-12-31", (None, None, None)),
        ("2026-06-14/2026-06-14", "2026-06-14", "2026-06-14", (2026, 6, 14)),
        ("2026-06/2026-06-14", "2026-06-01", "2026-06-14", (2026, 6, None)),
    ],
)
def test_a_date_spans_its_days(
    text: str, first: str, last: str, parts: tuple[int | None, int | None, int | None]
) -> None:
    """Year, month and day are known only where the whole span shares them."""
    found = span(text)
    assert found == Span(first, last)
    assert found is not None
    assert (found.year, found.month, found.day) == parts


@pytest.mark.parametrize(
    "text",
    ["", "14/6/2026", "2026-6-14", "2026-02-30", "2026-13", "0000", "2026/", "/2026", "2026/2025",
     "2026-06-14T10:00", "٢٠٢٦", " 2026", "2026-06-07/2026-06-01", "2024/2025/2026", "2026-06-14\n"],
)  # fmt: skip
def test_what_is_no_date(text: str) -> None:
    """Only full ISO forms are read here; the typed words are kept beside them."""
    assert span(text) is None


@unhurried
@given(vague_dates())
def test_a_span_never_runs_backwards(text: str) -> None:
    """First and last are real days in order."""
    found = span(text)
    assert found is not None
    assert found.first <= found.last


@unhurried
@given(st.integers(1, 9999), st.integers(1, 12))
def test_months_end_where_the_calendar_says(year: int, month: int) -> None:
    """The standard library's calendar is the witness."""
    found = span(f"{year:04}-{month:02}")
    assert found is not None
    assert int(found.last[8:]) == calendar.monthrange(year, month)[1]
