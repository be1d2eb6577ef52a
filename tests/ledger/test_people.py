"""People are ids; their names live where they can be rewritten."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledger.pond import NOON, begun, counting, raw, refused, rows, sighting, visit
from reedmace.ledger.people import Person
from reedmace.ledger.store import open_ledger


def test_one_name_is_one_person(tmp_path: Path) -> None:
    """Case, spacing and composition make no new person; the first way of writing stays."""
    with open_ledger(tmp_path / "pond") as ledger:
        mint = counting()
        zoe = ledger.people.register("Zoë Marsh", mint)
        for again in ("zoë marsh", "  Zoë   Marsh ", "Zoe\u0308 Marsh", "ZOË MARSH"):
            assert ledger.people.register(again, mint) == zoe
            assert ledger.people.find(again) == zoe
        assert ledger.people.register("Zoe Marsh", mint) != zoe
        assert ledger.people.find("Ben Sedge") is None
        assert ledger.people.name_of(zoe) == "Zoë Marsh"
        assert ledger.people.all()[-1] == Person(zoe, "Zoë Marsh", "")


@pytest.mark.parametrize("again", ["Fenn, A.", "fenn,  a", "A. Fenn", "A Fenn"])
@pytest.mark.parametrize("first", ["A. Fenn", "Fenn, A.", "A Fenn"])
def test_a_surname_may_stand_first(tmp_path: Path, first: str, again: str) -> None:
    """Sheets have `Fenn, A.`, notebooks `A. Fenn` or `A Fenn`; registers of earlier days kept that as the key."""
    with open_ledger(tmp_path / "pond") as ledger:
        mint = counting()
        fenn = ledger.people.register(first, mint)
        assert ledger.people.register(again, mint) == fenn
        assert ledger.people.ids_of(again) == (fenn,)
    with raw(tmp_path / "pond") as connection:
        connection.execute("UPDATE person SET name_key = lower(name)")
    with open_ledger(tmp_path / "pond") as ledger:
        assert ledger.people.find(again) == fenn
        assert ledger.people.register(again, mint) == fenn


def test_two_whole_names_are_no_surname_and_its_first_names(tmp_path: Path) -> None:
    """Sheets have cells of two people, too, and some stand in the register as one name."""
    with open_ledger(tmp_path / "pond") as ledger:
        both = ledger.people.register("Ada Marsh, Ben Sallow", mint := counting())
        assert ledger.people.register("Ben Sallow Ada Marsh", mint) != both


@pytest.mark.parametrize("other", ["Fenn, B.", "A. Fennel", "Fenn", "A. Fenn, jr", "Fenn, A., B."])
def test_another_name_is_somebody_else(tmp_path: Path, other: str) -> None:
    with open_ledger(tmp_path / "pond") as ledger:
        fenn = ledger.people.register("A. Fenn", mint := counting())
        assert ledger.people.register(other, mint) != fenn


def test_me_is_said_once_and_stays(tmp_path: Path) -> None:
    """The setting survives closing, and can be said again."""
    with open_ledger(tmp_path / "pond") as ledger:
        mint = counting()
        assert ledger.people.me() is None
        ada, ben = (ledger.people.register(name, mint) for name in ("Ada Marsh", "Ben Sedge"))
        ledger.people.set_me(ada)
        ledger.people.set_me(ben)
    with open_ledger(tmp_path / "pond") as ledger:
        assert ledger.people.me() == ben


def test_somebody_who_is_not_registered(tmp_path: Path) -> None:
    """An id that nobody has is a fault wherever it is given."""
    with open_ledger(tmp_path / "pond") as ledger:
        with refused("unknown-person"):
            ledger.people.set_me("nobody")
        with refused("unknown-person"):
            ledger.people.name_of("nobody")
        assert ledger.people.me() is None


@pytest.mark.parametrize("name", ["", "   ", "Ada|Ben", "Ada\x1b[2J", "Ada\x00", "\ud800da"])
def test_what_cannot_be_a_name(tmp_path: Path, name: str) -> None:
    """Names are parted by | in exported files, and shown on screens."""
    with open_ledger(tmp_path / "pond") as ledger:
        with refused("name-unfit"):
            ledger.people.register(name, counting())
        assert ledger.people.all() == []


def test_entries_hold_no_names(tmp_path: Path) -> None:
    """A name rewritten in its table is gone from the file's live contents; the entries are as they were."""
    path = tmp_path / "pond"
    with begun(path) as (ledger, ada, mint):
        ben = ledger.people.register("Ben Sedge", mint)
        walk = visit(1, ben, observers=(ada, ben))
        ledger.record_walk(walk, [sighting("one", "v1", determiner=ben, observers=(ben,))], ada, NOON, mint)
    before = rows(path)
    assert not any("Sedge" in str(cell) for row in before for cell in row)
    with raw(path) as connection:
        connection.execute("UPDATE person SET name = 'forgotten', name_key = 'forgotten' WHERE id = ?", (ben,))
    with open_ledger(path) as ledger:
        assert ledger.people.name_of(ben) == "forgotten"
    assert rows(path) == before
