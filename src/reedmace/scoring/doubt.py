"""How far to trust this observer: answers that contradict each other are weighed with more doubt.

Most people err about as often as the key says, some far more often, and one miss brings another. Which it is shows
only in the answers themselves: they are weighed twice, once with the usual misreads and once with many more, and
whichever explains them better (with its own prior) is used for everything that follows. So weights of evidence still
add up answer by answer, and answers that agree cost nothing. Whether the insect is outside the key is asked of both
readings together, each with its prior: a poor observer is one way to explain answers that fit nothing, a stranger is
the other.
"""

from collections.abc import Sequence
from math import log
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.scoring.posterior import Posterior, log_sum, outside_given, posterior, speaking
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables


class Believed(NamedTuple):
    """The tables to weigh the answers with (the usual ones or their doubting twin), and what comes of it."""

    tables: Tables
    after: Posterior


def believed(tables: Tables, before: Prior, answers: Sequence[Answer]) -> Believed:
    """The answers, weighed by whichever reading of the observer explains them better. `tables` are the usual ones."""
    usual = posterior(tables, before, answers)
    share = tables.assumptions.doubt
    if share <= 0 or len(speaking(answers)) < 2:
        return Believed(tables, usual)
    worse = posterior(tables.doubting, before, answers)
    kept, more = log(1 - share), log(share)
    chosen = Believed(tables, usual)
    if more + worse.inside_log > kept + usual.inside_log:
        chosen = Believed(tables.doubting, worse)
    outside = outside_given(
        tables.assumptions,
        log_sum(kept + usual.outside_log, more + worse.outside_log),
        log_sum(kept + usual.inside_log, more + worse.inside_log),
    )
    return chosen._replace(after=chosen.after._replace(outside=outside))
