"""The short form of the calibration figures: sixty observers with the shipped key (long ones: docs/trials.md)."""

from __future__ import annotations

import pytest

from reedmace.keys.model import Key
from reedmace.tasks.keys.try_key import try_key
from reedmace.trial.plan import Plan
from reedmace.trial.summary import Share, Summary


@pytest.fixture(scope="module")
def beginners(key: Key) -> Summary:
    return try_key(key, Plan(runs=60, seed=2), jobs=2).summary


def at_most(share: Share, bound: float) -> bool:
    """Within three standard errors of the bound."""
    return share.value <= bound + 3 * share.error


def test_beginners_are_seldom_told_a_wrong_name(beginners: Summary) -> None:
    """Settled wrong at most 2 %, the true species inside what is said at least 96 %, false alarms at most 4 %."""
    assert at_most(beginners.settled_wrong, 0.02)
    assert at_most(Share(beginners.runs - beginners.inside.hits, beginners.runs), 0.04)
    assert at_most(beginners.outside, 0.04)


def test_beginners_err_as_often_as_the_trade_believes(beginners: Summary) -> None:
    """In a tenth of the answers or more, by the key's own rates alone."""
    assert beginners.stated_misread >= 0.10
    assert beginners.misread.value >= 0.10


def test_most_beginners_are_told_the_right_name(beginners: Summary) -> None:
    assert beginners.settled_right.value + 3 * beginners.settled_right.error >= 0.75
    assert beginners.ece < 0.02 + 2 * beginners.ece_by_chance
