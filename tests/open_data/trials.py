"""Ten-fold trials on a table, with answers flipped at random and some missing.

Measured are how often the first name is right, and how far what is claimed for it is from how often it is right.
A flipped word becomes another word of its column, each as likely; a flipped number becomes that of another individual
drawn at random. The folds, the flips and what is missing come from one seed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, log
from random import Random
from statistics import fmean, stdev
from typing import NamedTuple

from open_data.key_from_table import Made, key_from
from open_data.tables import Table, Value, classes_of
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables

FOLDS = 10
CONFIDENCE_BINS = 10
ASSUMED = 0.10  # the error that the plain reference assumes


class Setting(NamedTuple):
    """Shares of answers flipped and of answers missing."""

    flipped: float
    missing: float = 0.0

    def __str__(self) -> str:
        shown = f"{self.flipped * 100:g} %"
        return f"{shown}, {self.missing * 100:g} % missing" if self.missing else shown


SETTINGS = (Setting(0.0), Setting(0.05), Setting(0.10), Setting(0.20), Setting(0.10, 0.30))

Namer = Callable[[Sequence[Value]], list[float]]  # a row → a probability for each class
Learner = Callable[[Table], Namer]


class Result(NamedTuple):
    """Over repeats: mean top-1, its standard error, and the calibration error of all answers pooled by repeat."""

    top1: float
    error: float
    ece: float


def engine(*, binned: bool, eye: str = "beginner") -> Learner:
    """Reedmace with a key made from the individuals of the other folds."""

    def learn(table: Table) -> Namer:
        made: Made = key_from(table, binned=binned)
        tables = Tables(made.key, eye)
        before = prior(made.key, Circumstances(), tables.assumptions)

        def name(row: Sequence[Value]) -> list[float]:
            tables.clues.clear()  # nobody asks for the same numbers again
            return posterior(tables, before, made.answers(row)).species

        return name

    return learn


def plain_reference(table: Table) -> Namer:
    """Error-tolerant Bayes with nothing of the engine: counts of binned columns, mixed with an even error."""
    made = key_from(table, binned=True)  # for its bins only
    classes = classes_of(table)
    counted: list[dict[str, list[int]]] = []
    for index, character in enumerate(made.key.characters):
        counts = {one: [1] * len(character.states) for one in classes}
        for row, of in zip(table.rows, table.classes, strict=True):
            answer = made.readers[index].read(index, row[index])
            if answer is not None:
                counts[of][answer.states[0]] += 1
        counted.append(counts)

    def name(row: Sequence[Value]) -> list[float]:
        logs = [log(table.classes.count(one) / len(table.classes)) for one in classes]
        for answer in made.answers(row):
            counts = counted[answer.character]
            for at, one in enumerate(classes):
                shown, (state,) = counts[one], answer.states
                logs[at] += log((1 - ASSUMED) * shown[state] / sum(shown) + ASSUMED / len(shown))
        best = max(logs)
        weights = [exp(value - best) for value in logs]
        return [weight / sum(weights) for weight in weights]

    return name


def run(table: Table, learn: Learner, setting: Setting, *, repeats: int, seed: int = 1) -> Result:
    """`repeats` times ten folds."""
    right, calibration = [], []
    for repeat in range(repeats):
        named = _ten_folds(table, learn, setting, Random(f"{table.name} {setting} {seed} {repeat}"))
        right.append(fmean(hit for hit, _ in named))
        calibration.append(expected_calibration_error(named))
    spread = stdev(right) / repeats**0.5 if repeats > 1 else 0.0
    return Result(fmean(right), spread, fmean(calibration))


def _ten_folds(table: Table, learn: Learner, setting: Setting, chance: Random) -> list[tuple[bool, float]]:
    order = list(range(len(table.rows)))
    chance.shuffle(order)
    named = []
    for fold in range(FOLDS):
        asked = order[fold::FOLDS]
        known = [one for one in order if one not in set(asked)]
        training = table._replace(rows=[table.rows[i] for i in known], classes=[table.classes[i] for i in known])
        name, classes = learn(training), classes_of(training)
        for one in asked:
            probabilities = name(misread(table, table.rows[one], setting, chance))
            best = max(range(len(classes)), key=probabilities.__getitem__)
            named.append((classes[best] == table.classes[one], probabilities[best]))
    return named


def misread(table: Table, row: Sequence[Value], setting: Setting, chance: Random) -> list[Value]:
    """A row as reported: some values flipped, some missing."""
    reported: list[Value] = []
    for column, value in enumerate(row):
        if value is None or chance.random() < setting.missing:
            reported.append(None)
        elif chance.random() >= setting.flipped:
            reported.append(value)
        elif isinstance(value, str):
            others = sorted({str(other[column]) for other in table.rows if other[column] is not None} - {value})
            reported.append(chance.choice(others) if others else value)
        else:
            reported.append(chance.choice(table.rows)[column])
    return reported


def expected_calibration_error(named: Sequence[tuple[bool, float]]) -> float:
    """Σ over ten steps of confidence: share of answers × |share right − mean confidence| (Naeini et al. 2015)."""
    bins: list[list[tuple[bool, float]]] = [[] for _ in range(CONFIDENCE_BINS)]
    for hit, claimed in named:
        bins[min(int(claimed * CONFIDENCE_BINS), CONFIDENCE_BINS - 1)].append((hit, claimed))
    return sum(
        len(one) / len(named) * abs(fmean(hit for hit, _ in one) - fmean(claimed for _, claimed in one))
        for one in bins
        if one
    )
