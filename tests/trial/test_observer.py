"""The simulated observer errs as often as it says it does, no more and no less."""

from __future__ import annotations

from collections import Counter
from math import sqrt
from random import Random

import pytest

from reedmace.keys.model import Character, Guise, State
from reedmace.trial.nature import Encounter, Nature
from reedmace.trial.observer import SEEN, SLIP, Observer, Report, mistaken_for
from reedmace.trial.plan import Plan
from scoring.tables_made import key_of, number, states

LOOKS = 4000
STEADY = Plan(wrong_sex=0, echo_lapse=0)  # nobody lapses as a whole
NAMES = ["Genus primum", "Genus alterum"]


def mark(index: int = 0, name: str = "mark", *, error: float = 0.2, **more: object) -> Character:
    """A character of four states; the first species shows the first state, the second the last."""
    cells = [(1.0, 0.0, 0.0, 0.0), (0.0, 0.0, 0.0, 1.0)]
    return states(index, name, 4, cells, (0, 1), error=error, **more)


def look(
    plan: Plan, *characters: Character, guises: list[Guise] | None = None, looks: int = LOOKS
) -> list[list[Report]]:
    """Reports of many observers on all characters of insects of the first guise."""
    nature = Nature(key_of(characters, NAMES, guises=guises), plan)
    told = []
    for run in range(looks):
        random = Random(run)
        marks = tuple(nature.mark(character, 0, random) for character in nature.key.characters)
        observer = Observer(nature, Encounter(0, 0, (), None, None, marks), random)
        told.append([observer.look(character.index) for character in characters])
    return told


def near(count: int, of: int, chance: float) -> None:
    """So many of so many fit a chance: within four standard errors, which one test in 16,000 leaves by bad luck."""
    assert abs(count / of - chance) < 4 * sqrt(chance * (1 - chance) / of), (count, of, chance)


@pytest.mark.parametrize(
    ("factor", "scale", "rate"), [(1, 1, 0.2), (2, 1, 0.4), (0.5, 1, 0.1), (1, 1.5, 0.3), (9, 1, 0.9)]
)
def test_misreads_are_as_frequent_as_the_key_states_times_the_factors(factor: float, scale: float, rate: float) -> None:
    """At most nine in ten."""
    told = [one for (one,) in look(STEADY._replace(misread=factor, scale=scale), mark()) if one.wrong is not None]
    near(sum(bool(one.wrong) for one in told), len(told), rate)
    assert all(one.rate == pytest.approx(0.2 * scale) for one in told)
    assert all(one.wrong == (one.answer.states != (0,)) for one in told)


def test_half_of_the_error_goes_to_the_states_easily_confused_and_half_to_all_others() -> None:
    told = [one.answer.states for (one,) in look(STEADY, mark(confused=((0, 2),))) if one.wrong]
    found = Counter(told)
    near(found[(2,)], len(told), 1 / 2 + 1 / 6)
    near(found[(1,)], len(told), 1 / 6)
    near(found[(3,)], len(told), 1 / 6)


def test_ordered_states_are_confused_the_more_the_nearer_they_are() -> None:
    weights = mistaken_for(mark(ordered=True), 0)
    assert weights[0] == 0
    assert weights[1] > weights[2] > weights[3] > 0
    assert sum(weights) == pytest.approx(1)


def test_a_mark_is_missed_and_invented_at_rates_of_their_own() -> None:
    """`missed` where it is there, then mostly as "nothing there"; `invented` where it is not."""
    titles = tuple(State(f"s{k}", f"s{k}", (), k == 3) for k in range(4))
    rates = {"beginner": (0.4, 0.1), "practised": (0.0, 0.0)}
    there = mark(states=titles, misread=rates)
    told = [one for (one,) in look(STEADY, there) if one.wrong is not None]
    missed = [one for one in told if one.wrong]
    near(len(missed), len(told), 0.4)
    near(sum(one.answer.states == (3,) for one in missed), len(missed), 1 / 2 + 1 / 6)
    not_there = there._replace(column=(1, 0))
    told = [one for (one,) in look(STEADY, not_there) if one.wrong is not None]
    near(sum(bool(one.wrong) for one in told), len(told), 0.1)
    assert not any(one.wrong for (one,) in look(STEADY._replace(eye="practised"), there))


@pytest.mark.parametrize("eye", ["beginner", "practised"])
@pytest.mark.parametrize("effort", ["glance", "look", "close", "hand"])
def test_what_is_seen_depends_on_the_effort(eye: str, effort: str) -> None:
    """… and never exceeds the key's own chance to see the mark."""
    told = look(STEADY._replace(eye=eye), mark(effort=effort), mark(1, "rarely", effort=effort, visible=0.05))
    near(sum(not one.answer.says_nothing for one, _ in told), LOOKS, SEEN[eye][effort])
    near(sum(not other.answer.says_nothing for _, other in told), LOOKS, 0.05)


def test_a_miss_makes_the_next_miss_likelier_by_the_chain() -> None:
    told = look(STEADY._replace(chain=3), mark(), mark(1, "next"), looks=8000)
    after_miss = [bool(second.wrong) for first, second in told if first.wrong and second.wrong is not None]
    after_hit = [bool(second.wrong) for first, second in told if first.wrong is False and second.wrong is not None]
    near(sum(after_miss), len(after_miss), 0.6)
    near(sum(after_hit), len(after_hit), 0.2)


def test_one_lapse_colours_a_whole_echo_group_and_nothing_else() -> None:
    """With a lapse sure and no misreads, all of the group comes from a species drawn evenly."""
    group = [mark(i, f"m{i}", error=0, echo="cast", effort="glance") for i in range(2)]
    told = look(STEADY._replace(echo_lapse=1), *group, mark(2, "alone", error=0))
    both = [
        (one.answer.states, other.answer.states)
        for one, other, _ in told
        if one.wrong is not None and other.wrong is not None
    ]
    assert set(both) == {((0,), (0,)), ((3,), (3,))}
    near(both.count(((3,), (3,))), len(both), 0.5)
    assert not any(alone.wrong for _, _, alone in told)


def test_sex_is_misjudged_as_a_whole() -> None:
    """The marks that tell it come from another guise of the same species; other marks do not."""
    guises = [
        Guise(0, "male", "male", "male", "mature", "", 0.5, (), "sight", ""),
        Guise(0, "female", "female", "female", "mature", "", 0.5, (), "sight", ""),
        Guise(1, "male", "male", "male", "mature", "", 1.0, (), "sight", ""),
    ]
    by_sex = {"cells": ((1.0, 0, 0, 0), (0, 0, 0, 1.0)), "column": (0, 1, 0), "error": 0.0}
    made = [states(i, f"m{i}", 4, by_sex["cells"], by_sex["column"], sexing=i < 2) for i in range(3)]
    told = look(STEADY._replace(wrong_sex=0.3), *made, guises=guises)
    marks = [
        (one.answer.states, other.answer.states)
        for one, other, _ in told
        if not (one.answer.says_nothing or other.answer.says_nothing)
    ]
    assert set(marks) == {((0,), (0,)), ((3,), (3,))}
    near(marks.count(((3,), (3,))), len(marks), 0.3)
    assert not any(plain.wrong for _, _, plain in told)


def test_a_question_that_makes_no_sense_is_seldom_answered() -> None:
    """With a state for "nothing there" that is what is said; without one, only a misread says anything."""
    nowhere = mark()._replace(column=(-2, 0))
    told = [one for (one,) in look(STEADY, nowhere._replace(effort="glance"))]
    near(sum(not one.answer.says_nothing for one in told), LOOKS, 0.95 * 0.2)
    titles = tuple(State(f"s{k}", f"s{k}", (), k == 1) for k in range(4))
    told = [one for (one,) in look(STEADY, nowhere._replace(effort="glance", states=titles))]
    near(sum(one.answer.states == (1,) for one in told), LOOKS, 0.95 * 0.8)
    assert all(one.wrong == (one.answer.states != (1,)) for one in told if not one.answer.says_nothing)


def test_a_length_by_eye_is_guessed_too_long_and_within_its_half_width() -> None:
    """95 % within the half-width around the biased truth, but for the slips."""
    length = number(0, "length", [(40.0, 1e-9), (60.0, 1e-9)], (15, 95))
    length = length._replace(by_eye={"beginner": (0.25, 0.08)}, effort="glance")
    told = [one.answer.low for (one,) in look(STEADY, length) if one.answer.low is not None]
    inside = sum(40 * 0.83 <= value <= 40 * 1.33 for value in told)
    expected = (1 - SLIP["beginner"]) * 0.95 + SLIP["beginner"] * 20 / 80
    near(inside, len(told), expected)
    assert all(15 <= value <= 95 for value in told)
    exact = [one.answer for (one,) in look(STEADY._replace(misread=0), length) if one.answer.low is not None]
    assert {round(answer.low or 0, 6) for answer in exact} == {40.0}


def test_an_unsure_answer_is_more_often_wrong() -> None:
    told = [one for (one,) in look(STEADY, mark()) if one.wrong is not None]
    unsure = [one for one in told if one.answer.unsure]
    sure = [one for one in told if not one.answer.unsure]
    assert sum(bool(one.wrong) for one in unsure) / len(unsure) > 2 * sum(bool(one.wrong) for one in sure) / len(sure)
    assert all(one.answer.typed.endswith("~") for one in unsure)


def test_the_errors_met_do_not_depend_on_the_order_of_looking() -> None:
    """Trials of two orders compare orders, not luck."""
    nature = Nature(key_of([mark(), mark(1, "other")], NAMES), Plan())
    for run in range(50):
        met = Encounter(0, 0, (), None, None, (0, 0))
        one, other = (Observer(nature, met, Random(run)) for _ in range(2))
        assert [one.look(0), one.look(1)] == [other.look(1), other.look(0)][::-1]
