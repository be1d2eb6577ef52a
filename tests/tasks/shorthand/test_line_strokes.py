"""Strokes of a tally are counted, unless four may be a five; the number of a line in a list is no count."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import Line, read_line
from reedmace.tasks.shorthand.line_words import show_line


@pytest.mark.parametrize(
    ("typed", "understood"),
    [
        ("emperor |||", "3"),
        ("emperor II", "2"),
        ("|| emperor m", "2 male"),
        ("emperor || m, ||| f", "2 male and 3 female"),
        ("emperor ||||| ||", "7"),
        ("emperor III exuviae", "3, exuvia"),
        ("| emperor | || |", "2"),
        ("| emperor | | 3 |", "3"),
        ('emperor 2 "|||| on the far bank"', "2; remark: |||| on the far bank"),
    ],
)
def test_strokes_are_counted(key: Key, typed: str, understood: str) -> None:
    line = read_line(key, typed)
    assert isinstance(line, Line), line
    assert show_line(line) == understood


@pytest.mark.parametrize(
    ("typed", "said", "either"),
    [
        ("emperor ||||", "||||", ("4", "5")),
        ("emperor IIII II m", "IIII II", ("6", "7")),
        ("emperor |||| |||| |", "|||| |||| |", ("9", "11")),
    ],
)
def test_four_strokes_may_be_a_five_and_are_asked_about(
    key: Key, typed: str, said: str, either: tuple[str, str]
) -> None:
    """Both numbers are named, and each can be typed in place of the strokes."""
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert (fault.code, fault.hint) == ("strokes-unclear", f"write the number:  {either[0]}  or  {either[1]}")
    assert f'"{said}"' in fault.message
    for number in either:
        line = read_line(key, typed.replace(said, number))
        assert isinstance(line, Line)
        assert line.tallies[0].count == int(number)


@pytest.mark.parametrize("typed", ["1. large red", "2) emperor m", "(3) emperor", "1. large red 12"])
def test_the_number_of_a_line_in_a_list_is_not_how_many_there_were(key: Key, typed: str) -> None:
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert fault.code == "count-or-line"


@pytest.mark.parametrize(
    ("typed", "count"), [("3 m large red", 3), ("large red 3.", 3), ("2.30pm large red", None), ("12: large red", 12)]
)
def test_a_number_without_the_sign_of_a_list_is_a_count(key: Key, typed: str, count: int | None) -> None:
    line = read_line(key, typed)
    assert isinstance(line, Line), line
    assert line.tallies[0].count == count
