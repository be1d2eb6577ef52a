"""Open data as keys: as often right as error-tolerant Bayes, and about as often as it claims.

The short form: five repeats of ten folds, with room for their standard error. The full one, twenty repeats, is
`python tests/open_data/full.py`; its figures are in docs/open-data.md.
"""

from __future__ import annotations

import pytest

from open_data.key_from_table import key_from
from open_data.tables import Table, iris, penguins, wine
from open_data.trials import SETTINGS, Setting, engine, expected_calibration_error, plain_reference, run

REPEATS = 5
# Top-1 of error-tolerant Bayes assuming .10, by setting, worked out apart from this program beforehand.
ANCHORS = {
    "penguins": (0.962, 0.940, 0.931, 0.875, 0.859),
    "iris": (0.953, 0.945, 0.929, 0.901, 0.865),
}
ROOM = 0.015
ERRORS = 2.6  # standard errors of room: one chance in two hundred


@pytest.mark.parametrize("at", range(len(SETTINGS)), ids=map(str, SETTINGS))
@pytest.mark.parametrize("make", [penguins, iris], ids=["penguins", "iris"])
def test_as_often_right_as_error_tolerant_bayes(make, at):
    table = make()
    found = run(table, engine(binned=False), SETTINGS[at], repeats=REPEATS)
    assert found.top1 >= ANCHORS[table.name][at] - ROOM - ERRORS * found.error


@pytest.mark.parametrize("make", [penguins, iris, wine], ids=["penguins", "iris", "wine"])
def test_right_about_as_often_as_claimed(make):
    found = run(make(), engine(binned=False), Setting(0.10), repeats=REPEATS)
    assert found.ece <= 0.05


@pytest.mark.parametrize("make", [penguins, iris, wine], ids=["penguins", "iris", "wine"])
def test_with_numbers_in_steps_no_worse_than_plain_counts(make):
    """The same steps, the same folds, the same flips: the engine's channel against an even error of .10."""
    table = make()
    setting = Setting(0.10)
    ours = run(table, engine(binned=True), setting, repeats=3)
    plain = run(table, plain_reference, setting, repeats=3)
    assert ours.top1 >= plain.top1 - ROOM
    assert ours.ece <= 0.06


TINY = Table(
    "tiny",
    ("colour", "length"),
    [["red", 1.0], ["red", 2.0], [None, 3.0], ["blue", 7.0], ["blue", 8.0], ["red", 9.0]],
    ["short", "short", "short", "long", "long", "long"],
)


def test_a_table_becomes_a_key():
    made = key_from(TINY, binned=False)
    colour, length = made.key.characters
    assert [state.id for state in colour.states] == ["blue", "red"]
    # Two of two short ones are red, one of three long ones; each state counts once more than seen.
    assert colour.cells == ((1 / 4, 3 / 4), (3 / 5, 2 / 5))
    # 1, 2, 3 and 7, 8, 9 on a scale where 1 is 0 and 9 is 100.
    assert length.cells == ((12.5, 12.5), (87.5, 12.5))
    (only,) = made.answers([None, 5.0])
    assert (only.character, only.low, only.high) == (1, 50.0, 50.0)


def test_a_word_the_key_does_not_know_is_no_answer():
    assert key_from(TINY, binned=True).answers(["green", None]) == []


def test_calibration_error_by_hand():
    """Four answers claimed at .9 of which three are right, one at .5 that is wrong: .8·.15 + .2·.5."""
    named = [(True, 0.9), (True, 0.9), (True, 0.9), (False, 0.9), (False, 0.5)]
    assert expected_calibration_error(named) == pytest.approx(0.8 * 0.15 + 0.2 * 0.5)
