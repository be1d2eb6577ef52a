"""A doubt about a sex, a stage or a number is not a doubt about the name, and none of them is recorded as certain."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shorthand.line import Line, read_line
from reedmace.tasks.shorthand.line_words import show_line

# What is typed | how it was understood, in words.
OF_A_PART = """
emperor 2m? 1f                 | 2 and 1 female, sex in doubt; remark: 2m?
2m 1f? emperor                 | 2 male and 1, sex in doubt; remark: 1f?
emperor f?                     | present, not counted, sex in doubt; remark: f?
emperor (f?)                   | present, not counted, sex in doubt; remark: f?
emperor m/f?                   | present, not counted, sex in doubt; remark: m/f?
emperor 2 m ? 1 f              | 2 and 1 female, sex in doubt; remark: 2 m ?
2 m emperor, 1 probable f      | 2 male and 1, sex in doubt; remark: 1 probable f
emperor 1m?, 2f?               | 1 and 2, sex in doubt; remark: 1m?; 2f?
emperor 3 (2m? 1f)             | 2 and 1 female, 3 in all, sex in doubt; remark: 2m?
emperor 10 (2f?)               | 8 and 2, 10 in all, sex in doubt; remark: 2f?
emperor 5m? incl 2 ten         | 3 and 2 teneral, 5 in all, sex in doubt; remark: 5m?
emperor teneral?               | present, not counted, stage in doubt; remark: teneral?
emperor 2ten?                  | 2, stage in doubt; remark: 2ten?
emperor 5m 3 ten?              | 5 male and 3, stage in doubt; remark: 3 ten?
emperor 2 f imm?               | 2 female, stage in doubt; remark: imm?
emperor f ovip?                | female, not counted, behaviour in doubt; remark: ovip?
emperor 12?                    | about 12, number in doubt; remark: 12?
emperor 12? m                  | about 12 male, number in doubt; remark: 12?
emperor 3 (1 f prob)           | 2 and 1, 3 in all, sex in doubt; remark: 1 f prob
emperor 2 ?f                   | 2, sex in doubt; remark: 2 ?f
?f emperor                     | present, not counted, sex in doubt; remark: ?f
emperor 40+?                   | at least 40, number in doubt; remark: 40+?
"""
OF_THE_NAME = """
banded dem f ?                 | female, not counted, name uncertain
banded dem? 2m                 | 2 male, name uncertain
? banded dem 2m                | 2 male, name uncertain
banded dem 2m, ? 3f            | 2 male and 3 female, name uncertain
banded dem 12 ?                | 12, name uncertain
12 ? banded dem                | 12, name uncertain
5 prob banded dem              | 5, name probable
banded dem poss f              | female, not counted, name uncertain
banded dem exuvia?             | present, not counted, exuvia, name uncertain
banded dem f ? photo           | female, not counted, name uncertain, evidence: photo
"""


def rows(text: str) -> list[list[str]]:
    """The rows of a table of lines."""
    return [[cell.strip() for cell in row.split("|")] for row in text.strip().splitlines()]


@pytest.mark.parametrize(("typed", "understood"), rows(OF_A_PART))
def test_a_doubt_written_to_a_sex_stage_or_number_leaves_it_open(key: Key, typed: str, understood: str) -> None:
    """The words stay in the remarks, nothing is counted otherwise, and the name is not doubted."""
    line = read_line(key, typed)
    assert isinstance(line, Line), line
    assert show_line(line) == understood
    assert line.said.certainty is None


@pytest.mark.parametrize(("typed", "understood"), rows(OF_THE_NAME))
def test_a_doubt_at_the_end_or_beside_the_name_is_of_the_name(key: Key, typed: str, understood: str) -> None:
    """So is that of a cast skin: whose it was is in doubt, and not that it was one."""
    line = read_line(key, typed)
    assert isinstance(line, Line), line
    assert show_line(line) == understood


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("emperor 2m, maybe 1 f", "maybe 1 f"),
        ("12 emperor, prob 3 ten", "prob 3 ten"),
        ("emperor 2, possibly 3", "possibly 3"),
        ("emperor 2m + ?", "?"),
    ],
)
def test_a_doubt_whether_there_were_more_is_not_taken_for_one_of_the_name(key: Key, typed: str, said: str) -> None:
    """What is doubted can be kept as a remark, as the hint says."""
    fault = read_line(key, typed)
    assert isinstance(fault, Fault), fault
    assert fault.code == "doubt-unclear"
    assert f'"{said}"' in fault.hint
    line = read_line(key, typed.replace(said, f'"{said}"'))
    assert isinstance(line, Line), line
    assert line.said.certainty is None


def test_a_doubted_pair_is_asked_about(key: Key) -> None:
    """It would be two insects, or none."""
    fault = read_line(key, "common blue 2 cop?")
    assert isinstance(fault, Fault)
    assert fault.code == "pairs-unclear"
    assert '"2 cop?"' in fault.hint
