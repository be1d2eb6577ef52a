"""The page on places says what the program does: every row of its tables is run."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.places.place import Place, read_place
from reedmace.places.position import Position, parse_position

PAGE = Path(__file__).resolve().parents[2] / "docs" / "places.md"


def table(heading: str) -> list[list[str]]:
    """Read the cells of the table whose heading row starts so, without backticks."""
    text = PAGE.read_text(encoding="utf-8")
    body = text.split(heading, 1)[1].split("\n", 2)[2].split("\n\n", 1)[0]
    rows = [[cell.strip().strip("`") for cell in line.strip("|").split("|")] for line in body.splitlines()]
    assert rows
    return rows


@pytest.mark.parametrize("row", table("| typed | grid |"), ids=lambda row: row[0])
def test_the_page_is_right_about_references(row):
    """Grid, canonical reference, side and uncertainty are what the page says."""
    place = read_place(row[0])
    assert isinstance(place, Place)
    assert [place.system, place.square, str(place.side_m), str(place.uncertainty_m)] == row[1:]


@pytest.mark.parametrize("row", table("| typed | latitude |"), ids=lambda row: ascii(row[0]))
def test_the_page_is_right_about_positions(row):
    """Latitude, longitude and accuracy are what the page says."""
    position = parse_position(row[0])
    assert isinstance(position, Position)
    assert position[1:3] == pytest.approx((float(row[1]), float(row[2])), abs=1e-9)
    assert position.uncertainty_m == (float(row[3]) if row[3] else None)


@pytest.mark.parametrize("row", table("| typed | fault |"), ids=lambda row: ascii(row[0]))
def test_the_page_is_right_about_refusals(row):
    """Each refused example has the fault the page names."""
    fault = read_place(row[0])
    assert isinstance(fault, Fault)
    assert fault.code == row[1]


def test_the_page_has_one_sentence_a_line():
    """So that a change to one sentence is a change to one line."""
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        if not line.startswith(("|", "-", "#", " ")):
            assert not re.search(r"[a-z)`][.] [A-Z]", line), line
