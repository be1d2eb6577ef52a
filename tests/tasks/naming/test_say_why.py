"""Why it is this and not the other, in one sentence: marks, contrary marks, and place and season apart."""

from __future__ import annotations

import pytest

from reedmace.keys.answers import read_trait
from reedmace.keys.model import Key
from reedmace.scoring.explain import Why
from reedmace.tasks.naming.say_why import as_json, closest_rival, sentence
from tarn import look


def why(key: Key, *weights: tuple[str, float], here: float = 0.0) -> Why:
    """Made weights for made answers."""
    answers = tuple((read_trait(key, trait), weight) for trait, weight in weights)
    return Why(answers, here, 0.0, here + sum(weight for _, weight in weights))


def said(key: Key, weights: Why) -> str:
    """Pale Rushlet (3) against Misty Rushlet (4), which end in the same word."""
    return sentence(key, 3, 4, weights)


def test_the_weightiest_mark_is_named_and_a_second_of_its_kind(tarn: Key) -> None:
    assert said(tarn, why(tarn, ("bar=present", 2.0), ("colour=blue", 9.0), ("collar=straight", 6.0))) == (
        "Pale rather than Misty because of colour of the body (blue) and collar (straight)."
    )


def test_brackets_never_stand_in_brackets(tarn: Key) -> None:
    """An unsure answer is said behind a comma there."""
    assert said(tarn, why(tarn, ("bar=present~", 9.0))) == (
        "Pale rather than Misty because of bar on the side (a dark bar, unsure)."
    )


def test_a_mark_that_hardly_weighs_is_not_named(tarn: Key) -> None:
    assert said(tarn, why(tarn, ("bar=present", 1.5), ("colour=blue", 9.0))) == (
        "Pale rather than Misty because of colour of the body (blue)."
    )


def test_a_contrary_mark_is_said(tarn: Key) -> None:
    assert said(tarn, why(tarn, ("bar=present", -4.0), ("colour=blue", 9.0))).endswith(
        ", although bar on the side (a dark bar) would fit Misty better."
    )


@pytest.mark.parametrize(
    ("here", "words"),
    [
        (-5.0, "; what is likely here and now speaks for Misty all the same."),
        (5.0, "; what is likely here and now says the same."),
        (20.0, "; but what is likely here and now counts for more than all that was seen."),
        (1.0, "(blue)."),
    ],
)
def test_place_and_season_are_said_apart(tarn: Key, here: float, words: str) -> None:
    assert said(tarn, why(tarn, ("colour=blue", 9.0), here=here)).endswith(words)


def test_where_nothing_seen_tells_them_apart_it_says_so(tarn: Key) -> None:
    assert said(tarn, why(tarn, ("bar=present", 0.2), here=8.0)) == (
        "Nothing that was seen speaks for Pale against Misty; but what is likely here and now counts for more than "
        "all that was seen."
    )


def test_the_weights_given_to_other_programs_add_up(tarn: Key) -> None:
    named = look(tarn, "wings=closed colour=blue bar=present collar=straight")
    other = closest_rival(named)
    assert other is not None
    told = as_json(named, other)
    parts = [one["weight"] for one in told["answers"]] + [told["when_and_where"], told["which_form"]]
    assert sum(parts) == pytest.approx(told["total"])
    assert told["sentence"].endswith(".")
