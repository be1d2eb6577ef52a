"""Whole trials of a small made key: repeatable, and able to show an engine that promises too much."""

from __future__ import annotations

from random import Random

import pytest

from reedmace.keys.model import Key
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.scoring.tables import Tables
from reedmace.tasks.keys.try_key import Trial, species_left_out, try_key
from reedmace.trial.asking import BROKEN_OFF, NOTHING_LEFT, VERDICT, Engine, run
from reedmace.trial.nature import Nature
from reedmace.trial.plan import ORDERS, Plan
from reedmace.trial.summary import Summary
from scoring.tables_made import key_of, states

RUNS = 250
PALE, MISTY = "Tarnula pallida", "Tarnula nebula"


@pytest.fixture(scope="module")
def plain(tarn: Key) -> Trial:
    return try_key(tarn, Plan(runs=RUNS))


def test_the_same_seed_gives_the_same_trial_on_any_number_of_processes(tarn: Key) -> None:
    plan = Plan(runs=60, seed=7, leave_out=(PALE,))
    alone = try_key(tarn, plan)
    assert try_key(tarn, plan) == alone
    assert try_key(tarn, plan, jobs=3) == alone
    assert try_key(tarn, plan._replace(seed=8)) != alone


def test_every_run_has_one_outcome(plain: Trial) -> None:
    found = plain.summary
    outcomes = (found.settled_right, found.settled_wrong, found.narrowed_right, found.narrowed_wrong)
    assert sum(share.hits for share in (*outcomes, found.open, found.outside)) == found.runs == RUNS
    assert sum(one.runs for one in found.bins) == RUNS
    assert found.inside.hits == found.settled_right.hits + found.narrowed_right.hits + found.open.hits


def test_progress_is_told_and_ends_at_the_last_run(tarn: Key) -> None:
    told: list[tuple[int, int]] = []
    try_key(tarn, Plan(runs=25), on_progress=lambda done, count: told.append((done, count)))
    assert told == [(0, 25), (10, 25), (20, 25), (25, 25)]


@pytest.mark.parametrize("order", ORDERS)
def test_an_observer_who_never_errs_is_never_settled_wrong(order: str) -> None:
    """Eight species told apart by three marks, each to be seen in three places: no run is wrong in any order."""
    names = [f"Genus {word}" for word in "abcdefgh"]
    columns = [[(species >> (i % 3)) & 1 for species in range(8)] for i in range(9)]
    marks = [
        states(i, f"m{i}", 2, [(1.0, 0.0), (0.0, 1.0)], column, error=0.1, effort="glance")
        for i, column in enumerate(columns)
    ]
    plan = Plan(runs=200, misread=0, wrong_sex=0, echo_lapse=0, order=order)
    found = try_key(key_of(marks, names), plan, as_stated=True).summary
    assert (found.misread.hits, found.settled_wrong.hits, found.narrowed_wrong.hits, found.outside.hits) == (0, 0, 0, 0)
    assert found.settled_right.hits > 150


@pytest.fixture(scope="module")
def many_marks() -> Key:
    """Twelve species, twenty marks of three states, of which three in twenty are misread."""
    random = Random(5)
    cells = [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.7, 0.3, 0.0), (0.0, 0.2, 0.8)]
    marks = [
        states(i, f"m{i}", 3, cells, [random.randrange(5) for _ in range(12)], error=0.15, echo="e" if i < 3 else None)
        for i in range(20)
    ]
    return key_of(marks, [f"Genus {word}" for word in "abcdefghijkl"])


@pytest.fixture(scope="module")
def fitting(many_marks: Key) -> Summary:
    """The engine as it is, against observers about as good as it takes them for."""
    return try_key(many_marks, Plan(runs=RUNS)).summary


def test_an_engine_that_assumes_what_is_true_keeps_its_promises(many_marks: Key) -> None:
    """With the observers' own rates and lapses, what it states is as often right; chance alone is the rest."""
    true = DEFAULTS._replace(error_factor=1.0, echo_lapse=0.03, outside_prior=0.0001)
    found = try_key(many_marks, Plan(runs=2 * RUNS), assumptions=true).summary
    assert found.ece < 2 * found.ece_by_chance
    assert found.settled_right.value > 0.9


def test_doubled_misreads_and_chains_make_it_worse(many_marks: Key, fitting: Summary) -> None:
    worse = try_key(many_marks, Plan(runs=RUNS, misread=2, chain=3)).summary
    assert worse.misread.value > 1.8 * fitting.misread.value
    assert worse.settled_right.value < fitting.settled_right.value - 3 * worse.settled_right.error
    assert worse.settled_wrong.value > fitting.settled_wrong.value + 2 * worse.settled_wrong.error
    assert worse.ece > fitting.ece


def test_an_engine_that_assumes_too_few_errors_is_found_out(many_marks: Key, fitting: Summary) -> None:
    """It settles sooner, is wrong more often, and its probabilities are no promise any more."""
    sure = DEFAULTS._replace(error_factor=0.05, echo_lapse=0.0, settle_outside=1.0, outside=1.0)
    found = try_key(many_marks, Plan(runs=RUNS), assumptions=sure).summary
    assert found.answers.value < fitting.answers.value
    assert found.settled_wrong.value > fitting.settled_wrong.value + 3 * found.settled_wrong.error
    assert found.ece > 2 * fitting.ece


def test_greedy_needs_fewer_answers_than_chance_and_look_next_less_effort(many_marks: Key, fitting: Summary) -> None:
    of_order = {order: try_key(many_marks, Plan(runs=100, order=order)).summary for order in ("greedy", "random")}
    assert of_order["greedy"].answers.value < 0.9 * of_order["random"].answers.value
    assert fitting.effort.value < 0.9 * of_order["random"].effort.value


def test_exhaustive_greedy_begins_like_greedy_and_goes_on_where_that_stops(many_marks: Key) -> None:
    """The same insects, slips and looks; where greedy stopped for want of hope, it looks on."""
    engine = Engine(many_marks, Tables(many_marks))
    of_order = {}
    for order in ("greedy", "exhaustive"):
        plan = Plan(runs=120, misread=2, order=order)
        nature = Nature(many_marks, plan, ())
        of_order[order] = [run(engine, nature, plan, number) for number in range(plan.runs)]
    longer = 0
    for greedy, exhaustive in zip(of_order["greedy"], of_order["exhaustive"], strict=True):
        assert exhaustive.reports[: len(greedy.reports)] == greedy.reports
        assert greedy.end != VERDICT or exhaustive == greedy
        longer += len(exhaustive.reports) > len(greedy.reports)
    assert longer > 0


def test_information_takes_every_mark_for_one_that_is_seen(many_marks: Key) -> None:
    """It asks what exhaustive greedy would ask, were each mark of the engine's key always seen."""
    hidden = many_marks.with_characters(
        mark._replace(visible=0.05 if mark.index % 2 else 0.9) for mark in many_marks.characters
    )
    seen = many_marks.with_characters(mark._replace(visible=1.0) for mark in many_marks.characters)
    asked = {}
    for order, believed in (("information", hidden), ("exhaustive", seen), ("exhaustive", hidden)):
        plan = Plan(runs=40, order=order)
        nature, engine = Nature(hidden, plan, ()), Engine(hidden, Tables(believed))
        runs = [run(engine, nature, plan, number) for number in range(plan.runs)]
        asked[order, believed is hidden] = [[one.answer.character for one in ended.reports] for ended in runs]
    assert asked["information", True] == asked["exhaustive", False]
    assert asked["information", True] != asked["exhaustive", True]


def test_a_run_ends_with_a_verdict_or_with_nothing_left_or_is_counted_as_broken_off(tarn: Key) -> None:
    """No credit for stopping early."""
    found = try_key(tarn, Plan(runs=RUNS, answers=2)).summary
    settled = found.settled_right.hits + found.settled_wrong.hits + found.outside.hits
    assert settled + found.nothing_left.hits + found.broken_off.hits == RUNS
    assert found.broken_off.hits > RUNS / 3
    assert found.looks.value <= 2
    assert {BROKEN_OFF, NOTHING_LEFT} == {"broken off", "nothing left"}


def test_rates_too_low_to_be_believed_are_raised_and_said(tarn: Key) -> None:
    """A beginner errs in ten answers of a hundred at least, unless the key's own rates are asked for."""
    careful = tarn.with_characters(
        character._replace(misread={eye: (m / 4, i / 4) for eye, (m, i) in character.misread.items()})
        for character in tarn.characters
    )
    raised = try_key(careful, Plan(runs=RUNS))
    assert raised.plan.scale > 2
    assert raised.summary.stated_misread == pytest.approx(0.1, rel=0.05)
    stated = try_key(careful, Plan(runs=RUNS), as_stated=True)
    assert stated.plan.scale == 1
    assert stated.summary.stated_misread < 0.05


def test_leaving_out_really_leaves_out(tarn: Key) -> None:
    """A species the engine does not know is never named, and its sister or none of them is."""
    trial = try_key(tarn, Plan(runs=120, leave_out=(PALE,)))
    assert trial.all_left_out is not None
    (one,) = trial.left_out
    assert tarn.species[one.species or 0].name == PALE
    assert one._replace(species=None) == trial.all_left_out
    assert one.runs == 120
    assert one.settled_wrong.hits >= one.other_genus.hits
    assert one.settled_wrong.hits + one.narrowed.hits + one.open.hits + one.outside.hits == one.runs
    assert one.narrowed.hits > 0
    assert trial.summary == try_key(tarn, Plan(runs=120)).summary._replace()


def test_without_its_genus_a_left_out_species_looks_more_foreign(tarn: Key) -> None:
    plan = Plan(runs=200, leave_out=(PALE,))
    sister = try_key(tarn, plan).all_left_out
    alone = try_key(tarn, plan._replace(leave_out_genus=True)).all_left_out
    assert sister is not None
    assert alone is not None
    assert alone.area.value > sister.area.value
    assert alone.kin_named.hits == 0


def test_each_means_every_regular_species_in_turn(tarn: Key) -> None:
    """Vagrants, not a hundredth as common as the commonest even where they are commonest, are no regulars."""
    last = tarn.species[-1]
    vagrant = tarn._replace(species=(*tarn.species[:-1], last._replace(abundance=(0.0002, 0.00002))))
    named = species_left_out(vagrant, ["each"])
    assert named == tuple(species.name for species in tarn.species[:-1])
    found = try_key(vagrant, Plan(runs=50, leave_out=named))
    assert [tarn.species[one.species or 0].name for one in found.left_out] == list(named)
    assert sum(one.runs for one in found.left_out) == 50
