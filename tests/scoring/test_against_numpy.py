"""Look-next against the same mathematics written in numpy, on the shipped key."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from bench.big_key import big_key
from bench.numpy_reference import MatrixEngine, NumpyEngine
from reedmace.keys.answers import read_traits
from reedmace.scoring.gains import gains, weights
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.tables_made import answer

LOOKS = [
    "",
    "abdomen-colour=blue",
    "wings-at-rest=closed eyes=apart abdomen-colour=blue spur=present",
    "wings-at-rest=flat build=stout abdomen-colour=red legs=striped wing-spot=brown bump=present",
]


@pytest.mark.parametrize("traits", LOOKS)
def test_posterior_and_gains_agree(key, traits):
    tables = Tables(key)
    answers = read_traits(key, traits.split())
    before = prior(key, Circumstances(third=19))
    after = posterior(tables, before, answers)
    found = gains(tables, after, weights(tables, after.guises), key.characters)
    wanted, expected = NumpyEngine(tables).look(
        np.array(before.guises), [(one.character, one.states) for one in answers]
    )
    assert after.guises == pytest.approx(wanted, abs=1e-12)
    for index, value in enumerate(expected):
        # The engine leaves out guises of less than a ten-millionth of the likeliest.
        assert found[index] == pytest.approx(value, abs=2e-5)


@pytest.mark.parametrize("engine", [NumpyEngine, MatrixEngine])
def test_the_references_agree_with_the_engine_on_a_made_key(engine):
    """What speed is measured against does the same sums."""
    key = big_key(Random(2), 80, 12, echoes=engine is NumpyEngine)
    tables = Tables(key)
    before = prior(key, Circumstances())
    answers = [answer(1, 0), answer(4, 2), answer(7, 1)]
    after = posterior(tables, before, answers)
    found = gains(tables, after, weights(tables, after.guises), key.characters)
    wanted, expected = engine(tables).look(np.array(before.guises), [(one.character, one.states) for one in answers])
    assert after.guises == pytest.approx(wanted, abs=1e-12)
    assert found == pytest.approx(expected, abs=2e-5)
