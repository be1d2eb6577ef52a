"""From answers to probabilities: Bayes' rule over guises, in log space.

The answers of one echo group share an observer's lapse: with probability q the whole group was read off some
other insect. L(group | g) = (1 − q) Π L_i(g) + q Σ ν(g′) Π L_i(g′), with ν even over species; outside the key
takes the same form. Echo groups are independent of each other and of all other answers.

What is outside the key is one of two things: a stranger, of which every answer is as likely as any other, or kin of a
species in the key, which shares most of its marks: L(kin) = Σ μ(g) Π ((1 − δ) L_i(g) + δ L̄_i), with μ even over genera
and L̄_i the mean over μ.
"""

from collections.abc import Sequence
from math import exp, inf, log
from typing import NamedTuple, cast

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.scoring.assumptions import Assumptions
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables


class Clue(NamedTuple):
    """One answer or one echo group of answers, as weighed: log likelihood by guise and for outside.

    `kin` is that of kin of each guise, `outside` that of a stranger.
    `lapse` is the part that no guise explains (log of q Σ ν Π L), None where there is no echo.
    """

    answers: tuple[Answer, ...]
    logs: list[float]
    kin: list[float]
    outside: float
    own: list[float]
    lapse: float | None


class Posterior(NamedTuple):
    """Probabilities given the answers: `guises` and `species` inside the key (they add up to 1), `outside`.

    `logs` and `kin` are log likelihoods by guise, of itself and of its kin; `inside_log` and `outside_log` those of
    the key as a whole and of everything else, without the prior of either.
    """

    clues: tuple[Clue, ...]
    logs: list[float]
    kin: list[float]
    guises: list[float]
    species: list[float]
    outside: float
    inside_log: float
    outside_log: float


def speaking(answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """The answers that say something, in the key's order: the order they were given in never matters."""
    return tuple(sorted((answer for answer in answers if not answer.says_nothing), key=lambda answer: answer.character))


def posterior(tables: Tables, before: Prior, answers: Sequence[Answer]) -> Posterior:
    """Posterior over guises, species and outside. Without answers it is the prior."""
    key, assumptions = tables.key, tables.assumptions
    clues = weigh(tables, answers)
    logs = added_up([clue.logs for clue in clues], len(key.guises))
    kin = added_up([clue.kin for clue in clues], len(key.guises)) if assumptions.kin > 0 else []
    joint = [log(share) + value if share > 0 else -inf for share, value in zip(before.guises, logs, strict=True)]
    best = max(joint)
    weights = [exp(value - best) for value in joint]
    total = sum(weights)
    guises = [weight / total for weight in weights]
    inside = best + log(total)
    foreign = _outside(tables, kin, sum(clue.outside for clue in clues))
    outside = outside_given(assumptions, foreign, inside)
    return Posterior(clues, logs, kin, guises, by_species(key, guises), outside, inside, foreign)


def added_up(columns: Sequence[Sequence[float]], count: int) -> list[float]:
    """Sums of columns of `count` numbers, row by row."""
    total = [0.0] * count
    for column in columns:
        total = [one + other for one, other in zip(total, column, strict=True)]
    return total


def _outside(tables: Tables, kin: list[float], stranger: float) -> float:
    """Log probability of the answers outside the key: kin of a species in it, or a stranger."""
    share = tables.assumptions.kin
    if share <= 0:
        return stranger
    of_kin = log(share) + _log_mean(tables.of_genera, kin)
    return of_kin if share >= 1 else log_sum(of_kin, log(1 - share) + stranger)


def outside_given(assumptions: Assumptions, outside: float, inside: float) -> float:
    """P(outside the key), from the log probabilities of the answers outside and inside it."""
    share = assumptions.outside_prior
    if share <= 0:
        return 0.0
    gap = log(share) + outside - log(1 - share) - inside
    return 1 / (1 + exp(-gap)) if gap < 0 else 1 - 1 / (1 + exp(min(gap, 700.0)))


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
        return Clue(answers, own, _of_kin(tables, own), outside, own, None)
    lapse = log(lapse_chance) + _log_mean(tables.of_species, own)
    kept = log(1 - lapse_chance)
    logs = [log_sum(kept + value, lapse) for value in own]
    return Clue(answers, logs, _of_kin(tables, logs), log_sum(kept + outside, lapse), own, lapse)


def _of_kin(tables: Tables, logs: list[float]) -> list[float]:
    """The same clue on kin of each guise: its own mark, or (with chance δ) whatever is seen anywhere in the key."""
    assumptions = tables.assumptions
    if assumptions.kin <= 0:
        return []
    like, other = log(1 - assumptions.kin_differs), log(assumptions.kin_differs) + _log_mean(tables.of_genera, logs)
    return [log_sum(like + value, other) for value in logs]


def _log_mean(weights: Sequence[float], logs: Sequence[float]) -> float:
    """Give log Σ w(g) exp(logs[g])."""
    best = max(logs)
    if best == -inf:
        return -inf
    return best + log(sum(weight * exp(value - best) for weight, value in zip(weights, logs, strict=True)))


def log_sum(one: float, other: float) -> float:
    """Give log(exp(one) + exp(other)) without overflow."""
    high, low = (one, other) if one >= other else (other, one)
    return high if low == -inf else high + log(1.0 + exp(low - high))


def _log(value: float) -> float:
    return log(value) if value > 0 else -inf
