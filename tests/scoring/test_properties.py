"""What must hold for any key and any answers; each class is named after a sentence of the method."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.keys.answers import Answer
from reedmace.keys.model import NOT_APPLICABLE, NOT_KNOWN
from reedmace.scoring.assessment import assess
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.tables_made import answer, key_of, states

COUNT = 3  # states


@st.composite
def keys(draw):
    """Any small key: cells certain, variable, not known or not applicable, with and without echoes."""
    species = draw(st.integers(2, 5))
    frequency = st.lists(st.floats(0.01, 1), min_size=COUNT, max_size=COUNT).map(lambda w: [x / sum(w) for x in w])
    characters = []
    for index in range(draw(st.integers(1, 5))):
        cells = draw(st.lists(frequency, min_size=1, max_size=3))
        cell = st.integers(0, len(cells) - 1) | st.sampled_from([NOT_KNOWN, NOT_APPLICABLE])
        column = draw(st.lists(cell, min_size=species, max_size=species))
        echo = draw(st.sampled_from([None, None, "one", "two"]))
        error = draw(st.floats(0.01, 0.4))
        characters.append(states(index, f"c{index}", COUNT, cells, column, error=error, echo=echo))
    return key_of(characters, [f"Genus{i % 2} s{chr(97 + i)}" for i in range(species)])


@st.composite
def looks(draw):
    """A key and answers to some of its characters, in any order."""
    key = draw(keys())
    count = len(key.characters)
    chosen = draw(st.lists(st.integers(0, count - 1), unique=True, max_size=count))
    subset = st.lists(st.integers(0, COUNT - 1), unique=True, min_size=1, max_size=COUNT)
    answers = [answer(one, *sorted(draw(subset)), unsure=draw(st.booleans())) for one in chosen]
    return key, answers


def after(key, answers, assumptions=DEFAULTS):
    tables = Tables(key, "beginner", assumptions)
    return posterior(tables, prior(key, Circumstances(), assumptions), answers)


class TestPosteriorsSumToOne:
    @given(looks())
    def test_for_any_key_and_answers(self, look):
        found = after(*look)
        assert sum(found.species) == pytest.approx(1, abs=1e-12)
        assert sum(found.guises) == pytest.approx(1, abs=1e-12)
        assert 0 <= found.outside <= 1


class TestAnswerOrderNeverMatters:
    @given(looks(), st.randoms(use_true_random=False))
    def test_to_the_last_bit(self, look, chance):
        key, answers = look
        shuffled = list(answers)
        chance.shuffle(shuffled)
        assert after(key, shuffled) == after(key, answers)


class TestCannotTellChangesNothing:
    @given(looks())
    def test_to_the_last_bit(self, look):
        key, answers = look
        answered = {one.character for one in answers}
        silent = [Answer(one.index, "?") for one in key.characters if one.index not in answered]
        assert after(key, [*silent, *answers]) == after(key, answers)


class TestRelabellingOnlyRelabels:
    @given(looks())
    def test_species_in_the_other_order(self, look):
        key, answers = look
        names = [species.name for species in key.species]
        turned = [one._replace(column=tuple(reversed(one.column))) for one in key.characters]
        other = key_of(turned, list(reversed(names)))
        assert list(reversed(after(other, answers).species)) == pytest.approx(after(key, answers).species, abs=1e-12)


class TestAnAnswerThatAllGiveEquallyChangesNothing:
    @given(looks(), st.sampled_from([None, "one"]))
    def test_with_and_without_echo(self, look, echo):
        key, answers = look
        at = len(key.characters)
        same = states(at, "same", COUNT, [[1 / COUNT] * COUNT], [0] * len(key.species), error=0.1, echo=echo)
        wider = key_of([*key.characters, same], [species.name for species in key.species])
        assert after(wider, [*answers, answer(at, 1)]).species == pytest.approx(after(key, answers).species, abs=1e-9)


class TestNobodysAnswerChangesNothing:
    @given(looks())
    def test_a_character_nobody_answered(self, look):
        key, answers = look
        at = len(key.characters)
        more = states(at, "more", COUNT, [[1, 0, 0], [0, 1, 0]], [i % 2 for i in range(len(key.species))], error=0.1)
        wider = key_of([*key.characters, more], [species.name for species in key.species])
        assert after(wider, answers) == after(key, answers)


def test_three_hundred_answers_do_not_underflow():
    """Each answer is unlikely under every species, and there are three hundred of them."""
    characters = [
        states(
            i,
            f"c{i}",
            COUNT,
            [[0.98, 0.01, 0.01], [0.97, 0.02, 0.01]],
            [0, 1],
            error=0.01,
            echo="one" if i % 2 else None,
        )
        for i in range(300)
    ]
    key = key_of(characters, ["A a", "B b"])
    found = after(key, [answer(i, 1) for i in range(300)], DEFAULTS._replace(outside_prior=0.02))
    assert all(isfinite(value) for value in found.logs)
    assert sum(found.species) == pytest.approx(1)
    assert found.species[1] > 0.999
    assert found.outside > 0.999


def test_ignorance_is_not_rewarded():
    """A species about which nothing is known never overtakes one that fits."""
    cells = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]
    characters = [states(i, f"c{i}", COUNT, cells, [0, 1, NOT_KNOWN], error=0.1) for i in range(6)]
    key = key_of(characters, ["A a", "B b", "C c"])
    found = after(key, [answer(i, 0) for i in range(6)])
    assert found.species[0] > 0.9
    assert found.species[2] < 0.1


def test_more_agreeing_answers_never_lower_the_true_species():
    """Within an echo group too: what agrees may add little, never take away."""
    cells = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
    characters = [states(i, f"c{i}", COUNT, cells, [0, 1, 2], error=0.15, echo="one") for i in range(6)]
    key = key_of(characters, ["A a", "B b", "C c"])
    rising = [after(key, [answer(i, 0) for i in range(count)]).species[0] for count in range(7)]
    assert rising == sorted(rising)
    assert rising[1] > rising[0]


@given(looks())
def test_the_same_input_gives_the_same_output(look):
    """Pure functions: two engines made anew agree in everything, look next included."""
    key, answers = look
    once = assess(Tables(key), Circumstances(), answers)
    again = assess(Tables(key), Circumstances(), answers)
    assert once == again
