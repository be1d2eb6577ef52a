"""One look, assessed: everything the engine has to say about a set of answers under given circumstances."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.scoring.doubt import believed
from reedmace.scoring.explain import hinge
from reedmace.scoring.fit import lower_tail
from reedmace.scoring.lookalikes import DECIBANS, best_guise
from reedmace.scoring.looknext import LookNext, look_next
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.prior import Circumstances, Prior, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import Verdict, judge, ranked


class Candidate(NamedTuple):
    """A species in the running: its most probable guise and its probability inside the key.

    `evidence` is the weight in decibans against the next one (best guise against best guise, without prior),
    None for the last.
    """

    species: int
    guise: int
    probability: float
    evidence: float | None


class Assessment(NamedTuple):
    """The engine's whole answer; `before` is what place, date and habitat say alone, `after` with the answers.

    `doubting` says that they were weighed with `tables.doubting`, for they contradict each other.
    """

    doubting: bool
    answers: tuple[Answer, ...]
    circumstances: Circumstances
    before: Prior
    after: Posterior
    verdict: Verdict
    candidates: tuple[Candidate, ...]
    fit: float | None
    looks: LookNext


def assess(tables: Tables, circumstances: Circumstances, answers: Sequence[Answer]) -> Assessment:
    """Assess answers in any order; the same answers give the same assessment. `tables` are the usual ones."""
    before = prior(tables.key, circumstances, tables.assumptions)
    usual = tables
    tables, after = believed(usual, before, answers)
    verdict = judge(tables, before, after)
    return Assessment(
        tables is not usual,
        tuple(answers),
        circumstances,
        before,
        after,
        verdict,
        _candidates(tables, after),
        lower_tail(tables, after),
        look_next(tables, after, verdict, answers),
    )


def hinge_of(tables: Tables, assessment: Assessment) -> Answer | None:
    """The answer that the verdict hangs on, if one alone does."""
    return hinge(tables, assessment.before, assessment.verdict, assessment.answers)


def _candidates(tables: Tables, after: Posterior) -> tuple[Candidate, ...]:
    key = tables.key
    order = ranked(after)
    best = [best_guise(key, after, species) for species in order]
    likeliest = [max(key.species[species].guises, key=lambda guise: after.guises[guise]) for species in order]
    evidence = [(after.logs[one] - after.logs[other]) * DECIBANS for one, other in pairwise(best)]
    return tuple(
        Candidate(species, guise, after.species[species], weight)
        for species, guise, weight in zip(order, likeliest, [*evidence, None], strict=True)
    )
