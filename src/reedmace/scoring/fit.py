"""How well the best guise fits: the lower tail of log L(answers | guise), by convolving the answers' distributions.

If an insect like this were looked at again and again, how often would the answers fit it as badly as these do,
or worse? A normal approximation misleads with few answers, so the distribution is worked out on a grid.
The echo lapse is part of what is expected: with its probability a group is read off the key's average instead.
"""

from __future__ import annotations

from math import exp, floor, log

from reedmace.keys.answers import Answer
from reedmace.scoring.channel import CENTRAL_95, reported, widened
from reedmace.scoring.posterior import Clue, Posterior
from reedmace.scoring.tables import Tables

STEPS = 21  # in which a number is foreseen
Steps = dict[int, float]  # grid step of log L → probability


def lower_tail(tables: Tables, after: Posterior) -> float | None:
    """P(log L ≤ the one observed | best guise), None with fewer answers than can be judged."""
    answers = tuple(answer for clue in after.clues for answer in clue.answers)
    if answers not in tables.tails:
        tables.tails[answers] = _lower_tail(tables, after, answers)
    return tables.tails[answers]


def _lower_tail(tables: Tables, after: Posterior, answers: tuple[Answer, ...]) -> float | None:
    if len(answers) < tables.assumptions.fit_from:
        return None
    best = max(range(len(after.logs)), key=lambda guise: after.logs[guise])
    observed = sum(_step(tables, tables.likelihoods(answer)[0][best]) for answer in answers)
    return _tail([_expected(tables, clue, best) for clue in after.clues], observed)


def oddest(tables: Tables, after: Posterior) -> float:
    """How likely the oddest answer is under the best guise, against the one to be expected (1: all were)."""
    answers = tuple(answer for clue in after.clues for answer in clue.answers)
    if answers not in tables.oddest:
        best = max(range(len(after.logs)), key=lambda guise: after.logs[guise])
        likeliest = [max(_outcomes(tables, answer, best)[0]) for answer in answers]
        found = [tables.likelihoods(answer)[0][best] for answer in answers]
        tables.oddest[answers] = min(
            (one / most if most > 0 else 1.0 for one, most in zip(found, likeliest, strict=True)), default=1.0
        )
    return tables.oddest[answers]


def _step(tables: Tables, value: float) -> int:
    """A likelihood on the grid; outcomes and the observed one are rounded alike, so that equal stays equal."""
    return floor(log(value) / tables.assumptions.fit_grid + 0.5) if value > 0 else -(10**6)


def _expected(tables: Tables, clue: Clue, guise: int) -> Steps:
    own: Steps = {0: 1.0}
    lapsed: Steps = {0: 1.0}
    for answer in clue.answers:
        values, chances, averages = _outcomes(tables, answer, guise)
        steps = [_step(tables, value) for value in values]
        own = _convolve(own, steps, chances)
        if clue.lapse is not None:
            lapsed = _convolve(lapsed, steps, averages)
    if clue.lapse is None:
        return own
    share = tables.assumptions.echo_lapse
    mixed = {step: (1 - share) * chance for step, chance in own.items()}
    for step, chance in lapsed.items():
        mixed[step] = mixed.get(step, 0.0) + share * chance
    return mixed


def _outcomes(tables: Tables, answer: Answer, guise: int) -> tuple[list[float], list[float], list[float]]:
    """What could have been answered: L(it | guise), its probability for the guise, and in the key's average."""
    key = tables.key
    character = key.characters[answer.character]
    if character.is_number:
        return _number_outcomes(tables, answer, guise)
    readings = tables.readings(character)
    count = len(character.states)
    merged = [answer.states] + [(state,) for state in range(count) if state not in answer.states]

    def chances(row: list[float]) -> list[float]:
        plain = [sum(row[state] for state in states) for states in merged]
        if not answer.unsure:
            return plain
        share = tables.assumptions.unsure
        return [(1 - share) * value + share * len(states) / count for value, states in zip(plain, merged, strict=True)]

    mine = chances(readings.row(readings.row_of[guise]))
    average = chances(readings.average([other.share / len(key.species) for other in key.guises]))
    return mine, mine, average


def _number_outcomes(tables: Tables, answer: Answer, guise: int) -> tuple[list[float], list[float], list[float]]:
    """A number's outcomes in steps of what the guise would show, and the plain slips over the whole range."""
    character = tables.key.characters[answer.character]
    cell = character.column[guise]
    low, high = widened(character, tables.assumptions)
    if cell >= 0:
        mean, sd = reported(character, character.cells[cell], answer.instrument, tables.eye, tables.assumptions)
    else:
        mean, sd = (low + high) / 2, (high - low) / (2 * CENTRAL_95)
    assert answer.low is not None
    assert answer.high is not None
    half = (answer.high - answer.low) / 2
    slips = tables.assumptions.number_floor
    deviations = [-3 + 6 * (step + 0.5) / STEPS for step in range(STEPS)]
    masses = [exp(-0.5 * z * z) for z in deviations]
    spots = [(mean + z * sd, (1 - slips) * mass / sum(masses)) for z, mass in zip(deviations, masses, strict=True)]
    spots += [(low + (high - low) * (step + 0.5) / STEPS, slips / STEPS) for step in range(STEPS)]
    values = [
        tables.likelihood_of_number(answer._replace(low=spot - half, high=spot + half), guise) for spot, _ in spots
    ]
    return values, [chance for _, chance in spots], [1 / len(spots)] * len(spots)


def _convolve(steps: Steps, more: list[int], chances: list[float]) -> Steps:
    out: Steps = {}
    for step, chance in steps.items():
        for other, probability in zip(more, chances, strict=True):
            at = step + other
            out[at] = out.get(at, 0.0) + chance * probability
    return out


def _tail(parts: list[Steps], line: int) -> float:
    """P(Σ ≤ line). Sums that can no longer cross the line are settled at once, which keeps it small."""
    highest = [max(part) for part in parts]
    lowest = [min(part) for part in parts]
    settled = 0.0
    open_sums: Steps = {0: 1.0}
    for index, part in enumerate(parts):
        up, down = sum(highest[index + 1 :]), sum(lowest[index + 1 :])
        following: Steps = {}
        for step, chance in open_sums.items():
            for other, probability in part.items():
                at = step + other
                if at + up <= line:
                    settled += chance * probability
                elif at + down <= line:
                    following[at] = following.get(at, 0.0) + chance * probability
        open_sums = following
    return min(1.0, settled + sum(open_sums.values()))
