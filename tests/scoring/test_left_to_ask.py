"""What hangs on something that is not there is not asked."""

from __future__ import annotations

import pytest

from reedmace.keys.answers import read_trait, read_traits
from reedmace.keys.model import Key
from reedmace.scoring.left import left_to_ask
from reedmace.trial.nature import without_what_needs

STRIPES = {"shoulder-stripe-form", "shoulder-stripe-colour"}


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("shoulder-stripes=none", set()),
        ("shoulder-stripes=none~", STRIPES),
        ("shoulder-stripes=none/thin", STRIPES),
        ("shoulder-stripes=can't tell", STRIPES),
        ("shoulder-stripe-form=entire", {"shoulder-stripe-colour"}),
    ],
)
def test_stripes_that_are_not_there_have_no_colour_to_be_asked(key: Key, said: str, asked: set[str]) -> None:
    """Whoever is not sure that there are none may still look."""
    left = {one.id for one in left_to_ask(key, read_traits(key, [said]))}
    assert left & STRIPES == asked


@pytest.mark.parametrize("said", ["none", "no", "nothing", "missing"])
def test_none_of_what_is_not_there_is_taken_as_cannot_tell(key: Key, said: str) -> None:
    """It says again what was said of the stripes themselves, and must not count twice."""
    answer = read_trait(key, f"shoulder-stripe-colour={said}")
    assert answer.says_nothing


def test_a_simulated_observer_sees_no_colour_of_stripes_that_are_not_there(key: Key) -> None:
    """The key's frequencies are of each mark by itself; an insect without stripes has none of their marks."""
    stripes, colour = key.character("shoulder-stripes"), key.character("shoulder-stripe-colour")
    marks: list[float | None] = [0.0] * len(key.characters)
    marks[stripes.index] = float(next(at for at, state in enumerate(stripes.states) if state.absent))
    assert without_what_needs(key.characters, marks)[colour.index] is None
    marks[stripes.index] = 1.0
    assert without_what_needs(key.characters, marks)[colour.index] == 0.0
