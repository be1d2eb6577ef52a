"""Why: weights of evidence between two species, answer by answer, and the hinge of a verdict.

The weights of best guise against best guise add up; what remains of the whole odds is when and where (prior and
circumstances) and which form (how the species' other guises share in it).
"""

from collections.abc import Sequence
from math import log
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.scoring.doubt import believed
from reedmace.scoring.lookalikes import DECIBANS, best_guise
from reedmace.scoring.posterior import Posterior, posterior, speaking
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import Verdict, judge


class Why(NamedTuple):
    """Decibans for one species against another: by answer, when and where, which form; they add up to `total`."""

    answers: tuple[tuple[Answer, float], ...]
    when_and_where: float
    which_form: float
    total: float

    @property
    def seen(self) -> float:
        """What was seen: the answers together."""
        return sum(weight for _, weight in self.answers)


def why(tables: Tables, before: Prior, after: Posterior, one: int, other: int) -> Why:
    """Why species `one` against species `other`."""
    key = tables.key
    mine, theirs = best_guise(key, after, one), best_guise(key, after, other)
    weights: list[tuple[Answer, float]] = []
    for clue in after.clues:
        whole = (clue.logs[mine] - clue.logs[theirs]) * DECIBANS
        if len(clue.answers) == 1:
            weights.append((clue.answers[0], whole))
            continue
        # Within an echo group each answer gets what it adds to those before it, in the key's order.
        said = 0.0
        for count in range(1, len(clue.answers) + 1):
            part = posterior(tables, before, clue.answers[:count]).clues[0]
            now = (part.logs[mine] - part.logs[theirs]) * DECIBANS
            weights.append((clue.answers[count - 1], now - said))
            said = now
    where = _ratio(before.species[one], before.species[other])
    total = _ratio(after.species[one], after.species[other])
    form = total - where - sum(weight for _, weight in weights)
    return Why(tuple(weights), where, form, total)


def _ratio(one: float, other: float) -> float:
    return (log(max(one, 1e-300)) - log(max(other, 1e-300))) * DECIBANS


def hinge(tables: Tables, before: Prior, verdict: Verdict, answers: Sequence[Answer]) -> Answer | None:
    """The one answer without which the verdict would have another word or name; the weightiest if several."""
    told = speaking(answers)
    found: list[tuple[float, int, Answer]] = []
    for index, answer in enumerate(told):
        rest = (*told[:index], *told[index + 1 :])
        weighed, after = believed(tables, before, rest)
        if judge(weighed, before, after).same_name(verdict):
            continue
        left = sum(after.species[species] for species in verdict.members) if verdict.members else after.outside
        found.append((left, index, answer))
    return min(found)[2] if found else None
