"""What the runs of a trial add up to: shares with their standard errors, calibration, confusions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import pi, sqrt
from statistics import fmean, median
from typing import NamedTuple

from reedmace.scoring.verdict import NARROWED, OPEN, OUTSIDE, SETTLED
from reedmace.trial.asking import BROKEN_OFF, NOTHING_LEFT, Run

BINS = 10
WORST = 10  # pairs of species listed


class Share(NamedTuple):
    """So many of so many."""

    hits: int
    of: int

    @property
    def value(self) -> float:
        """The share, 0 where there is nothing to share."""
        return self.hits / self.of if self.of else 0.0

    @property
    def error(self) -> float:
        """Its standard error, sqrt(p(1 − p)/n), with one half added to both sides so that it is never 0."""
        if not self.of:
            return 0.0
        p = (self.hits + 0.5) / (self.of + 1)
        return sqrt(p * (1 - p) / self.of)


class Mean(NamedTuple):
    """A mean with its standard error and the median; all 0 where there is nothing."""

    value: float
    error: float
    median: float


class Bin(NamedTuple):
    """Runs in which the likeliest species was given `low` to `high` at the end: how many, stated, right."""

    low: float
    high: float
    runs: int
    stated: float
    right: Share


class Pair(NamedTuple):
    """A species taken for others in `runs` of the `of` runs that met it; `example` is one of them."""

    true: int
    named: tuple[int, ...]
    word: str
    runs: int
    of: int
    example: Run


class Summary(NamedTuple):
    """The figures of a trial. Shares are of all runs unless the name says otherwise."""

    runs: int
    settled_right: Share
    settled_wrong: Share
    narrowed_right: Share
    narrowed_wrong: Share
    open: Share
    outside: Share
    inside: Share  # settled, narrowed or left open with the true species among those meant
    named: Share  # … settled or narrowed only
    best_right: Share  # the likeliest species at the end was the true one
    broken_off: Share
    nothing_left: Share
    mean_set: Mean  # species named where narrowed
    answers: Mean  # answers that told something
    looks: Mean  # looks taken, "can't tell" among them
    effort: Mean  # glances
    misread: Share  # answers with states that were wrong, of those given
    stated_misread: float  # mean chance of a misread of the same answers, as the key has it, times the plan's scale
    bins: tuple[Bin, ...]
    ece: float
    ece_by_chance: float  # what a perfectly calibrated engine would show in so many runs
    pairs: tuple[Pair, ...]


def summarise(runs: Sequence[Run]) -> Summary:
    """Add up. Raises ValueError for no runs."""
    if not runs:
        raise ValueError("a trial needs a run")
    count = len(runs)

    def share(chosen: Sequence[bool]) -> Share:
        return Share(sum(chosen), count)

    words = [run.word for run in runs]
    held = [run.species in run.members for run in runs]
    told = [report for run in runs for report in run.reports if not report.answer.says_nothing]
    rates = [report.rate for report in told if report.rate is not None]
    bins = reliability(runs)
    return Summary(
        runs=count,
        settled_right=share([word == SETTLED and right for word, right in zip(words, held, strict=True)]),
        settled_wrong=share([word == SETTLED and not right for word, right in zip(words, held, strict=True)]),
        narrowed_right=share([word == NARROWED and right for word, right in zip(words, held, strict=True)]),
        narrowed_wrong=share([word == NARROWED and not right for word, right in zip(words, held, strict=True)]),
        open=share([word == OPEN for word in words]),
        outside=share([word == OUTSIDE for word in words]),
        inside=share([word == OPEN or right for word, right in zip(words, held, strict=True)]),
        named=share(held),
        best_right=share([run.best == run.species for run in runs]),
        broken_off=share([run.end == BROKEN_OFF for run in runs]),
        nothing_left=share([run.end == NOTHING_LEFT for run in runs]),
        mean_set=mean([len(run.members) + run.others for run in runs if run.word == NARROWED]),
        answers=mean([sum(not report.answer.says_nothing for report in run.reports) for run in runs]),
        looks=mean([len(run.reports) for run in runs]),
        effort=mean([run.effort for run in runs]),
        misread=Share(sum(bool(report.wrong) for report in told), sum(report.wrong is not None for report in told)),
        stated_misread=fmean(rates) if rates else 0.0,
        bins=bins,
        ece=sum(one.runs * abs(one.stated - one.right.value) for one in bins) / count,
        ece_by_chance=_by_chance(bins, count),
        pairs=worst_pairs(runs),
    )


def mean(values: Sequence[float]) -> Mean:
    """Mean, standard error of the mean, median."""
    if not values:
        return Mean(0.0, 0.0, 0.0)
    middle = fmean(values)
    spread = sqrt(sum((value - middle) ** 2 for value in values) / max(1, len(values) - 1))
    return Mean(middle, spread / sqrt(len(values)), median(values))


def reliability(runs: Sequence[Run]) -> tuple[Bin, ...]:
    """Ten bins by the probability of the likeliest species at the end: what was stated, what was right."""
    binned: list[list[Run]] = [[] for _ in range(BINS)]
    for run in runs:
        binned[min(BINS - 1, int(run.probability * BINS))].append(run)
    return tuple(
        Bin(
            number / BINS,
            (number + 1) / BINS,
            len(inside),
            fmean(run.probability for run in inside) if inside else 0.0,
            Share(sum(run.best == run.species for run in inside), len(inside)),
        )
        for number, inside in enumerate(binned)
    )


def _by_chance(bins: Sequence[Bin], count: int) -> float:
    """Σ n/N · E|share − p| where every stated probability is true: mean absolute deviations of a normal."""
    return sum(sqrt(2 / pi * one.stated * (1 - one.stated) * one.runs) for one in bins) / count


def worst_pairs(runs: Sequence[Run]) -> tuple[Pair, ...]:
    """What was named instead of what, most often first; with a run that shows it, the one with the fewest answers."""
    met = Counter(run.species for run in runs)
    wrong: dict[tuple[int, tuple[int, ...], str], list[Run]] = {}
    for run in runs:
        if run.word in (SETTLED, NARROWED) and run.species not in run.members:
            wrong.setdefault((run.species, tuple(sorted(run.members)), run.word), []).append(run)
    ranked = sorted(wrong.items(), key=lambda item: (item[0][2] != SETTLED, -len(item[1]), item[0]))
    return tuple(
        Pair(true, named, word, len(found), met[true], min(found, key=lambda run: (len(run.reports), run.number)))
        for (true, named, word), found in ranked[:WORST]
    )
