"""What an observer of a species that the key lacks is told: a sister, a stranger, or that it is outside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import log, sqrt
from typing import NamedTuple

from reedmace.keys.model import Key
from reedmace.scoring.verdict import NARROWED, OPEN, OUTSIDE, SETTLED
from reedmace.trial.asking import Run
from reedmace.trial.summary import Mean, Share, mean

_LEAST = 1e-12  # no probability is taken for less
REGULAR = 0.01  # a regular species is somewhere at least this common, against the commonest of the key


class Area(NamedTuple):
    """Area under the curve: the chance that a left-out insect looks more foreign than one of the key."""

    value: float
    error: float


class LeftOut(NamedTuple):
    """The figures for one left-out species, or for all of them together (`species` is None)."""

    species: int | None
    runs: int
    settled_wrong: Share
    other_genus: Share  # settled on a species of another genus
    kin_named: Share  # settled on a congener, or narrowed to a set that holds one
    narrowed: Share  # to any set
    open: Share
    outside: Share
    answers: Mean
    area: Area  # by P(outside) and fit together
    area_of_outside: Area  # by P(outside) alone
    taken_for: tuple[tuple[int, int], ...]  # species it was settled as, and how often, most often first


def regular(key: Key) -> list[int]:
    """Species that are somewhere at least a hundredth as common as the commonest: no vagrants, none that are lost."""
    most = [max(species.abundance, default=1.0) for species in key.species]
    return [index for index, own in enumerate(most) if own >= REGULAR * max(most)]


def left_out(key: Key, species: int | None, runs: Sequence[Run], ordinary: Sequence[Run]) -> LeftOut:
    """Add up the runs of left-out species, against ordinary ones."""

    def share(chosen: Sequence[bool]) -> Share:
        return Share(sum(chosen), len(runs))

    def kin(run: Run) -> bool:
        return any(key.species[member].genus == key.species[run.species].genus for member in run.members)

    taken = Counter(run.members[0] for run in runs if run.word == SETTLED)
    return LeftOut(
        species,
        len(runs),
        share([run.word == SETTLED for run in runs]),
        share([run.word == SETTLED and not kin(run) for run in runs]),
        share([run.word in (SETTLED, NARROWED) and kin(run) for run in runs]),
        share([run.word == NARROWED for run in runs]),
        share([run.word == OPEN for run in runs]),
        share([run.word == OUTSIDE for run in runs]),
        mean([sum(not report.answer.says_nothing for report in run.reports) for run in runs]),
        area_under(list(map(foreignness, runs)), list(map(foreignness, ordinary))),
        area_under([run.outside for run in runs], [run.outside for run in ordinary]),
        tuple(sorted(taken.items(), key=lambda pair: (-pair[1], pair[0]))),
    )


def foreignness(run: Run) -> float:
    """Both signs of an insect that the key lacks in one number, to rank by: the higher, the more foreign.

    Log odds of P(outside), less the log of the fit's lower tail where fit can be judged.
    """
    odds = log(max(run.outside, _LEAST) / max(1 - run.outside, _LEAST))
    return odds if run.fit is None else odds - log(max(run.fit, _LEAST))


def area_under(foreign: Sequence[float], own: Sequence[float]) -> Area:
    """The area under the receiver's curve, by ranks, with its standard error (Hanley and McNeil 1982)."""
    if not foreign or not own:
        return Area(0.5, 0.5)
    ranked = sorted([(value, True) for value in foreign] + [(value, False) for value in own])
    total, at = 0.0, 0
    while at < len(ranked):
        upto = at
        while upto < len(ranked) and ranked[upto][0] == ranked[at][0]:
            upto += 1
        total += (at + upto + 1) / 2 * sum(is_foreign for _, is_foreign in ranked[at:upto])
        at = upto
    n, m = len(foreign), len(own)
    area = (total - n * (n + 1) / 2) / (n * m)
    q1, q2 = area / (2 - area), 2 * area * area / (1 + area)
    spread = area * (1 - area) + (n - 1) * (q1 - area * area) + (m - 1) * (q2 - area * area)
    return Area(area, sqrt(max(0.0, spread) / (n * m)))
