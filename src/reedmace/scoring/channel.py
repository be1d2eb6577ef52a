"""The observer channel: what an observer reports, given what is there.

E(k' | k) is per state: a mark is missed (its absence reported) far more often than one is invented. Half of
the error goes to the states the key names as easily confused, half to all others; on ordered states the
first half falls with distance. A guise whose cell is not known borrows from its congeners of the same sex and
age and from the key as a whole, so that ignorance is never rewarded.
"""

from collections.abc import Iterable
from itertools import pairwise
from math import erf, exp, pi, sqrt
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import NOT_APPLICABLE, NOT_KNOWN, Character, Key
from reedmace.scoring.assumptions import Assumptions

CENTRAL_95 = 1.959963984540054
BINS = 12  # steps in which an unasked number is foreseen


class Readings(NamedTuple):
    """What may be reported of one character.

    `rows[r][k]` is the probability of report k; `row_of[g]` the row of guise g; `seeable[g]` is False where the
    character does not apply to the guise.
    """

    rows: list[list[float]]
    row_of: list[int]
    seeable: list[bool]


class Kinship(NamedTuple):
    """Which guises are relatives: congeners of the same sex and age. `members[of_guise[g]]` are those of guise g."""

    of_guise: list[int]
    members: list[list[int]]


def kinship(key: Key) -> Kinship:
    """Sort the guises of a key into relatives."""
    numbers: dict[tuple[str, str | None, str], int] = {}
    of_guise: list[int] = []
    members: list[list[int]] = []
    for index, guise in enumerate(key.guises):
        family = (key.species[guise.species].genus, guise.sex, guise.age)
        if family not in numbers:
            numbers[family] = len(members)
            members.append([])
        of_guise.append(numbers[family])
        members[numbers[family]].append(index)
    return Kinship(of_guise, members)


def confusion(character: Character, eye: str, assumptions: Assumptions) -> list[list[float]]:
    """E[k][k'], rows adding up to 1."""
    states = character.states
    count = len(states)
    missed, invented = character.misread[eye]
    absent = next((index for index, state in enumerate(states) if state.absent), None)
    matrix = []
    for true in range(count):
        rate = invented if true == absent else missed
        error = min(rate * assumptions.error_factor, 0.9 * (count - 1) / count)
        likely = _likely_confusions(character, true, absent)
        total = sum(likely)
        row = [error * (0.5 * likely[k] / total + 0.5 / (count - 1)) for k in range(count)]
        row[true] = 1.0 - error
        matrix.append(row)
    return matrix


def _likely_confusions(character: Character, true: int, absent: int | None) -> list[float]:
    """Weights of the states that `true` is easily taken for; all others alike when none are named."""
    count = len(character.states)
    if character.ordered:
        return [0.0 if k == true else 2.0 ** -(abs(k - true) - 1) for k in range(count)]
    named = {other for pair in character.confused if true in pair for other in pair if other != true}
    if absent is not None and true != absent:
        named.add(absent)  # to miss a mark is to report that there is none
    return [1.0 if k in named else 0.0 for k in range(count)] if named else [float(k != true) for k in range(count)]


def state_readings(kin: Kinship, character: Character, eye: str, assumptions: Assumptions) -> Readings:
    """Readings of a character with states."""
    matrix = confusion(character, eye, assumptions)
    rows = [_blend(cell, matrix) for cell in character.cells]
    return _complete(kin, character, rows, _not_applicable(character, matrix))


def _blend(cell: tuple[float, ...], matrix: list[list[float]]) -> list[float]:
    """What is reported of a cell: the rows of its states, each by its frequency."""
    blended = [0.0] * len(matrix)
    for frequency, row in zip(cell, matrix, strict=True):
        if frequency == 1:
            return row
        if frequency:
            blended = [total + frequency * value for total, value in zip(blended, row, strict=True)]
    return blended


def _not_applicable(character: Character, matrix: list[list[float]]) -> list[float]:
    """Where the question makes no sense a value seen is an error; "nothing there" is what one would say."""
    count = len(matrix)
    floor = sum(1.0 - matrix[k][k] for k in range(count)) / count / count
    return [1.0 - floor * (count - 1) if state.absent else floor for state in character.states]


def foreseen_numbers(kin: Kinship, character: Character, eye: str, assumptions: Assumptions) -> Readings:
    """Readings of a number judged by eye, in steps over its widened range: for foreseeing an answer only."""
    low, high = widened(character, assumptions)
    edges = [low + (high - low) * step / BINS for step in range(BINS + 1)]
    floor = assumptions.number_floor
    rows = []
    for cell in character.cells:
        mean, sd = reported(character, cell, "eye", eye, assumptions)
        below = [_below(edge, mean, sd) for edge in edges]
        rows.append([(1 - floor) * (b - a) + floor / BINS for a, b in pairwise(below)])
    return _complete(kin, character, rows, [floor / BINS] * BINS)


def number_likelihoods(
    kin: Kinship, character: Character, answer: Answer, eye: str, assumptions: Assumptions
) -> list[float]:
    """L(answer | guise) for a number: a density (per unit) for one value, an integral for a range."""
    assert answer.low is not None
    assert answer.high is not None
    low, high = widened(character, assumptions)
    floor = assumptions.number_floor
    exact = answer.low == answer.high
    chance = (1.0 if exact else answer.high - answer.low) / (high - low)
    rows = []
    for cell in character.cells:
        mean, sd = reported(character, cell, answer.instrument, eye, assumptions)
        if exact:
            fitting = exp(-0.5 * ((answer.low - mean) / sd) ** 2) / (sd * sqrt(2 * pi))
        else:
            fitting = _below(answer.high, mean, sd) - _below(answer.low, mean, sd)
        rows.append([(1 - floor) * fitting + floor * chance])
    readings = _complete(kin, character, rows, [floor * chance])
    return [readings.rows[row][0] for row in readings.row_of]


def reported(
    character: Character, cell: tuple[float, ...], instrument: str, eye: str, assumptions: Assumptions
) -> tuple[float, float]:
    """Mean and standard deviation of what is reported for a cell (mean, sd): its spread and the observer's."""
    mean, sd = cell
    if instrument == "eye" and eye in character.by_eye:
        half_width, bias = character.by_eye[eye]
        error = half_width * mean / CENTRAL_95
        mean *= 1.0 + bias
    else:
        half = assumptions.measured_half_width if instrument == "measured" else assumptions.ruler_half_width
        error = half / CENTRAL_95
    return mean, sqrt(sd * sd + error * error)


def widened(character: Character, assumptions: Assumptions) -> tuple[float, float]:
    """The range over which a number known nothing about may lie."""
    assert character.range is not None
    low, high = character.range
    margin = assumptions.range_margin * (high - low)
    return low - margin, high + margin


def _below(value: float, mean: float, sd: float) -> float:
    return 0.5 * (1.0 + erf((value - mean) / (sd * sqrt(2.0))))


def _complete(kin: Kinship, character: Character, rows: list[list[float]], not_applicable: list[float]) -> Readings:
    """Add the rows of guises that do not apply or are not known to the rows of the described ones."""
    column = character.column
    rows = [*rows, not_applicable]
    nothing = len(rows) - 1
    row_of = [nothing if cell == NOT_APPLICABLE else cell for cell in column]
    if NOT_KNOWN in column:
        scored = _tally(cell for cell in column if cell >= 0)
        mean = _mean(rows, scored) if scored else [1.0 / len(not_applicable)] * len(not_applicable)
        borrowed: dict[int, int] = {}
        for index, cell in enumerate(column):
            if cell != NOT_KNOWN:
                continue
            family = kin.of_guise[index]
            if family not in borrowed:
                relatives = _tally(known for other in kin.members[family] if (known := column[other]) >= 0)
                borrowed[family] = len(rows)
                rows.append(_mean([*rows, mean], {**relatives, len(rows): 1}))
            row_of[index] = borrowed[family]
    return Readings(rows, row_of, [cell != NOT_APPLICABLE for cell in column])


def _tally(cells: Iterable[int]) -> dict[int, int]:
    counts: dict[int, int] = {}
    for cell in cells:
        counts[cell] = counts.get(cell, 0) + 1
    return counts


def _mean(rows: list[list[float]], counts: dict[int, int]) -> list[float]:
    """The mean of rows, each as often as it counts."""
    total = sum(counts.values())
    return [sum(rows[row][k] * count for row, count in counts.items()) / total for k in range(len(rows[0]))]
