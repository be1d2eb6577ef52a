"""Look-next against the same mathematics written in numpy, on the shipped key."""

from __future__ import annotations

import numpy as np
import pytest

from bench.numpy_reference import NumpyEngine
from reedmace.keys.answers import read_traits
from reedmace.scoring.gains import gains, weights
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables

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
