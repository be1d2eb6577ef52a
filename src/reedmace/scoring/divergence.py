"""How well one look tells two guises apart, before it is had: the expected weight of evidence.

It is the Kullback–Leibler divergence between their readings, in decibans (Kullback & Leibler 1951, Ann. Math.
Statist. 22:79–86).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log

from reedmace.scoring.lookalikes import DECIBANS


def separation(one: Sequence[float], other: Sequence[float]) -> float:
    """Give the smaller of the two divergences between rows of readings: what is told whichever of them is true."""
    return min(_divergence(one, other), _divergence(other, one))


def _divergence(one: Sequence[float], other: Sequence[float]) -> float:
    """Expected weight of evidence for `one` against `other` when `one` is true."""
    return DECIBANS * sum(p * log(p / q) for p, q in zip(one, other, strict=True) if p > 0 and q > 0)
