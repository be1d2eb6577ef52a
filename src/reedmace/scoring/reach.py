"""Whether what is still unanswered can change the verdict, or will hardly ever do so.

Two weak marks may settle together, so it is their sum that counts, not the best one's. Were a guise the true one, the
open marks would add to its evidence against another a sum of weights, each seen with the mark's own chance: mean and
variance are added up, and the chance that the sum passes a bar is read off a normal distribution. A bar beyond the sum
of the largest weights possible is never passed at all.

A species has to pass every guise of its rival, for the rival is always seen in the guise that fits best: so the chance
is that of the hardest one. The bars are those of the verdict: the share that settles, and for a look-alike the
evidence without prior. A species that is neither likely nor a look-alike has nothing to be passed but itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import erfc, exp, inf, log, sqrt
from typing import NamedTuple

from reedmace.keys.model import Character
from reedmace.scoring.lookalikes import DECIBANS, best_guise, likeliest_guise
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import LISTED, Verdict, only_outside_bars, ranked

CERTAIN = 1e6  # decibans
COUNTS = 0.05  # share of its species from which a guise is thought of as the true one


class Contrast(NamedTuple):
    """One mark, were a guise the true one: largest weight against another, mean and variance, in decibans."""

    most: float
    mean: float
    variance: float


def can_change(tables: Tables, after: Posterior, verdict: Verdict, left: Sequence[Character]) -> bool:
    """True while, for some rival, answers still open could change the verdict and have a fair chance to."""
    key, assumptions = tables.key, tables.assumptions
    ranking = ranked(after)
    best = ranking[0]
    if only_outside_bars(tables, after, verdict):
        return _outside_can_fade(tables, after, best_guise(key, after, best), left)
    alike = {rival.species for rival in verdict.rivals if rival.caps and rival.species is not None}
    likely = [species for species in ranking[1:] if after.species[species] > (1 - assumptions.settle) / len(ranking)]
    for other in dict.fromkeys([*likely, *sorted(alike)]):
        both = after.species[best] + after.species[other]
        chance = after.species[best] / both * _gets_ahead(tables, after, best, other, other in alike, left)
        if chance < assumptions.least_chance:
            chance += after.species[other] / both * _gets_ahead(tables, after, other, best, other in alike, left)
        if chance >= assumptions.least_chance:
            return True
    return any(
        after.species[mine] * _falls_back(tables, after, mine, theirs, lacking, theirs in alike and mine == best, left)
        >= assumptions.least_chance
        for theirs, lacking in _named(after, ranking, assumptions.settle)
        for mine in ranking[:LISTED]
        if mine != theirs
    )


def _named(after: Posterior, ranking: Sequence[int], settle: float) -> list[tuple[int, float]]:
    """The species that it takes to reach `settle`, and the decibans each has yet to fall so that the others do.

    Of more than are named one by one only the last.
    """
    named, held = [], 0.0
    for species in ranking:
        if held >= settle:
            break
        named.append(species)
        held += after.species[species]
    if len(named) > LISTED:
        named = named[-1:]
    return [(species, (_log_odds(settle) - _log_odds(held - after.species[species])) * DECIBANS) for species in named]


def _gets_ahead(
    tables: Tables, after: Posterior, mine: int, theirs: int, alike: bool, left: Sequence[Character]
) -> float:
    """The chance, were `mine` the true species, that it gets as far ahead of `theirs` as it has yet to get."""
    key, assumptions = tables.key, tables.assumptions
    whole = after.species[mine]
    if whole <= 0:
        return 0.0
    wanted = log(assumptions.settle / (1 - assumptions.settle))
    likest, likeliest = best_guise(key, after, theirs), likeliest_guise(key, after, theirs)
    # Others too unlikely to be named each for itself may do so together: then all of them have to fall back.
    behind = log(max(after.species[theirs], 1e-300) / whole) + wanted <= 0
    lacking = (wanted - _log_odds(whole)) * DECIBANS if behind else 0.0
    chance = 0.0
    for guise in key.species[mine].guises:
        share = after.guises[guise] / whole
        if share < COUNTS:
            continue
        hardest = inf
        for other in key.species[theirs].guises:
            bar = lacking if other == likeliest else 0.0
            if after.guises[other] > 0:
                bar = max(bar, (wanted - log(whole / after.guises[other])) * DECIBANS)
            if alike:
                evidence = (after.logs[guise] - after.logs[other]) * DECIBANS
                bar = max(bar, assumptions.separation - evidence)
                if other == likest:  # where the evidence would do, what is lacking is a second answer that differs
                    bar = max(bar, assumptions.differing)
            if bar > 0:
                hardest = min(hardest, _passes(tables, bar, guise, other, left))
                if hardest == 0:
                    break
        chance += share * (hardest if hardest < inf else 0.0)
    return chance


def _falls_back(
    tables: Tables, after: Posterior, mine: int, theirs: int, lacking: float, alike: bool, left: Sequence[Character]
) -> float:
    """The chance, were `mine` the true species, that `theirs` loses what is `lacking`; a look-alike all its guises."""
    key, assumptions = tables.key, tables.assumptions
    one, likeliest = likeliest_guise(key, after, mine), likeliest_guise(key, after, theirs)
    if not alike:
        return _passes(tables, lacking, one, likeliest, left)
    likest, hardest = best_guise(key, after, theirs), 1.0
    for other in key.species[theirs].guises:
        bar = assumptions.separation - (after.logs[one] - after.logs[other]) * DECIBANS
        if other == likest:
            bar = max(bar, assumptions.differing)
        if other == likeliest:
            bar = max(bar, lacking)
        if bar > 0:
            hardest = min(hardest, _passes(tables, bar, one, other, left))
    return hardest


def _passes(tables: Tables, bar: float, guise: int, other: int, left: Sequence[Character]) -> float:
    whole = _together(contrast(tables, character, guise, other) for character in left)
    return _above(bar, whole.mean, whole.variance) if whole.most >= bar else 0.0


def _outside_can_fade(tables: Tables, after: Posterior, mine: int, left: Sequence[Character]) -> bool:
    """True while marks that are just as they should be may yet leave kin of the key's species too little to bar a name.

    It may be kin of any guise, so each has to fade, as far as it is more by itself than may remain.
    """
    assumptions = tables.assumptions
    bar = (_log_odds(after.outside) - _log_odds(assumptions.settle_outside)) * DECIBANS
    likeness = after.kin or [0.0] * len(tables.of_genera)
    highest = max(likeness)
    kin = [share * exp(value - highest) for share, value in zip(tables.of_genera, likeness, strict=True)]
    whole, chance = sum(kin), 1.0
    for guise, share in enumerate(kin):
        wanted = bar + log(share / whole) * DECIBANS if share > 0 else 0.0
        if wanted > 0:
            told = _together(_against_kin(tables, character, mine, guise) for character in left)
            chance = min(chance, _above(wanted, told.mean, told.variance) if told.most >= wanted else 0.0)
    return (1 - after.outside) * chance >= assumptions.least_chance


def _against_kin(tables: Tables, character: Character, mine: int, like: int) -> Contrast:
    """What one mark would say for a guise against kin of another, which at times show what is seen elsewhere."""
    readings = tables.readings(character)
    at = (character.index, readings.row_of[mine], ~readings.row_of[like])
    found = tables.contrasts.get(at)
    if found is None:
        share = tables.assumptions.kin_differs
        anyone = readings.average(tables.of_genera)
        near = readings.row(readings.row_of[like])
        kin = [(1 - share) * own + share * other for own, other in zip(near, anyone, strict=True)]
        seen = character.visible if readings.seeable[mine] else 0.0
        found = tables.contrasts[at] = _told_apart(readings.row(at[1]), kin, seen)
    return found


def _log_odds(probability: float) -> float:
    return log(probability / (1 - probability)) if 0 < probability < 1 else CERTAIN if probability else -CERTAIN


def contrast(tables: Tables, character: Character, mine: int, theirs: int) -> Contrast:
    """What one mark, if it is looked for, would say for a guise against another, were the first the true one."""
    readings = tables.readings(character)
    at = (character.index, readings.row_of[mine], readings.row_of[theirs])
    found = tables.contrasts.get(at)
    if found is None:
        found = NOTHING_TOLD
        if at[1] != at[2]:
            seen = character.visible if readings.seeable[mine] else 0.0
            found = _told_apart(readings.row(at[1]), readings.row(at[2]), seen)
        tables.contrasts[at] = found
    return found


def _told_apart(mine: Sequence[float], theirs: Sequence[float], seen: float) -> Contrast:
    """The contrast of two rows of readings, `seen` being the chance to see the mark at all."""
    if seen <= 0:
        return NOTHING_TOLD
    told = [(a, _weight(a, b)) for a, b in zip(mine, theirs, strict=True) if a > 0 or b > 0]
    mean = seen * sum(a * weight for a, weight in told)
    return Contrast(
        max(0.0, *(weight for _, weight in told)), mean, seen * sum(a * weight * weight for a, weight in told) - mean**2
    )


NOTHING_TOLD = Contrast(0.0, 0.0, 0.0)


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
