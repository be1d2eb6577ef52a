"""What users typed or imported reaches the screen as text: nothing in it is obeyed, dropped or turned into pictures."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from made_key import EXEMPLUM, write_key
from reedmace.keys.cache import load_key
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord
from reedmace.terminal.ledger_list import show_sightings
from reedmace.terminal.naming import show_named
from reedmace.terminal.plain import in_signs_of, literal
from reedmace.terminal.screen import Screen
from tarn import look
from terminal.made_records import TRICKY, rows

TRICKY_SHOWN = r"Aus bus [sensu lato] [/x] :bee: \x1b[31mred"


def printed(*texts: str, width: int = 60, encoding: str = "utf-8", indent: int = 0, hang: int = 0) -> str:
    """What saying one paragraph prints."""
    raw = io.BytesIO()
    file = io.TextIOWrapper(raw, encoding=encoding, newline="")
    Screen(file, width, colour=False).say(*texts, indent=indent, hang=hang)
    file.flush()
    return raw.getvalue().decode(encoding)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Aus bus [sensu lato]", "Aus bus [sensu lato]"),
        ("[/x] [bold]x[/bold] [link=a]b", "[/x] [bold]x[/bold] [link=a]b"),
        (":bee: :dragon:", ":bee: :dragon:"),
        ("\x1b[31mred\x1b[0m", r"\x1b[31mred\x1b[0m"),
        ("\x1b]0;title\x07", r"\x1b]0;title\x07"),
        ("\x9b31m", r"\x9b31m"),
        ("over\rwritten", r"over\x0dwritten"),
        ("back\x08\x7f", r"back\x08\x7f"),
        ("turned \u202eround\u2066", r"turned \u202eround\u2066"),
        ("two\u2028lines\u2029here", r"two\u2028lines\u2029here"),
        ("half \udce9", r"half \udce9"),
        ("Bédoin 池 ñ", "Bédoin 池 ñ"),
    ],
)
def test_text_is_literal(text: str, shown: str) -> None:
    """Markup, emoji names and escape sequences stay what was typed, with controls made visible."""
    assert literal(text) == shown
    assert printed(text) == shown + "\n"
    raw = io.StringIO()
    Screen(raw, 60, colour=False).table([("", "left"), ("", "left")], [[text, "x"]])
    assert raw.getvalue() == f"  {shown}  x\n"


def test_text_is_literal_in_colour_too() -> None:
    """With colours on, the only escape sequences are our own."""
    raw = io.StringIO()
    Screen(raw, 100, colour=True).say((TRICKY, "bold"), " ", TRICKY)
    assert re.sub(r"\x1b\[(1|0)m", "", raw.getvalue()) == f"{TRICKY_SHOWN} {TRICKY_SHOWN}\n"


def test_a_keys_own_names_are_literal_as_well(tmp_path: Path) -> None:
    """A key is somebody's text: a species called like markup comes out as it is called."""
    tricky = EXEMPLUM.replace("english: First Example", 'english: "Aus bus [sensu lato] [/x] :bee: \\e[31mred"')
    assert tricky != EXEMPLUM
    key = load_key(write_key(tmp_path / "made-pond", {"species/exemplum.yaml": tricky}), None)
    raw = io.StringIO()
    named = look(key, "wings=closed spur=present length=35mm:measured tail-colour=blue")
    show_named(Screen(raw, 100, colour=False), named)
    assert raw.getvalue().count(TRICKY_SHOWN) >= 2
    assert "\x1b" not in raw.getvalue()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("40–60 … 3 × 4° → ♂", "40-60 ... 3 x 4 deg -> m"),
        ("Bédoin", r"B\xe9doin"),
        ("池", r"\u6c60"),
        ("🐝", r"\U0001f41d"),
    ],
)
def test_a_stream_without_a_sign_shows_a_stand_in(text: str, shown: str) -> None:
    """Ours are spelt out; a user's letters come as their numbers, and nothing fails half-way."""
    assert printed(text, encoding="ascii") == shown + "\n"
    assert in_signs_of("ascii", text) == shown


def test_a_stream_with_some_signs_keeps_them() -> None:
    """Latin-1 has é, and no dash."""
    assert printed("Bédoin – 池", encoding="latin-1") == "Bédoin - \\u6c60\n"


@given(
    st.text(st.characters(min_codepoint=32, max_codepoint=0x2FFFF, exclude_categories=("Mn", "Me", "Cf"))),
    st.sampled_from([60, 80, 100]),
    st.sampled_from([0, 2, 4]),
    st.sampled_from([0, 2]),
)
def test_no_paragraph_is_wider_than_the_screen_or_loses_a_sign(text: str, width: int, indent: int, hang: int) -> None:
    """Wrapped anywhere, joined again, it is the text: only blanks may come and go."""
    out = printed(text, width=width, indent=indent, hang=hang)
    lines = out.split("\n")
    assert all(cell_len(line) <= width and line == line.rstrip() for line in lines)
    assert "".join(out.split()) == "".join(literal(text).split())


@given(
    st.lists(st.lists(st.text(max_size=80), min_size=2, max_size=2), min_size=1, max_size=4), st.sampled_from([60, 100])
)
def test_no_table_breaks_on_what_is_in_its_cells(rows: list[list[str]], width: int) -> None:
    """Line separators, controls and long words included: no line too long, no control sign, no blanks at the end."""
    raw = io.StringIO()
    Screen(raw, width, colour=False).table([("name", "left"), ("seen", "right")], rows)
    for line in raw.getvalue().split("\n"):
        assert cell_len(line) <= width
        assert line == line.rstrip(" ")
        assert not re.search(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]", line)


@pytest.mark.parametrize(
    ("name", "width", "lines"),
    [
        ("Golden-ringed Dragonfly", 12, ["Golden-", "ringed", "Dragonfly"]),
        ("Golden-ringed Dragonfly", 17, ["Golden-ringed", "Dragonfly"]),
        ("Golden-ringed Dragonfly", 27, ["Golden-ringed Dragonfly"]),
        ("Half-and-half Darter", 13, ["Half-and-", "half Darter"]),
        ("Dragonfly", 9, ["Dragonf", "ly"]),
        ("2026-06-30/2026-07-02", 14, ["2026-06-30/", "2026-07-02"]),
        ("2026-06/2026-07", 14, ["2026-06/", "2026-07"]),
    ],
)
def test_a_word_too_long_for_its_column_is_parted_at_a_hyphen(name: str, width: int, lines: list[str]) -> None:
    """Only where it does not fit, and behind as few hyphens as will do; a word without one is cut where it must be."""
    raw = io.StringIO()
    Screen(raw, width, colour=False).table([("", "left")], [[name]])
    assert raw.getvalue().split("\n") == [*(f"  {line}" for line in lines), ""]


def test_a_place_without_a_square_begins_in_its_column(tarn: Key) -> None:
    """There is only its name."""
    raw = io.StringIO()
    nameless = PlaceRecord(locality="Sallow")
    (one, at, how), *_ = rows(tarn)
    show_sightings(Screen(raw, 100, colour=False), [(one, at._replace(place=nameless), how)])
    head, row, _ = raw.getvalue().split("\n", 2)
    assert row.index("Sallow") == head.index("place")


@pytest.mark.parametrize("lead", ["a plain", "a café"])
def test_no_line_begins_with_a_per_cent_sign_or_a_stop(lead: str) -> None:
    """They stay with what they belong to, wherever a line ends; by the standard library and by rich."""
    text = f"{lead} 34 % of them, 5 %. write  key , then  who ; or  done  for the end"
    for width in range(20, 60):
        lines = printed(text, width=width).splitlines()
        assert all(line[:1] not in ("%", ";", ",") for line in lines), lines
        assert " ".join(" ".join(lines).split()) == " ".join(text.split())
