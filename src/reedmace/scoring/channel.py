"""The observer channel: what an observer reports, given what is there.

E(k' | k) is per state: a mark is missed (its absence reported) far more often than one is invented. Half of
the error goes to the states the key names as easily confused, half to all others; on ordered states the
first half falls with distance. A guise whose cell is not known borrows from its congeners of the same sex and
age and from the key as a whole, so that ignorance is never rewarded.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import erf, exp, pi, sqrt
from operator import mul

from reedmace.keys.answers import Answer
from reedmace.keys.borrowing import Cell, Kinship, borrow
from reedmace.keys.model import NOT_APPLICABLE, Character
from reedmace.scoring.assumptions import Assumptions

CENTRAL_95 = 1.959963984540054
BINS = 12  # steps in which an unasked number is foreseen


class Readings:
    """What may be reported of one character, worked out row by row when it is asked for.

    `row_of[g]` is the row of guise g, `row(r)[k]` the probability of report k; `seeable[g]` is False where the
    character does not apply to the guise. Rows are linear in cells: what is borrowed is averaged before it is read.
    A row is its cell × `matrix` (the cell itself without one); the last row is `not_applicable`.
    """

    __slots__ = ("_rows", "cells", "matrix", "not_applicable", "row_of", "seeable")

    def __init__(
        self,
        cells: Sequence[Cell],
        column: Sequence[int],
        not_applicable: list[float],
        matrix: list[list[float]] | None,
    ) -> None:
        self.cells = cells
        self.matrix = matrix
        self.not_applicable = not_applicable
        self._rows: dict[int, list[float]] = {}
        nothing = len(cells)  # the last row, where the character does not apply
        self.row_of = [nothing if cell == NOT_APPLICABLE else cell for cell in column]
        self.seeable = [cell != NOT_APPLICABLE for cell in column]

    @property
    def count(self) -> int:
        """How many reports there are."""
        return len(self.not_applicable)

    def row(self, number: int) -> list[float]:
        """The probabilities of every report for one row."""
        row = self._rows.get(number)
        if row is None:
            row = self._rows[number] = self._read_one(number)
        return row

    def _read_one(self, number: int) -> list[float]:
        if number == len(self.cells):
            return self.not_applicable
        cell = self.cells[number]
        return list(cell) if self.matrix is None else _blend(cell, self.matrix)

    def every_row(self) -> list[list[float]]:
        """All rows."""
        return [self.row(number) for number in range(len(self.cells) + 1)]

    def within(self, states: Sequence[int]) -> list[float]:
        """The probability that the report is one of these states, for every row; without working out the rows."""
        if self.matrix is None:
            return [sum(row[state] for state in states) for row in self.every_row()]
        of_true = [sum(row[state] for state in states) for row in self.matrix]
        read = [sum(map(mul, cell, of_true)) for cell in self.cells]
        return [*read, sum(self.not_applicable[state] for state in states)]

    def average(self, weights: Sequence[float]) -> list[float]:
        """The rows of all guises, each by its weight."""
        by_row: dict[int, float] = {}
        for number, weight in zip(self.row_of, weights, strict=True):
            by_row[number] = by_row.get(number, 0.0) + weight
        return self._read(by_row)

    def _read(self, by_row: dict[int, float]) -> list[float]:
        nothing = by_row.pop(len(self.cells), 0.0)
        total = [nothing * value for value in self.not_applicable]
        cell: list[float] = []
        for number, weight in by_row.items():
            values = self.cells[number]
            cell = (
                [one + weight * value for one, value in zip(cell, values, strict=True)]
                if cell
                else [weight * value for value in values]
            )
        if cell:
            read = cell if self.matrix is None else _blend(cell, self.matrix)
            total = [one + other for one, other in zip(total, read, strict=True)]
        return total


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


def state_readings(character: Character, eye: str, assumptions: Assumptions) -> Readings:
    """Readings of a character with states."""
    matrix = confusion(character, eye, assumptions)
    return Readings(character.cells, character.column, _not_applicable(character, matrix), matrix)


def _blend(cell: Cell, matrix: list[list[float]]) -> list[float]:
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
    rows: list[Cell] = []
    for cell in character.cells:
        mean, sd = reported(character, cell, "eye", eye, assumptions)
        below = [_below(edge, mean, sd) for edge in edges]
        rows.append([(1 - floor) * (b - a) + floor / BINS for a, b in pairwise(below)])
    return _number_readings(kin, character, rows, [floor / BINS] * BINS)


def _number_readings(kin: Kinship, character: Character, rows: list[Cell], not_applicable: list[float]) -> Readings:
    borrowed = borrow(kin, rows, character.column, len(not_applicable))
    return Readings([*rows, *borrowed.cells], borrowed.column, not_applicable, None)


def number_likelihoods(
    kin: Kinship, character: Character, answer: Answer, eye: str, assumptions: Assumptions
) -> list[float]:
    """L(answer | guise) for a number: a density (per unit) for one value, an integral for a range."""
    rows: list[Cell] = [[_number_likelihood(character, cell, answer, eye, assumptions)] for cell in character.cells]
    readings = _number_readings(
        kin, character, rows, [assumptions.number_floor * by_chance(character, answer, assumptions)]
    )
    return [readings.row(row)[0] for row in readings.row_of]


def number_likelihood_of_one(
    kin: Kinship, character: Character, answer: Answer, eye: str, assumptions: Assumptions, guise: int
) -> float:
    """As `number_likelihoods`, for one guise: without going through all others where its own cell is known."""
    cell = character.column[guise]
    if cell < 0:
        return number_likelihoods(kin, character, answer, eye, assumptions)[guise]
    return _number_likelihood(character, character.cells[cell], answer, eye, assumptions)


def by_chance(character: Character, answer: Answer, assumptions: Assumptions) -> float:
    """L(number) when all values of the widened range are alike: a density for one value, a share for a range."""
    assert answer.low is not None
    assert answer.high is not None
    low, high = widened(character, assumptions)
    return (1.0 if answer.low == answer.high else answer.high - answer.low) / (high - low)


def _number_likelihood(
    character: Character, cell: tuple[float, ...], answer: Answer, eye: str, assumptions: Assumptions
) -> float:
    assert answer.low is not None
    assert answer.high is not None
    mean, sd = reported(character, cell, answer.instrument, eye, assumptions)
    if answer.low == answer.high:
        fitting = exp(-0.5 * ((answer.low - mean) / sd) ** 2) / (sd * sqrt(2 * pi))
    else:
        fitting = _below(answer.high, mean, sd) - _below(answer.low, mean, sd)
    floor = assumptions.number_floor
    return (1 - floor) * fitting + floor * by_chance(character, answer, assumptions)


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
