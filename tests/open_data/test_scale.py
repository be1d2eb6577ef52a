"""A real matrix of thousands: 3,010 kinds of speech sound × 24 features, of which some do not apply.

Whoever reads every feature of a kind without a slip must find it in the first place, with none beside it but kinds
that differ only where it has nothing to be read; and look-next must find a short way through three thousand.
"""

from __future__ import annotations

from math import log2
from random import Random
from statistics import median

import pytest

from open_data.tables import segments
from reedmace.keys.answers import Answer
from reedmace.keys.model import NOT_APPLICABLE
from reedmace.scoring.gains import gains, weights
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.tables_made import key_of, states

SIGNS = ("+", "-")
NONE = "0"


@pytest.fixture(scope="module")
def matrix():
    return segments()


@pytest.fixture(scope="module")
def key(matrix):
    """Two states a feature; 0 is a feature that does not apply."""
    number = {"+": 0, "-": 1, NONE: NOT_APPLICABLE}
    characters = [
        states(index, name, 2, [[1.0, 0.0], [0.0, 1.0]], [number[row[index]] for row in matrix.rows], error=0.05)
        for index, name in enumerate(matrix.columns)
    ]
    return key_of(characters, [f"Sound{one // 10} {name}" for one, name in enumerate(matrix.classes)])


def test_the_matrix_is_what_it_is_said_to_be(matrix):
    assert (len(matrix.rows), len(matrix.columns)) == (3010, 24)
    assert {value for row in matrix.rows for value in row} == {*SIGNS, NONE}


def test_read_without_a_slip_the_kind_comes_first(matrix, key):
    tables = Tables(key)
    before = prior(key, Circumstances())
    for one in Random(1).sample(range(len(matrix.rows)), 40):
        after = posterior(tables, before, told(matrix.rows[one]))
        assert after.species[one] == pytest.approx(max(after.species), rel=1e-9)
        assert first_but_for_twins(after, matrix.rows, one)


def test_look_next_finds_a_short_way(matrix, key):
    """Three thousand are 11.6 halvings; features that do not apply, or are the same for most, make it longer."""
    tables = Tables(key)
    chance = Random(2)
    asked = chance.sample(range(len(matrix.rows)), 12)
    guided = [answers_needed(tables, matrix.rows, one, None) for one in asked]
    random = [answers_needed(tables, matrix.rows, one, chance) for one in asked]
    assert median(guided) <= 1.3 * log2(len(matrix.rows))
    assert sum(guided) < 0.9 * sum(random)


def told(row):
    """A row as answers; what does not apply is left unanswered."""
    return [Answer(index, sign, (SIGNS.index(sign),)) for index, sign in enumerate(row) if sign != NONE]


def first_but_for_twins(after, rows, one):
    """True when no kind stands as high as this one but those that differ only where it has nothing to be read."""
    return all(
        all(mine in (NONE, theirs) for mine, theirs in zip(rows[one], rows[other], strict=True))
        for other, held in enumerate(after.species)
        if held > 0.999 * after.species[one]
    )


def answers_needed(tables, rows, one, chance):
    """Answers until the true kind stands first, but for twins; by gain, or in random order if given a generator."""
    key = tables.key
    before = prior(key, Circumstances())
    answers, tried = [], set()
    while True:
        after = posterior(tables, before, answers)
        if first_but_for_twins(after, rows, one):
            return len(answers)
        left = [character for character in key.characters if character.index not in tried]
        if chance is None:
            promised = gains(tables, after, weights(tables, after.guises), left)
            best = left[max(range(len(left)), key=promised.__getitem__)].index
        else:
            best = chance.choice(left).index
        tried.add(best)
        if rows[one][best] != NONE:
            answers.append(Answer(best, rows[one][best], (SIGNS.index(rows[one][best]),)))
