"""Both signs of an insect that the key lacks, P(outside) and the fit, in one number to rank by."""

from __future__ import annotations

from math import log
from random import Random

import pytest

from reedmace.keys.answers import Answer
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.scoring.doubt import believed, foreignness
from reedmace.scoring.fit import lower_tail
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from scoring.tables_made import answer, key_of, states

SURE = [(1.0, 0.0), (0.0, 1.0)]


@pytest.fixture(scope="module")
def tables() -> Tables:
    """Six species in three genera, ten marks of two states each."""
    random = Random(3)
    marks = [states(i, f"m{i}", 2, SURE, [random.randrange(2) for _ in range(6)], error=0.1) for i in range(10)]
    return Tables(key_of(marks, ["A a", "A b", "B a", "B b", "C a", "C b"]), "beginner", DEFAULTS)


def as_seen(tables: Tables, species: int, but: int, of: int = 8) -> tuple[Answer, ...]:
    """The first marks as the species shows them, `but` so many of them the other way round."""
    cells = [tables.key.characters[mark].column[species] for mark in range(of)]
    return tuple(answer(mark, cell if mark >= but else 1 - cell) for mark, cell in enumerate(cells))


def test_it_is_the_log_odds_of_outside_less_the_log_of_the_lower_tail(tables: Tables) -> None:
    before = prior(tables.key, Circumstances(flat=True), tables.assumptions)
    answers = as_seen(tables, 0, but=3)
    outside = believed(tables, before, answers).after.outside
    tail = lower_tail(tables, posterior(tables, before, answers))
    assert tail is not None
    assert foreignness(tables, before, answers) == pytest.approx(log(outside / (1 - outside)) - log(tail))


def test_while_fit_cannot_be_judged_it_is_the_log_odds_alone(tables: Tables) -> None:
    before = prior(tables.key, Circumstances(flat=True), tables.assumptions)
    answers = as_seen(tables, 0, but=0, of=3)
    outside = believed(tables, before, answers).after.outside
    assert foreignness(tables, before, answers) == pytest.approx(log(outside / (1 - outside)))


def test_what_fits_nothing_is_more_foreign_than_what_fits(tables: Tables) -> None:
    before = prior(tables.key, Circumstances(flat=True), tables.assumptions)
    for species in range(6):
        own = foreignness(tables, before, as_seen(tables, species, but=0))
        assert foreignness(tables, before, as_seen(tables, species, but=4)) > own
