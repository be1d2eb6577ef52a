"""Where efforts are dealt evenly, look next saves more than half of them: the short form of `even_efforts.py`."""

from __future__ import annotations

from math import hypot

import pytest

from trial.even_efforts import evenly_dealt, tried

RUNS = 60


@pytest.mark.parametrize("always_seen", [False, True])
def test_look_next_takes_less_than_half_the_effort_of_information_and_hardly_more_answers(*, always_seen: bool) -> None:
    """Bounds: .45 of the effort, 1.3 times the answers, each with two standard errors of so few runs."""
    key = evenly_dealt(always_seen=always_seen)
    ours, textbook = tried(key, "look-next", RUNS), tried(key, "information", RUNS)
    for mine, theirs, bound in (
        (ours.effort, textbook.effort, 0.45),
        (ours.answers, textbook.answers, 1.3),
    ):
        ratio = mine.value / theirs.value
        error = ratio * hypot(mine.error / mine.value, theirs.error / theirs.value)
        assert ratio <= bound + 2 * error
        assert error < 0.2
    assert ours.settled_right.value > textbook.settled_right.value - 0.1
