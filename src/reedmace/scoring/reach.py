"""Whether what is still unanswered can change the verdict, or will hardly ever do so.

Two weak marks may settle together, so it is their sum that counts, not the best one's. For the best species against
each rival, what the open marks would add is a sum of weights of evidence, each seen with the mark's own chance: its
mean and variance under either of the two are added up, and the chance that it crosses the gap is read off a normal
distribution. When that chance is small for every rival, nothing left to look at is worth anybody's time. A gap wider
than the sum of the largest weights possible is never crossed at all.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import erfc, log, sqrt
from typing import NamedTuple

from reedmace.keys.model import Character
from reedmace.scoring.lookalikes import DECIBANS, best_guise
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import Verdict, only_outside_bars, ranked

CERTAIN = 1e6  # decibans
KIN = -1  # in place of a row of readings: those of kin


class Contrast(NamedTuple):
    """One mark between two guises, in decibans: the largest weights for either, mean and variance if either is true."""

    towards: float
    against: float
    mean_if_mine: float
    variance_if_mine: float
    mean_if_theirs: float
    variance_if_theirs: float


def can_change(tables: Tables, after: Posterior, verdict: Verdict, left: Sequence[Character]) -> bool:
    """True while, for some rival, answers still open could change the verdict and have a fair chance to."""
    key, assumptions = tables.key, tables.assumptions
    ranking = ranked(after)
    best = ranking[0]
    if only_outside_bars(tables, after, verdict):
        return _outside_can_fade(tables, after, best_guise(key, after, best), left)
    wanted = log(assumptions.settle / (1 - assumptions.settle)) * DECIBANS
    others = [species for species in ranking[1:] if after.species[species] > (1 - assumptions.settle) / len(ranking)]
    others += [rival.species for rival in verdict.rivals if rival.caps and rival.species is not None]
    mine = best_guise(key, after, best)
    for other in dict.fromkeys(others):
        theirs = best_guise(key, after, other)
        odds = (log(after.species[best]) - log(max(after.species[other], 1e-300))) * DECIBANS
        evidence = (after.logs[mine] - after.logs[theirs]) * DECIBANS
        forward = max(wanted - odds, assumptions.separation - evidence)
        backward = max(wanted + odds, assumptions.separation + evidence)
        whole = _together(contrast(tables, character, mine, theirs) for character in left)
        share = after.species[best] / (after.species[best] + after.species[other])
        chance = 0.0
        if whole.towards >= forward:
            chance += share * _above(forward, whole.mean_if_mine, whole.variance_if_mine)
        if whole.against >= backward:
            chance += (1 - share) * _above(backward, -whole.mean_if_theirs, whole.variance_if_theirs)
        if chance >= assumptions.least_chance:
            return True
    return False


def _outside_can_fade(tables: Tables, after: Posterior, mine: int, left: Sequence[Character]) -> bool:
    """True while marks that are just as they should be may yet leave kin of this species too little to bar its name."""
    assumptions = tables.assumptions
    wanted = (_log_odds(after.outside) - _log_odds(assumptions.settle_outside)) * DECIBANS
    whole = _together(_against_kin(tables, character, mine) for character in left)
    if whole.towards < wanted:
        return False
    chance = (1 - after.outside) * _above(wanted, whole.mean_if_mine, whole.variance_if_mine)
    return chance >= assumptions.least_chance


def _against_kin(tables: Tables, character: Character, mine: int) -> Contrast:
    """What one mark would say between a guise and its kin, which show whatever is seen in the key now and then."""
    at = (character.index, tables.readings(character).row_of[mine], KIN)
    found = tables.contrasts.get(at)
    if found is None:
        readings, share = tables.readings(character), tables.assumptions.kin_differs
        row = readings.row(at[1])
        anyone = readings.average(tables.of_genera)
        kin = [(1 - share) * own + share * other for own, other in zip(row, anyone, strict=True)]
        seen = character.visible if readings.seeable[mine] else 0.0
        found = tables.contrasts[at] = _told_apart(row, kin, seen, seen)
    return found


def _log_odds(probability: float) -> float:
    return log(probability / (1 - probability)) if 0 < probability < 1 else CERTAIN if probability else -CERTAIN


def contrast(tables: Tables, character: Character, mine: int, theirs: int) -> Contrast:
    """What one mark, if it is looked for, would say between two guises."""
    readings = tables.readings(character)
    at = (character.index, readings.row_of[mine], readings.row_of[theirs])
    found = tables.contrasts.get(at)
    if found is None:
        seen_mine = character.visible if readings.seeable[mine] else 0.0
        seen_theirs = character.visible if readings.seeable[theirs] else 0.0
        found = NOTHING_TOLD
        if at[1] != at[2]:
            found = _told_apart(readings.row(at[1]), readings.row(at[2]), seen_mine, seen_theirs)
        tables.contrasts[at] = found
    return found


def _told_apart(one: Sequence[float], other: Sequence[float], seen_one: float, seen_other: float) -> Contrast:
    """The contrast of two rows of readings, each seen with its own chance."""
    if seen_one <= 0 and seen_other <= 0:
        return NOTHING_TOLD
    told = [(a, b, _weight(a, b)) for a, b in zip(one, other, strict=True) if a > 0 or b > 0]
    mean_one = seen_one * sum(a * weight for a, _, weight in told)
    mean_other = seen_other * sum(b * weight for _, b, weight in told)
    return Contrast(
        max(0.0, *(weight for *_, weight in told)),
        max(0.0, *(-weight for *_, weight in told)),
        mean_one,
        seen_one * sum(a * weight * weight for a, _, weight in told) - mean_one**2,
        mean_other,
        seen_other * sum(b * weight * weight for _, b, weight in told) - mean_other**2,
    )


NOTHING_TOLD = Contrast(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def _weight(one: float, other: float) -> float:
    """Decibans for `one`: more than anything can outweigh where the other cannot be, as in a key without errors."""
    if one <= 0 or other <= 0:
        return CERTAIN if one > 0 else -CERTAIN
    return log(one / other) * DECIBANS


def _together(contrasts: Iterable[Contrast]) -> Contrast:
    """Independent marks: largest weights, means and variances add up."""
    columns = list(zip(*contrasts, strict=True))
    return Contrast(*(sum(column) for column in columns)) if columns else NOTHING_TOLD


def _above(line: float, mean: float, variance: float) -> float:
    """The chance that a normal variable lies above a line."""
    if variance <= 0:
        return 1.0 if mean >= line else 0.0
    return 0.5 * erfc((line - mean) / sqrt(2 * variance))
