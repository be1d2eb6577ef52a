"""Short descriptions with one wrong answer on flat priors: the short form of `python tests/descriptions/full.py`."""

from __future__ import annotations

from math import sqrt

from descriptions.described import one_wrong_in_eight

RUNS = 90


def least(share: float) -> float:
    """Three standard errors of so many runs below the share that two thousand runs have to reach."""
    return share - 3 * sqrt(share * (1 - share) / RUNS)


def test_the_right_species_or_its_partner_comes_first_in_90_and_among_three_in_98_of_100(key):
    ranked = one_wrong_in_eight(key, RUNS, seed=7)
    assert ranked.first >= least(0.90), ranked
    assert ranked.among_three >= least(0.98), ranked
