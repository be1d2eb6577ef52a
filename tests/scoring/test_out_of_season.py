"""What is not on the wing is the less likely the further the year is from its flight."""

from __future__ import annotations

import pytest

from reedmace.keys.answers import read_traits
from reedmace.keys.model import Key
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, in_flight, prior
from reedmace.scoring.tables import Tables

JUNE_TO_AUGUST = (15, 17, 20, 23)


def test_the_tail_of_a_flight_period_falls_with_every_month() -> None:
    """A third after it is a straggler; half a year after it is next to nothing."""
    after = [in_flight(JUNE_TO_AUGUST, third) for third in range(23, 33)]
    assert after == sorted(after, reverse=True)
    assert after[:3] == pytest.approx([0.1, 0.02, 0.002])
    assert after[5] == pytest.approx(0.0002)


def test_the_year_goes_round() -> None:
    """Late December is as near to early January as mid December is to late December."""
    assert in_flight((0, 3, 6, 9), 35) == in_flight((1, 3, 6, 9), 0) == pytest.approx(0.02)
    assert in_flight((15, 17, 20, 33), 0) == in_flight((15, 17, 20, 32), 35)


@pytest.mark.parametrize("region", ["channel", "south-east"])
@pytest.mark.parametrize("third", [1, 6])
def test_a_brown_damselfly_in_winter_is_the_one_that_sits_it_out(key: Key, third: int, region: str) -> None:
    """Mid January and early March, when what is common in June is months away: stray that it is, it comes first."""
    regions = tuple(at for at, one in enumerate(key.regions) if one.id == region)
    answers = read_traits(key, ["abdomen-colour=brown", "wings-at-rest=closed"])
    after = posterior(Tables(key, "beginner"), prior(key, Circumstances(regions, third)), answers)
    assert key.species[max(range(len(key.species)), key=after.species.__getitem__)].name == "Sympecma fusca"
