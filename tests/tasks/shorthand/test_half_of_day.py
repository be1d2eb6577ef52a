"""Times without am or pm that could be of the night or of the afternoon, and times that are the weather's."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import read_line
from reedmace.tasks.shorthand.visit_line import read_visit_line
from tarn import TODAY

UNCLEAR = """
2.30                  | 02:30 or 14:30
2.30-4                | 02:30 or 14:30
2.30-4.30             | 02:30 or 14:30
1.30 to 3.30          | 01:30 or 13:30
from 2.30 until 16:00 | 02:30 or 14:30
until 2.30            | 02:30 or 14:30
2-4                   | 02:00 or 14:00
02:00-4.30            | 04:30 or 16:30
1h30                  | 01:30, 13:30, or how long it took
"""

CLEAR = """
2.30-4pm              | 14:30 | 16:00
2-4pm                 | 14:00 | 16:00
2:30-4:30             | 02:30 | 04:30
02.30                 | 02:30 |
2pm until 4           | 14:00 | 16:00
2.30pm-4.30           | 14:30 | 16:30
11am-1.30             | 11:00 | 13:30
12.30-2.30            | 12:30 | 14:30
10.30 to 2            | 10:30 | 14:00
10:30 until 2.30      | 10:30 | 14:30
10.30-12              | 10:30 | 12:00
from 10:30 to 12:00   | 10:30 | 12:00
"""

OF_WEATHER = """
10:30 sunny until 11:00            | until 11:00
sunny until 11:00                  | until 11:00
rain from 11:30                    | from 11:30
21C at 11:00                       | at 11:00
21C at noon                        | at noon
sun70 from 10:30 until 12:00       | from 10:30 until 12:00
light breeze from 10:30-12:00      | from 10:30-12:00
"""


def rows(table: str) -> list[list[str]]:
    """The rows of a table, by column."""
    return [[cell.strip() for cell in row.split("|")] for row in table.strip().splitlines()]


@pytest.mark.parametrize(("typed", "readings"), rows(UNCLEAR))
def test_a_time_that_could_be_two_is_a_fault_with_both(key: Key, typed: str, readings: str) -> None:
    said, faults = read_visit_line(key, f"visit 2026-07-12 {typed} @ SU 431 118", today=TODAY)
    assert [fault.code for fault in faults] == ["time-unclear"]
    assert faults[0].message.endswith(f"could be {readings}.")
    assert said.place is not None
    assert said.place.square == "SU431118"


@pytest.mark.parametrize(("typed", "start", "end"), rows(CLEAR))
def test_a_time_that_says_which_half_of_the_day_is_read(key: Key, typed: str, start: str, end: str) -> None:
    said, faults = read_visit_line(key, f"visit 2026-07-12 {typed} @ SU 431 118", today=TODAY)
    assert faults == ()
    assert (said.start, said.end) == (start, end or None)


@pytest.mark.parametrize(("typed", "time"), rows(OF_WEATHER))
def test_a_time_right_behind_the_weather_is_a_fault(key: Key, typed: str, time: str) -> None:
    _, faults = read_visit_line(key, f"visit 2026-07-12 {typed} @ SU 431 118", today=TODAY)
    assert [(fault.code, fault.message.split('"')[1]) for fault in faults] == [("time-of-weather", time)]


def test_a_comma_parts_the_visits_time_from_the_weather(key: Key) -> None:
    said, faults = read_visit_line(key, "visit 10:30 @ SU 431 118 21C sunny, until 12:00", today=TODAY)
    assert (faults, said.start, said.end, said.weather) == ((), "10:30", "12:00", "21C, sunny")
    said, faults = read_visit_line(key, "visit 21C 10:30-12:00 @ SU 431 118", today=TODAY)
    assert (faults, said.start, said.end) == ((), "10:30", "12:00")


@pytest.mark.parametrize("typed", ["emperor 2.30 m", "emperor m at 2.30"])
def test_so_is_the_time_of_a_sighting(key: Key, typed: str) -> None:
    line = read_line(key, typed)
    assert isinstance(line, Fault)
    assert (line.code, "02:30 or 14:30" in line.message) == ("time-unclear", True)
    clear = read_line(key, typed.replace("2.30", "2.30pm"))
    assert not isinstance(clear, Fault)
    assert clear.said.time == "14:30"
