"""Grid references: what is read, what is refused, and that a square keeps its identity."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.places.grid import Square, parse_grid, square_reference
from reedmace.places.squares import EXTENT, SIDES, hundred_km_corner, hundred_km_letters

# Read by hand off the published lettering and the DINTY arrangement of tetrads; the metre squares are worked
# points: Ordnance Survey, "A guide to coordinate systems in Great Britain", annex C (TG 51409 13177), and its
# Irish counterpart's test point (J 08131 90483).
READ = [
    ("SV00", "GB", 0, 0, 10_000, "SV00"),
    ("HP61", "GB", 460_000, 1_210_000, 10_000, "HP61"),
    ("su1234", "GB", 412_000, 134_000, 1_000, "SU1234"),
    ("SU 12 34", "GB", 412_000, 134_000, 1_000, "SU1234"),
    ("\u00a0SU\u00a012\u202f34 ", "GB", 412_000, 134_000, 1_000, "SU1234"),
    ("SU\u200b1234", "GB", 412_000, 134_000, 1_000, "SU1234"),
    ("TG514131", "GB", 651_400, 313_100, 100, "TG514131"),
    ("TG 5140 1317", "GB", 651_400, 313_170, 10, "TG51401317"),
    ("TG 51409 13177", "GB", 651_409, 313_177, 1, "TG5140913177"),
    ("TQ75G", "GB", 572_000, 152_000, 2_000, "TQ75G"),
    ("SU12A", "GB", 410_000, 120_000, 2_000, "SU12A"),
    ("SU12E", "GB", 410_000, 128_000, 2_000, "SU12E"),
    ("SU12I", "GB", 412_000, 126_000, 2_000, "SU12I"),
    ("SU12N", "GB", 414_000, 126_000, 2_000, "SU12N"),
    ("SU 12 p", "GB", 414_000, 128_000, 2_000, "SU12P"),
    ("NL47I", "GB", 42_000, 776_000, 2_000, "NL47I"),
    ("SL 12 L", "GB", 14_000, 222_000, 2_000, "SL12L"),
    ("SU12Z", "GB", 418_000, 128_000, 2_000, "SU12Z"),
    ("SU12NE", "GB", 415_000, 125_000, 5_000, "SU12NE"),
    ("NY 45 nw", "GB", 340_000, 555_000, 5_000, "NY45NW"),
    ("O12", "IE", 310_000, 220_000, 10_000, "O12"),
    ("o12a", "IE", 310_000, 220_000, 2_000, "O12A"),
    ("S12", "IE", 210_000, 120_000, 10_000, "S12"),
    ("J 08131 90483", "IE", 308_131, 390_483, 1, "J0813190483"),
    # Far out in the North Sea, and west of the Hebrides: squares at sea are squares.
    ("OW99", "GB", 690_000, 590_000, 10_000, "OW99"),
    ("TB 12 34", "GB", 612_000, 434_000, 1_000, "TB1234"),
    ("NA0000", "GB", 0, 900_000, 1_000, "NA0000"),
    ("HL00", "GB", 0, 1_200_000, 10_000, "HL00"),
]

REFUSED = [
    ("", "grid-empty"),
    (" \u00a0 ", "grid-empty"),
    ("SU123", "grid-odd-digits"),
    ("SU1", "grid-odd-digits"),
    ("S01234", "grid-odd-digits"),
    ("TQ 337 80560", "grid-unequal-groups"),
    ("SU1 234", "grid-unequal-groups"),
    ("SU 12 34 56", "grid-three-groups"),
    ("SU12 SU13", "grid-two-references"),
    ("SU12, SU13", "grid-two-references"),
    ("SU12SU13", "grid-two-references"),
    ("TQ75G/TQ75H", "grid-two-references"),
    ("XX12", "grid-letters-unknown"),
    ("SUX12", "grid-letters-unknown"),
    ("SI1234", "grid-letter-i"),
    ("I12", "grid-letter-i"),
    ("WV 65 47", "grid-channel-islands"),
    ("WA 57 08", "grid-channel-islands"),
    ("MC0316", "grid-outside"),
    ("OX12", "grid-outside"),
    ("SU", "grid-too-coarse"),
    ("O", "grid-too-coarse"),
    ("SU1234A", "grid-suffix-needs-10km"),
    ("SU1234NE", "grid-suffix-needs-10km"),
    ("SU12O", "grid-tetrad-o"),
    ("SU12ENE", "grid-suffix-unknown"),
    ("SU12NN", "grid-suffix-unknown"),
    ("SU12 pond", "grid-suffix-unknown"),
    ("412500 134500", "grid-which-grid"),
    ("012", "grid-which-grid"),
    ("SUl234", "grid-letter-for-digit"),
    ("SU 12 3O", "grid-letter-for-digit"),
    ("SU123O", "grid-letter-for-digit"),
    ("SU12O34", "grid-letter-for-digit"),
    ("SU-12-34", "grid-unexpected-characters"),
    ("TQ 337.5 805.6", "grid-unexpected-characters"),
    ("SU\u0661\u0662", "grid-unexpected-characters"),
    ("SU１２", "grid-unexpected-characters"),
    ("\u017fU12", "grid-unexpected-characters"),
    ("SU1²", "grid-unexpected-characters"),
    ("SU123456789012", "grid-too-many-digits"),
    ("SU 123456 123456", "grid-too-many-digits"),
    ("12SU", "grid-not-a-reference"),
    ("Alder Mere", "grid-not-a-reference"),
]


@pytest.mark.parametrize(("text", "system", "easting", "northing", "side_m", "reference"), READ)
def test_a_reference_is_read(text, system, easting, northing, side_m, reference):
    """Each spelling gives the square worked out by hand."""
    square = parse_grid(text)
    assert isinstance(square, Square)
    assert (square.system, square.easting, square.northing, square.side_m) == (
        system,
        easting,
        northing,
        side_m,
    )
    assert square.reference == reference
    assert square.typed == text


@pytest.mark.parametrize(("text", "code"), REFUSED)
def test_a_slip_is_refused_by_name(text, code):
    """Each slip has its own code, a remedy, and the user's own text."""
    fault = parse_grid(text)
    assert isinstance(fault, Fault)
    assert fault.code == code
    assert fault.hint
    assert fault.said == text
    assert fault.typed


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("SUl234", "SU1234"),
        ("SU-12-34", "SU1234"),
        ("SU1O", "SU10"),
        ("SU1234A", "SU13H"),
        ("S01234", "SO"),
        ("WV 65 47", "latitude, longitude"),
        ("MC0316", "latitude, longitude"),
        ("SU", "SU12"),
    ],
)
def test_the_remedy_names_what_to_type(text, remedy):
    """A hint that can name the right spelling does."""
    fault = parse_grid(text)
    assert isinstance(fault, Fault)
    assert remedy in fault.hint


def test_every_refusal_has_a_test():
    """The codes in the parser's source and the codes refused above are the same."""
    import re
    from pathlib import Path

    from reedmace.places import grid

    written = set(re.findall(r'"(grid-[a-z0-9-]+)"', Path(grid.__file__).read_text(encoding="utf-8")))
    assert written == {code for _, code in REFUSED}


def test_the_letters_cover_each_grid_once():
    """Letters and corners are each other's inverse over all 91 squares of Great Britain and 25 of Ireland."""
    for system, (width, height) in EXTENT.items():
        corners = [(e, n) for e in range(0, width, 100_000) for n in range(0, height, 100_000)]
        letters = [hundred_km_letters(system, *corner) for corner in corners]
        assert len(set(letters)) == len(corners) == {"GB": 91, "IE": 25}[system]
        assert [hundred_km_corner(names) for names in letters] == corners


POINTS = st.sampled_from(["GB", "IE"]).flatmap(
    lambda system: st.tuples(
        st.just(system),
        st.floats(0, EXTENT[system][0], exclude_max=True),
        st.floats(0, EXTENT[system][1], exclude_max=True),
    )
)


@given(point=POINTS, side_m=st.sampled_from(SIDES))
def test_any_square_is_read_back_from_its_reference(point, side_m):
    """A reference is a square and its size is part of its identity."""
    system, easting, northing = point
    reference = square_reference(system, easting, northing, side_m)
    square = parse_grid(reference)
    assert isinstance(square, Square)
    assert (square.system, square.side_m, square.reference) == (system, side_m, reference)
    # Floored, never rounded: the square holds the point, and its corner is a multiple of its side.
    assert square.holds(easting, northing)
    assert square.easting % side_m == square.northing % side_m == 0
    assert square_reference(system, square.easting, square.northing, side_m) == reference


@given(point=POINTS, side_m=st.sampled_from(SIDES), data=st.data())
def test_spaces_and_case_change_nothing_but_the_typed_text(point, side_m, data):
    """Spaces, also no-break ones, and lower case are read alike, and the typed text is kept."""
    system, easting, northing = point
    reference = square_reference(system, easting, northing, side_m)
    letters = reference[: 2 if system == "GB" else 1]
    rest = reference[len(letters) :]
    digits = "".join(c for c in rest if c.isdigit())
    half = len(digits) // 2
    gap = data.draw(st.sampled_from(["", " ", "  ", "\u00a0", "\u202f", "\t"]))
    parts = [letters, digits[:half], digits[half:], rest[len(digits) :]]
    typed = data.draw(st.sampled_from([str.lower, str.upper]))(gap.join(parts))
    square = parse_grid(typed)
    assert isinstance(square, Square)
    assert square.reference == reference
    assert square.typed == typed


@given(text=st.one_of(st.text(), st.text("SUOIl0123 ,NE.-", max_size=14)))
def test_parsing_never_raises_on_any_text(text):
    """Any text gives a square or a fault with a remedy."""
    outcome = parse_grid(text)
    assert isinstance(outcome, Square | Fault)
    if isinstance(outcome, Square):
        assert outcome.typed == text
        assert parse_grid(outcome.reference)[:6] == outcome[:6]
    else:
        assert outcome.code
        assert outcome.hint


@pytest.mark.parametrize("text", ["SU" + "1" * 5000 + "E3", "SU12 " * 500, "O" * 5000, "SU" + "O1 " * 500])
def test_a_long_text_is_refused_and_not_chewed_on(text):
    """A pasted page is refused at once."""
    assert isinstance(parse_grid(text), Fault)


@pytest.mark.parametrize(
    ("system", "easting", "northing", "side_m"),
    [("GB", 0, 0, 3), ("GB", -1, 0, 100), ("GB", 700_000, 0, 100), ("IE", 0, 500_000, 100)],
)
def test_no_reference_is_made_up(system, easting, northing, side_m):
    """A side no reference can say, or a point outside the grid, is an error of the caller."""
    with pytest.raises(ValueError, match=r"grid"):
        square_reference(system, easting, northing, side_m)
