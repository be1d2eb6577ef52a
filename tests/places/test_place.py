"""The one door: grid references and positions become places, coarser squares, distances."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

from reedmace.faults import Fault, Refused
from reedmace.places.datum import from_grid
from reedmace.places.grid import Square, parse_grid
from reedmace.places.place import (
    Place,
    coarsen,
    distance_m,
    grid_of,
    read_place,
    square_reference,
    square_uncertainty_m,
)
from reedmace.places.squares import EXTENT, SIDES

EARTH = Geod(ellps="WGS84")


def place(text: str) -> Place:
    """Read a place that must be readable."""
    found = read_place(text)
    assert isinstance(found, Place), found
    return found


def test_a_grid_reference_becomes_a_place():
    """Square, corner, centre and uncertainty of a 100 m square, all from its reference."""
    found = place("su 431 118")
    assert found.typed == "su 431 118"
    assert (found.system, found.grid, found.square, found.side_m) == ("GB", "GB", "SU431118", 100)
    assert (found.easting, found.northing) == (443100, 111800)
    assert (found.centre_easting, found.centre_northing) == (443150, 111850)
    assert found.uncertainty_m == 76  # 100/√2 × 1.0004 + 5 = 75.7, rounded up
    assert found.hundred_km == "SU"


def test_a_position_becomes_a_place():
    """A position keeps its accuracy and gets the 100 m square that holds it, no finer."""
    found = place("51.0596N 1.3101W ±8 m")
    assert (found.system, found.grid, found.side_m, found.uncertainty_m) == ("WGS84", "GB", None, 8.0)
    assert found.square == "SU484291"
    assert (found.easting, found.northing) == (found.centre_easting, found.centre_northing)
    assert found.hundred_km == "SU"
    assert (found.latitude, found.longitude) == (51.0596, -1.3101)


def test_an_unknown_uncertainty_stays_blank():
    """A position typed without its accuracy has none."""
    assert place("52.5, -1.5").uncertainty_m is None


@pytest.mark.parametrize(("text", "letters"), [("49.45, -2.54", "WV"), ("49.21, -2.13", "WV"), ("49.71, -2.2", "WA")])
def test_the_channel_islands_have_letters_but_no_square(text, letters):
    """Guernsey, Jersey and Alderney are on neither grid; their letters serve to look the region up."""
    found = place(text)
    assert (found.square, found.grid, found.easting, found.hundred_km) == (None, None, None, letters)


def test_rockall_has_neither_letters_nor_square():
    """Rockall can be given as a position, and lies on neither grid."""
    found = place("57.5963, -13.6873")
    assert (found.square, found.hundred_km) == (None, None)


# Positions read off published maps, a few hundred metres inside the named land.
@pytest.mark.parametrize(
    ("where", "latitude", "longitude", "grid"),
    [
        ("Kintyre, its southern end", 55.31, -5.75, "GB"),
        ("Sanda", 55.28, -5.58, "GB"),
        ("Islay, south-west", 55.60, -6.27, "GB"),
        ("Islay, west", 55.70, -6.50, "GB"),
        ("Rathlin, east", 55.28, -6.18, "IE"),
        ("Rathlin, west", 55.29, -6.27, "IE"),
        ("Antrim, Torr Head", 55.197, -6.068, "IE"),
        ("Antrim, Garron Point", 55.05, -5.97, "IE"),
        ("Inishtrahull", 55.432, -7.232, "IE"),
        ("Malin Head", 55.38, -7.37, "IE"),
        ("Tory Island", 55.26, -8.22, "IE"),
        ("Calf of Man", 54.055, -4.82, "GB"),
        ("Isle of Man, north", 54.40, -4.38, "GB"),
        ("Galloway, the Rhins", 54.99, -5.17, "GB"),
        ("Galloway, Portpatrick", 54.845, -5.11, "GB"),
        ("Mew Island, Down", 54.698, -5.525, "IE"),
        ("Ards peninsula, east", 54.45, -5.44, "IE"),
        ("Lambay", 53.49, -6.01, "IE"),
        ("Bardsey", 52.76, -4.79, "GB"),
        ("St David's Head", 51.90, -5.31, "GB"),
        ("Grassholm", 51.73, -5.48, "GB"),
        ("Carnsore Point", 52.18, -6.37, "IE"),
        ("Tuskar", 52.203, -6.207, "IE"),
        ("Cape Clear", 51.43, -9.50, "IE"),
        ("Great Blasket", 52.09, -10.54, "IE"),
        ("Scilly, St Agnes", 49.892, -6.345, "GB"),
        ("St Kilda", 57.81, -8.58, "GB"),
        ("Unst", 60.80, -0.81, "GB"),
        ("Lowestoft", 52.48, 1.75, "GB"),
        ("sea north of the Channel Islands' box", 49.3, -5.0, None),
        ("sea west of Ireland", 53.0, -12.5, None),
    ],
)
def test_the_grid_of_a_position_is_the_one_maps_use_there(where, latitude, longitude, grid):
    """The rule of thumb comes out right along both sides of the sea between the islands."""
    assert grid_of(latitude, longitude) == grid, where


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "place-empty"),
        ("Alder Mere", "place-not-read"),
        ("Nan's Mere", "place-not-read"),
        ("SU123", "grid-odd-digits"),
        ("TQ 337.5 805.6", "grid-unexpected-characters"),
        ("SU12, SU13", "grid-two-references"),
        ("412500 134500", "grid-which-grid"),
        ("-1.5, 52.5", "position-swapped"),
        ("52,5, -1,5", "position-decimal-comma"),
        ("nan, nan", "position-not-a-number"),
        ("N91 W1", "position-beyond-range"),
        ("S51.05 W1.3", "position-sign"),
        ("-1.5", "position-not-read"),
        ("0, 0", "position-zero"),
    ],
)
def test_the_fault_is_about_what_was_meant(text, code):
    """A slip in a grid reference is not explained as a slip in a position, nor the other way round."""
    fault = read_place(text)
    assert isinstance(fault, Fault)
    assert fault.code == code
    assert fault.said == text
    assert fault.hint


@pytest.mark.parametrize("text", ["N 51 10", "S 51 10", "W12", "E1234", "N51W", "s12e"])
def test_irish_squares_n_s_e_and_w_are_no_compass_points(text):
    """Irish references that begin or end with a compass letter are squares."""
    assert place(text).system == "IE"


@pytest.mark.parametrize(
    ("side_m", "metres"),
    [(10_000, 7079), (5_000, 3542), (2_000, 1420), (1_000, 713), (100, 76), (10, 13), (1, 6)],
)
def test_uncertainty_is_half_the_diagonal_and_the_shift(side_m, metres):
    """ceil(side/√2 × 1.0004 + 5), worked out by hand for each size."""
    assert square_uncertainty_m(side_m) == metres


SQUARES = st.tuples(
    st.sampled_from(["GB", "IE"]),
    st.floats(0, 1, exclude_max=True),
    st.floats(0, 1, exclude_max=True),
    st.sampled_from(SIDES),
).map(lambda s: square_reference(s[0], s[1] * EXTENT[s[0]][0], s[2] * EXTENT[s[0]][1], s[3]))


@given(reference=SQUARES)
def test_the_uncertainty_reaches_every_corner_of_the_square(reference):
    """Measured over the ground by a second witness, all four corners lie within it, 5 m to spare."""
    found = place(reference)
    for east in (0, found.side_m):
        for north in (0, found.side_m):
            corner = from_grid(found.grid, found.easting + east, found.northing + north)
            metres = EARTH.inv(found.longitude, found.latitude, corner[1], corner[0])[2]
            assert metres <= found.uncertainty_m - 5 + 0.001


@given(reference=SQUARES)
def test_the_centre_lies_in_the_square(reference):
    """The centre of a square, turned into a position and back, is in the square."""
    found = place(reference)
    square = parse_grid(reference)
    assert isinstance(square, Square)
    assert square.holds(found.centre_easting, found.centre_northing)
    assert found.typed == found.square == reference


@given(reference=SQUARES, side_m=st.sampled_from(SIDES))
def test_a_coarser_square_holds_the_whole_place_or_is_refused(reference, side_m):
    """Coarsening never sharpens, and never leaves part of the square outside."""
    found = place(reference)
    try:
        square = coarsen(found, side_m)
    except Refused as refused:
        code = refused.faults[0].code
        assert code == ("place-too-coarse" if side_m < found.side_m else "place-straddles")
        assert code == "place-too-coarse" or (found.side_m, side_m) == (2_000, 5_000)
        return
    assert square.side_m == side_m >= found.side_m
    assert square.holds(found.easting, found.northing)
    assert square.holds(found.easting + found.side_m - 1, found.northing + found.side_m - 1)


@pytest.mark.parametrize(
    ("text", "side_m", "reference"),
    [
        ("SU431118", 1_000, "SU4311"),
        ("SU431118", 2_000, "SU41F"),
        ("SU431118", 5_000, "SU41SW"),
        ("SU431118", 10_000, "SU41"),
        ("SU431118", 100, "SU431118"),
        ("52.5, -1.5", 10_000, "SP38"),
        ("O1234", 2_000, "O13H"),
    ],
)
def test_a_place_is_coarsened(text, side_m, reference):
    """The larger square that holds it, by its reference."""
    assert coarsen(place(text), side_m).reference == reference


@pytest.mark.parametrize(
    ("text", "side_m", "code"),
    [
        ("52.5, -1.5", 10, "place-too-coarse"),
        ("SU41", 1_000, "place-too-coarse"),
        ("SU12M", 5_000, "place-straddles"),
        ("49.45, -2.54", 1_000, "place-off-grid"),
    ],
)
def test_a_square_that_can_not_be_is_refused(text, side_m, code):
    """Never finer than known, never finer than 100 m from a position, never off the grid."""
    with pytest.raises(Refused) as refused:
        coarsen(place(text), side_m)
    assert refused.value.faults[0].code == code
    assert refused.value.faults[0].hint


@given(
    one=st.tuples(st.floats(51.5, 58.0), st.floats(-7.0, 0.5)),
    north=st.floats(-1.5, 1.5),
    east=st.floats(-1.5, 1.5),
)
def test_distance_agrees_with_a_second_witness(one, north, east):
    """Within a thousandth of the geodesic, near and some 200 km far."""
    here, there = place(f"{one[0]:.6f}, {one[1]:.6f}"), place(f"{one[0] + north:.6f}, {one[1] + east:.6f}")
    geodesic = EARTH.inv(here.longitude, here.latitude, there.longitude, there.latitude)[2]
    assert distance_m(here, there) == pytest.approx(geodesic, rel=0.001, abs=0.01)
    assert distance_m(here, there) == distance_m(there, here)


def test_six_decimals_only_at_the_edge():
    """A place keeps full numbers; its rounded pair is for showing and sending, and never says -0.0."""
    found = place("SU431118")
    assert found.rounded() == (50.904517, -1.387706)
    assert found.latitude != found.rounded()[0]
    zero = place("51.4779, -0.0000001").rounded()
    assert str(zero[1]) == "0.0"


@given(text=st.one_of(st.text(), st.text("SUONW0123.,- °±m", max_size=18)))
def test_reading_never_raises_and_keeps_the_typed_text(text):
    """Any text gives a place that keeps it, or a fault that quotes it."""
    outcome = read_place(text)
    if isinstance(outcome, Place):
        assert outcome.typed == text
    else:
        assert outcome.said == text
        assert outcome.typed is True
        assert outcome.hint


def test_the_room_needs_only_light_imports():
    """Reading a place is on the start-up path: none of the slow modules come with it."""
    slow = {"csv", "decimal", "fractions", "pydantic", "rich", "sqlite3", "dataclasses", "inspect", "pyproj"}
    code = "import sys, reedmace.places.place; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert not slow & set(loaded.split())


@pytest.mark.parametrize(
    ("typed", "square"),
    [
        ("51.0596, -1.3101", "SU484291"),
        ("51.060, -1.310", "SU484291"),
        ("51.06, -1.3101", "SU484291"),
        ("51.06, -1.31", "SU4829"),
        ("51.1, -1.3", "SU43"),
        ("51, -1", None),
        ("51°3'34\"N 1°18'36\"W", "SU484291"),
        ("51°3'N 1°18'W", "SU42Z"),
        ("51°3.6'N 1°18.6'W", "SU4829"),
        ("51.0596N 1.3101W ±8 m", "SU484291"),
        ("51.0596N 1.3101W ±80 m", "SU484291"),
        ("51.0596N 1.3101W ±400 m", "SU4829"),
        ("51.0596N 1.3101W ±4000 m", "SU42"),
    ],
)
def test_a_position_is_in_no_finer_square_than_it_was_typed(typed: str, square: str | None) -> None:
    """The finer half counts: a phone leaves out a 0 at the end."""
    assert place(typed).square == square


@pytest.mark.parametrize(
    ("square", "other", "covers"),
    [
        ("SU41", "SU 431 118", True),
        ("SU4311", "SU 431 118", True),
        ("SU 431 118", "SU 431 118", True),
        ("SU4311", "SU 441 118", False),
        ("SU4311", "SU 430 110", True),  # its own corner
        ("SU4311", "SU 440 110", False),  # that of the next
        ("SU4311", "SU41", False),  # whose corner lies elsewhere
        ("SU40", "SU41", False),
        ("SU4010", "SU41", True),  # a larger one with the same corner
        ("N41", "SU 431 118", False),  # of the other grid
    ],
)
def test_a_square_covers_the_places_whose_corner_lies_in_it(square: str, other: str, *, covers: bool) -> None:
    """The edges that it begins with are its own, those that it ends with are its neighbours'."""
    assert place(square).covers(place(other)) is covers
