"""Cells of a sheet: nothing is executed, dates and numbers as people write them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.records import Sighting, Taxon
from reedmace.tasks.export.cells import Number, day_written, harmless, number_of, number_written

BANDS = {"A": "1", "B": "2-5", "C": "6–20", "D": "21-100", "E": "101+"}


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ('=HYPERLINK("http://example.org","x")', '\'=HYPERLINK("http://example.org","x")'),
        ("+44 or so", "'+44 or so"),
        ("-twelve", "'-twelve"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\t=1+1", "' =1+1"),
        ("\r=1+1", "'=1+1"),
        ("  =1+1", "'  =1+1"),
        ("＝1+1", "'＝1+1"),
        ("windy;=1+1", "windy;'=1+1"),
        ("windy, @cmd", "windy, '@cmd"),
        ("-0.5", "-0.5"),
        ("+3", "+3"),
        ("-0,5", "-0,5"),
        ("2 = both", "2 = both"),
        ("a-b, c+d", "a-b, c+d"),
        ("2m, -3", "2m, -3"),
        ("O'Reed", "O'Reed"),
        ("one\ntwo", "one / two"),
        ("", ""),
    ],
)
def test_a_formula_is_made_harmless_and_nothing_else_is_changed(text: str, cell: str) -> None:
    assert harmless(text) == cell


@given(st.text())
def test_no_cell_begins_a_formula(text: str) -> None:
    """In its own sheet, or cut up at another country's delimiters."""
    cell = harmless(text)
    number = re.fullmatch(r"[-+]?[0-9]+(?:[.,][0-9]+)?", cell, re.ASCII)
    for part in re.split(r"[;,\t]", cell):
        assert number or not re.match(r"\s*[=@＝＠]|\s*[+\-＋－][^\s\d]", part)
    assert number or cell.lstrip()[:1] not in tuple("=+-@＝＋－＠")


@pytest.mark.parametrize(
    ("iso", "style", "written"),
    [
        ("2026-06-14", "31/12/2026", "14/06/2026"),
        ("2026-06-14", "31.12.2026", "14.06.2026"),
        ("2026-06-04", "31 Dec 2026", "4 Jun 2026"),
        ("2026-06-14", "2026-12-31", "2026-06-14"),
        ("2026-06", "31/12/2026", "06/2026"),
        ("2026", "31 Dec 2026", "2026"),
        ("2026-06-01/2026-06-07", "31/12/2026", "01/06/2026 to 07/06/2026"),
        ("2026-06/2026-06", "31 Dec 2026", "Jun 2026"),
    ],
)
def test_dates_by_style(iso: str, style: str, written: str) -> None:
    assert day_written(iso, style) == written  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("number", "plain", "banded"),
    [
        (Number(), "", ""),
        (Number(uncounted=True), "present", "present"),
        (Number(1, 1), "1", "A"),
        (Number(20, 20), "20", "C"),
        (Number(40, None), "40+", "D"),
        (Number(6, 20), "6-20", "C"),
        (Number(4, 30), "4-30", "B"),
        (Number(40, 40, rough=True), "about 40", "D"),
        (Number(5, 5, uncounted=True), "5+", "B"),
        (Number(700, 700), "700", "E"),
    ],
)
def test_numbers_and_their_classes(number: Number, plain: str, banded: str) -> None:
    assert number_written(number, {}, "present") == plain
    assert number_written(number, BANDS, "present") == banded


def test_what_a_sighting_counts() -> None:
    """Pairs are two each; a band without an upper end is a lower bound."""
    seen = Sighting("s", "l", "v", Taxon("Aeshna mixta"))
    assert number_of(seen) == Number(uncounted=True)
    assert number_of(seen._replace(count=6, pairs=3, count_kind="exact")) == Number(6, 6)
    assert number_of(seen._replace(count=500, count_kind="band")) == Number(500, None)
    assert number_of(seen._replace(count=6, count_to=20, count_kind="band")) == Number(6, 20)
    assert Number(6, 20).plus(Number(uncounted=True)).plus(Number(1, None)) == Number(7, None, uncounted=True)
