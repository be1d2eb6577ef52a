"""Runs add up as they should; the area under the curve agrees with scikit-learn."""

from __future__ import annotations

from random import Random

import pytest
from sklearn.metrics import roc_auc_score

from reedmace.keys.answers import Answer
from reedmace.trial.asking import Run
from reedmace.trial.left_out import area_under, foreignness
from reedmace.trial.observer import Report
from reedmace.trial.summary import Share, summarise


def made(number: int, species: int, word: str, *members: int, best: int = 0, probability: float = 0.97) -> Run:
    """A run of two looks: one answer, wrong in every other run, and one that told nothing."""
    reports = (Report(Answer(0, "s0", (0,)), number % 2 == 1, 0.1), Report(Answer(1, "can't tell"), None, None))
    return Run(
        number, species, 0, (), None, None, word, members, 0, best, probability, 0.1, None, "verdict", reports, 3.0
    )


RUNS = [
    *(made(i, 0, "settled", 0) for i in range(6)),
    made(6, 1, "settled", 0),
    made(7, 1, "settled", 0),
    made(8, 1, "narrowed", 0, 1, probability=0.55),
    made(9, 1, "narrowed", 0, 2, 3, 4, probability=0.55),
    made(10, 1, "open", best=1, probability=0.2),
    made(11, 1, "outside", best=1, probability=1.0),
]


def test_shares_and_means() -> None:
    found = summarise(RUNS)
    assert [
        share.hits for share in (found.settled_right, found.settled_wrong, found.narrowed_right, found.narrowed_wrong)
    ] == [6, 2, 1, 1]
    assert (found.open.hits, found.outside.hits, found.inside.hits, found.named.hits) == (1, 1, 8, 7)
    assert found.mean_set.value == 3
    assert (found.answers.value, found.looks.value, found.effort.median) == (1, 2, 3)
    assert found.misread == Share(6, 12)
    assert found.stated_misread == pytest.approx(0.1)


def test_the_calibration_error_is_the_mean_gap_between_stated_and_right() -> None:
    """Worked by hand: 9 runs at 0.9 to 1 (7 right), 2 at 0.55 (none), 1 at 0.2 (right)."""
    found = summarise(RUNS)
    top = found.bins[9]
    assert (top.runs, top.right.hits) == (9, 7)
    stated = (8 * 0.97 + 1.0) / 9
    assert top.stated == pytest.approx(stated)
    assert found.ece == pytest.approx((9 * abs(stated - 7 / 9) + 2 * 0.55 + 1 * 0.8) / 12)


def test_the_worst_confusions_come_first_with_the_shortest_run_that_led_there() -> None:
    first, second = summarise(RUNS).pairs
    assert (first.true, first.named, first.word, first.runs, first.of, first.example.number) == (
        1,
        (0,),
        "settled",
        2,
        6,
        6,
    )
    assert (second.named, second.word) == ((0, 2, 3, 4), "narrowed")


def test_a_standard_error_is_that_of_a_share_and_never_nothing() -> None:
    assert Share(200, 1000).error == pytest.approx((0.2 * 0.8 / 1000) ** 0.5, rel=0.01)
    assert 0 < Share(0, 1000).error < 0.001
    assert Share(0, 0).error == 0


def test_no_runs_add_up_to_nothing() -> None:
    with pytest.raises(ValueError, match="a trial needs a run"):
        summarise([])


@pytest.mark.parametrize("ties", [False, True])
def test_the_area_under_the_curve_is_scikit_learns(ties: bool) -> None:
    random = Random(3)
    foreign = [round(random.gauss(1, 1), 0 if ties else 9) for _ in range(80)]
    own = [round(random.gauss(0, 1), 0 if ties else 9) for _ in range(120)]
    expected = roc_auc_score([1] * 80 + [0] * 120, foreign + own)
    found = area_under(foreign, own)
    assert found.value == pytest.approx(expected)
    assert 0.02 < found.error < 0.05


def test_both_signs_of_a_stranger_in_one_number() -> None:
    """Odds of one to four and a tail of one in twenty are five to one; without a fit the odds are all there is."""
    run = made(0, 1, "narrowed", 1)._replace(outside=0.2, fit=0.05)
    assert foreignness(run) == pytest.approx(1.6094379124341003)
    assert foreignness(run._replace(fit=None)) == pytest.approx(-1.3862943611198906)
    assert foreignness(run._replace(outside=1.0, fit=0.0)) > foreignness(run) > foreignness(run._replace(outside=0.0))
