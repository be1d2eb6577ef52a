"""How far to trust this observer: answers that contradict each other are weighed with more doubt.

Most people err about as often as the key says, some far more often, and one miss brings another. Which it is shows
only in the answers themselves: they are weighed twice, once with the usual misreads and once with many more, and
whichever explains them better (with its own prior) is used for everything that follows. So weights of evidence still
add up answer by answer, and answers that agree cost nothing.
"""

from collections.abc import Sequence
from math import exp, log

from reedmace.keys.answers import Answer
from reedmace.scoring.posterior import posterior, speaking
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables


def trusting(tables: Tables, before: Prior, answers: Sequence[Answer]) -> Tables:
    """The tables to weigh these answers with: those given, or their doubting twin."""
    share = tables.assumptions.doubt
    if share <= 0 or len(speaking(answers)) < 2:
        return tables
    usual = evidence(tables, before, answers) + log(1 - share)
    worse = evidence(tables.doubting, before, answers) + log(share)
    return tables.doubting if worse > usual else tables


def evidence(tables: Tables, before: Prior, answers: Sequence[Answer]) -> float:
    """Log probability of the answers, whatever species of the key was seen."""
    logs = posterior(tables, before, answers).logs
    best = max(logs)
    return best + log(sum(share * exp(value - best) for share, value in zip(before.guises, logs, strict=True)))
