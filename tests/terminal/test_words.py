"""Numbers as words: chances, weights of evidence, counts and lists as a person would say them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.terminal.words import joined, percent, plural, times


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (0.98, "98 %"),
        (0.5, "50 %"),
        (0.0051, "1 %"),
        (0.0049, "<1 %"),
        (0, "<1 %"),
        (0.9951, ">99 %"),
        (1, ">99 %"),
        (0.994, "99 %"),
    ],
)
def test_a_chance_is_never_nought_and_never_certain(chance: float, said: str) -> None:
    """Neither is ever true."""
    assert percent(chance) == said


@pytest.mark.parametrize(
    ("decibans", "said"),
    # 10 decibans are ten to one, 20 a hundred to one (I. J. Good 1950); 3 are about two to one.
    [
        (10, "about 10 times"),
        (-10, "about 10 times"),
        (20, "about 100 times"),
        (3.0103, "about 2 times"),
        (13, "about 20 times"),
        (0, "hardly at all"),
        (0.5, "hardly at all"),
        (31, "more than 1000 times"),
    ],
)
def test_a_weight_is_said_as_how_many_times_likelier(decibans: float, said: str) -> None:
    """The sign is the caller's to say."""
    assert times(decibans) == said


@given(st.floats(0.8, 30))
def test_the_factor_said_is_near_the_factor_meant(decibans: float) -> None:
    """Rounded to a number people say, it is never off by more than a third."""
    said = float(times(decibans).split()[1])
    assert 0.75 < said / 10 ** (decibans / 10) < 1.34


@given(st.floats(-400, 400), st.floats(-400, 400))
def test_more_evidence_is_never_said_as_less(one: float, other: float) -> None:
    """The words keep the order of the weights."""

    def rank(weight: float) -> float:
        words = times(weight)
        return {"hardly at all": 1.0, "more than 1000 times": 1001.0}.get(words) or float(words.split()[1])

    small, large = sorted((abs(one), abs(other)))
    assert rank(small) <= rank(large)


@pytest.mark.parametrize(
    ("names", "said"), [([], ""), (["A"], "A"), (["A", "B"], "A and B"), (["A", "B", "C"], "A, B and C")]
)
def test_names_are_joined(names: list[str], said: str) -> None:
    """With commas and one "and"."""
    assert joined(names) == said


def test_one_and_many() -> None:
    """Also where the plural is no s."""
    assert (plural(1, "sighting"), plural(0, "sighting"), plural(2, "query", "queries")) == (
        "1 sighting",
        "0 sightings",
        "2 queries",
    )
