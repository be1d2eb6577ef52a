"""What is to be photographed instead of being taken in the hand, as the law asks where a species is protected."""

from __future__ import annotations

import pytest

from reedmace.scoring.looknext import look_next
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import judge
from scoring.tables_made import answer, key_of, plain, states

ERROR = 0.1


def looks(rare: float, *, protected: bool) -> tuple[float, dict[str, str]]:
    """The chance of the third species, and what is to be photographed of each mark that is offered.

    The first mark is answered; the third species shows what was seen with the chance `rare`, the others always.
    """
    cells = [(1.0, 0.0), (1.0, 0.0), (rare, 1.0 - rare)]
    seen = states(0, "seen", 2, cells, (0, 1, 2), error=0.0)
    rest = ([(0.9, 0.1), (0.1, 0.9), (0.5, 0.5)], (0, 1, 2))
    near = states(1, "near", 2, *rest, error=ERROR, effort="close", photograph="its tail")
    held = states(2, "held", 2, *rest, error=ERROR, effort="hand", photograph="its collar")
    far = states(3, "far", 2, *rest, error=ERROR, effort="look")
    key = key_of([seen, near, held, far], ["Genus a", "Genus b", "Genus c"])
    key = key._replace(species=(*key.species[:2], key.species[2]._replace(protected=protected)))
    tables = Tables(key, "beginner", plain(outside_prior=0.0))
    given = (answer(0, 0),)
    before = prior(key, Circumstances(flat=True), tables.assumptions)
    after = posterior(tables, before, given)
    found = look_next(tables, after, judge(tables, before, after), given)
    return after.species[2], {key.characters[look.character].id: look.photograph for look in found.looks}


@pytest.mark.parametrize("rare", [0.03, 0.1, 0.3])
def test_a_protected_species_in_the_running_is_photographed(rare: float) -> None:
    """From one in a hundred on: every mark of which there is a photograph to take, and no more."""
    chance, found = looks(rare, protected=True)
    assert 0.01 < chance < 0.5
    assert found == {"near": "its tail", "held": "its collar", "far": ""}


def test_one_that_is_hardly_in_the_running_changes_nothing() -> None:
    """Below that it may be looked at; only what wants the hand is photographed all the same."""
    chance, found = looks(0.015, protected=True)
    assert 0 < chance < 0.01
    assert found == {"near": "", "held": "its collar", "far": ""}


def test_one_that_nobody_protects_may_be_looked_at() -> None:
    """However likely it is."""
    chance, found = looks(0.3, protected=False)
    assert chance > 0.01
    assert found == {"near": "", "held": "its collar", "far": ""}
