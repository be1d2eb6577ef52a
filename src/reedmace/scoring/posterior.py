"""From answers to probabilities: Bayes' rule over guises, in log space.

The answers of one echo group share an observer's lapse: with probability q the whole group was read off some
other insect. L(group | g) = (1 − q) Π L_i(g) + q Σ ν(g′) Π L_i(g′), with ν even over species; outside the key
takes the same form. Echo groups are independent of each other and of all other answers.
"""

from collections.abc import Sequence
from math import exp, inf, log
from typing import NamedTuple, cast

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables


class Clue(NamedTuple):
    """One answer or one echo group of answers, as weighed: log likelihood by guise and for outside.

    `lapse` is the part that no guise explains (log of q Σ ν Π L), None where there is no echo.
    """

    answers: tuple[Answer, ...]
    logs: list[float]
    outside: float
    own: list[float]
    lapse: float | None


class Posterior(NamedTuple):
    """Probabilities given the answers: `guises` and `species` inside the key (they add up to 1), `outside`."""

    clues: tuple[Clue, ...]
    logs: list[float]
    guises: list[float]
    species: list[float]
    outside: float


def speaking(answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """The answers that say something, in the key's order: the order they were given in never matters."""
    return tuple(sorted((answer for answer in answers if not answer.says_nothing), key=lambda answer: answer.character))


def posterior(tables: Tables, before: Prior, answers: Sequence[Answer]) -> Posterior:
    """Posterior over guises, species and outside. Without answers it is the prior."""
    key = tables.key
    clues = weigh(tables, answers)
    logs = [0.0] * len(key.guises)
    for clue in clues:
        logs = [total + value for total, value in zip(logs, clue.logs, strict=True)]
    joint = [log(share) + value if share > 0 else -inf for share, value in zip(before.guises, logs, strict=True)]
    best = max(joint)
    weights = [exp(value - best) for value in joint]
    inside = sum(weights)
    guises = [weight / inside for weight in weights]
    outside_prior = tables.assumptions.outside_prior
    outside = 0.0
    if outside_prior > 0:
        gap = log(outside_prior) + sum(clue.outside for clue in clues) - log(1 - outside_prior) - best - log(inside)
        outside = 1 / (1 + exp(-gap)) if gap < 0 else 1 - 1 / (1 + exp(min(gap, 700.0)))
    return Posterior(clues, logs, guises, by_species(key, guises), outside)


def by_species(key: Key, guises: Sequence[float]) -> list[float]:
    """Probabilities of guises, summed to species."""
    species = [0.0] * len(key.species)
    for guise, probability in zip(key.guises, guises, strict=True):
        species[guise.species] += probability
    return species


def weigh(tables: Tables, answers: Sequence[Answer]) -> tuple[Clue, ...]:
    """The answers as clues: echo groups taken together, everything else alone."""
    groups: dict[str, list[Answer]] = {}
    for answer in speaking(answers):
        character = tables.key.characters[answer.character]
        groups.setdefault(f"echo {character.echo}" if character.echo else character.id, []).append(answer)
    return tuple(_weighed(tables, tuple(members), name.startswith("echo ")) for name, members in groups.items())


def _weighed(tables: Tables, answers: tuple[Answer, ...], echo: bool) -> Clue:
    """As `_clue`, worked out once for the same answers: the hinge and the reasons ask again and again."""
    clue = tables.clues.get(answers)
    if clue is None:
        clue = tables.clues[answers] = _clue(tables, answers, echo)
    return cast(Clue, clue)


def _clue(tables: Tables, answers: tuple[Answer, ...], echo: bool) -> Clue:
    own = [0.0] * len(tables.key.guises)
    outside = 0.0
    for answer in answers:
        values, chance = tables.likelihoods(answer)
        own = [total + _log(value) for total, value in zip(own, values, strict=True)]
        outside += _log(chance)
    lapse_chance = tables.assumptions.echo_lapse
    if not echo or lapse_chance <= 0:
        return Clue(answers, own, outside, own, None)
    lapse = log(lapse_chance) + _log_mean(tables.key, own)
    kept = log(1 - lapse_chance)
    return Clue(answers, [log_sum(kept + value, lapse) for value in own], log_sum(kept + outside, lapse), own, lapse)


def _log_mean(key: Key, logs: list[float]) -> float:
    """Give log Σ ν(g) exp(logs[g]), with ν even over species and by share within one."""
    best = max(logs)
    if best == -inf:
        return -inf
    total = sum(guise.share * exp(value - best) for guise, value in zip(key.guises, logs, strict=True))
    return best + log(total / len(key.species))


def log_sum(one: float, other: float) -> float:
    """Give log(exp(one) + exp(other)) without overflow."""
    high, low = (one, other) if one >= other else (other, one)
    return high if low == -inf else high + log(1.0 + exp(low - high))


def _log(value: float) -> float:
    return log(value) if value > 0 else -inf
