"""Latitude and longitude as pasted: what is read, and each slip named."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.places.position import Position, parse_position

READ = [
    ("52.5, -1.5", 52.5, -1.5, None),
    ("52.5 -1.5", 52.5, -1.5, None),
    ("52.5,-1.5", 52.5, -1.5, None),
    ("52.5; -1.5", 52.5, -1.5, None),
    ("52.5,\u00a0\u22121.5", 52.5, -1.5, None),
    ("(52.5, -1.5)", 52.5, -1.5, None),
    ("51.5, -.12", 51.5, -0.12, None),
    ("52.5, 1.5", 52.5, 1.5, None),
    ("51.0596N 1.3101W", 51.0596, -1.3101, None),
    ("51.0596n, 1.3101w", 51.0596, -1.3101, None),
    ("N51.0596 W1.3101", 51.0596, -1.3101, None),
    ("N52.5E1.5", 52.5, 1.5, None),
    ("1.3101W 51.0596N", 51.0596, -1.3101, None),
    ("51.0596° N, 1.3101° W", 51.0596, -1.3101, None),
    ("51.0596°, -1.3101°", 51.0596, -1.3101, None),
    ("Lat: 51.0596, Long: -1.3101", 51.0596, -1.3101, None),
    ("52°30'0\"N, 1°30'0\"W", 52.5, -1.5, None),
    ("52° 30′ 0″ N 1° 30′ 0″ W", 52.5, -1.5, None),
    ("52°30'36''N1°30'0''W", 52.51, -1.5, None),
    ("52°30.6'N 1°30'W", 52.51, -1.5, None),
    ("52 30 36 N 1 30 0 W", 52.51, -1.5, None),
    ("N 52 30 36 W 1 30 0", 52.51, -1.5, None),
    ("52.5, -1.5 ±8 m", 52.5, -1.5, 8.0),
    ("52.5, -1.5 (±8m)", 52.5, -1.5, 8.0),
    ("51.0596N 1.3101W +/- 12.5 metres", 51.0596, -1.3101, 12.5),
    ("49.45, -2.54", 49.45, -2.54, None),
    ("57.5963, -13.6873", 57.5963, -13.6873, None),
]

REFUSED = [
    ("", "position-empty", "51.0596, -1.3101"),
    ("-1.5, 52.5", "position-swapped", "52.5, -1.5"),
    ("4.66, 52.08", "position-swapped", "52.08, -4.66"),
    ("52.08, 4.66", "position-sign", "52.08, -4.66"),
    ("-52.5, -1.5", "position-sign", "52.5, -1.5"),
    ("40.7, -74.0", "position-outside", "British Isles"),
    ("49.64, -1.62", "position-outside", "British Isles"),
    ("91, -1.5", "position-beyond-range", "latitude first"),
    ("52.5, 200", "position-beyond-range", "latitude first"),
    ("0, 0", "position-zero", "grid reference"),
    ("52,5, -1,5", "position-decimal-comma", "52.5, -1.5"),
    ("52,5 -1,5", "position-decimal-comma", "52.5, -1.5"),
    ("52,5N 1,5W", "position-decimal-comma", "52.5, -1.5"),
    ("52,5,1,5", "position-decimal-comma", "51.0596"),
    ("5_2.5, -1.5", "position-underscore", "51.0596"),
    ("5.25e1, -1.5", "position-exponent", "52.5"),
    ("nan, nan", "position-not-a-number", "51.0596"),
    ("52.5, inf", "position-not-a-number", "51.0596"),
    ("52.5, -1.5 ±8", "position-accuracy", "±8 m"),
    ("52.5, -1.5 ±26 ft", "position-accuracy", "±8 m"),
    ("52.5, -1.5 ±0 m", "position-accuracy", "leave it out"),
    ("52.5N -1.5W", "position-sign-and-letter", "W"),
    ("52°61'N 1°30'W", "position-minutes", "59"),
    ("52.5N 1.5N", "position-not-read", "51.0596"),
    ("52 30 1 30", "position-not-read", "51.0596"),
    ("٥٢.٥, -1.5", "position-not-read", "51.0596"),
    ("５２.5, -1.5", "position-not-read", "51.0596"),
    ("52.5ſ 1.5W", "position-not-read", "51.0596"),
    ("Alder Mere", "position-not-read", "51.0596"),
]


@pytest.mark.parametrize(("text", "latitude", "longitude", "accuracy"), READ)
def test_a_position_is_read(text, latitude, longitude, accuracy):
    """Every way a phone or web map pastes it gives the same two numbers; the typed text is kept."""
    position = parse_position(text)
    assert isinstance(position, Position), position
    assert position[1:3] == pytest.approx((latitude, longitude), abs=1e-9)
    assert position.uncertainty_m == accuracy
    assert position.typed == text


@pytest.mark.parametrize(("text", "code", "remedy"), REFUSED)
def test_a_slip_is_refused_by_name(text, code, remedy):
    """Each slip has its own code, and the hint says what to type."""
    fault = parse_position(text)
    assert isinstance(fault, Fault), fault
    assert fault.code == code
    assert remedy in fault.hint
    assert fault.said == text
    assert fault.typed


def test_every_refusal_has_a_test():
    """The codes in the parser's source and the codes refused above are the same."""
    import re
    from pathlib import Path

    from reedmace.places import position

    written = set(re.findall(r'"(position-[a-z-]+)"', Path(position.__file__).read_text(encoding="utf-8")))
    assert written == {code for _, code, _ in REFUSED}


@given(latitude=st.floats(50.0, 60.0), longitude=st.floats(-8.0, 1.5))
def test_six_decimals_are_read_as_written(latitude, longitude):
    """The number typed is the number kept, signed or with letters."""
    signed = parse_position(f"{latitude:.6f}, {longitude:.6f}")
    letters = parse_position(f"{latitude:.6f}N {abs(longitude):.6f}{'W' if longitude < 0 else 'E'}")
    assert isinstance(signed, Position)
    assert isinstance(letters, Position)
    assert signed[1:3] == letters[1:3] == (float(f"{latitude:.6f}"), float(f"{longitude:.6f}"))


@given(latitude=st.floats(50.0, 59.0), longitude=st.floats(-7.9, -2.3))
def test_swapping_is_always_noticed(latitude, longitude):
    """Latitude and longitude typed the wrong way round never pass."""
    fault = parse_position(f"{longitude:.5f}, {latitude:.5f}")
    assert isinstance(fault, Fault)
    assert fault.code == "position-swapped"


@given(text=st.one_of(st.text(), st.text("0125.,-+ °'\"NSEWe_±m()", max_size=24)))
def test_parsing_never_raises_on_any_text(text):
    """Any text gives a position in the British Isles or a fault with a remedy."""
    outcome = parse_position(text)
    if isinstance(outcome, Fault):
        assert outcome.code
        assert outcome.hint
    else:
        assert outcome.typed == text
        assert 48 < outcome.latitude < 62
        assert -15 < outcome.longitude < 4


@pytest.mark.parametrize("text", ["1" * 5000, "52." + "1" * 5000 + ", -1.5x", "1 " * 3000, "°" * 3000, "N1" * 2000])
def test_a_long_text_is_refused_and_not_chewed_on(text):
    """A pasted page is refused at once."""
    assert isinstance(parse_position(text), Fault)
