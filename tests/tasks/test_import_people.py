"""Whom imported rows are credited to: those who are in the row, with its party, and nobody else."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from reedmace.darwincore import occurrence
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.tasks.sheet_people import read_people
from tasks.importing import Import, faulty, kept

CELLS = ("Tarn Fenwick", "", "party of 6", "Ben Sallow and party of 4", "party of 9", "Cora Reed & party of 4")
CREDITED = {
    1: "Tarn Fenwick",
    2: "Ada Marsh",
    3: "party of 6",
    4: "Ben Sallow | party of 4",
    5: "party of 9",
    6: "Cora Reed | party of 4",
}


def sheet(cells: tuple[str, ...], head: str = "", first: str = "") -> str:
    """Rows of one day and place, each with its cell of people and its place among `CELLS` as its count."""
    rows = (f"{first}12/07/2026,SU 431 118,pale rushlet,{CELLS.index(cell) + 1},{cell}\n" for cell in cells)
    return f"{head}Date,Grid Ref,Species,No.,Recorder\n{''.join(rows)}"


def credited(tmp_path: Path) -> dict[int | None, str]:
    """Give for each count what an export says of who saw it."""
    with open_ledger(tmp_path / "pond") as pond:
        found = pond.current_sightings(Wanted())
        name_of = pond.people.name_of
        return {one.count: occurrence(one, at, "", name_of)["recordedBy"] for one, at, _ in found}


@pytest.mark.parametrize("cells", [CELLS, CELLS[::-1], list(permutations(CELLS))[293]])
def test_each_row_is_credited_to_its_own_people_and_party(
    bring: Import, tmp_path: Path, cells: tuple[str, ...]
) -> None:
    """Whichever row of the day comes first."""
    done = bring(sheet(cells))
    assert (done.sightings, done.faulty) == (6, 0)
    assert credited(tmp_path) == CREDITED
    with open_ledger(tmp_path / "pond") as pond:
        names = {person.name for person in pond.people.all()}
    assert names == {"Ada Marsh", "Tarn Fenwick", "Ben Sallow", "Cora Reed"}


def test_rows_set_apart_by_their_people_come_to_the_same_visits_again(bring: Import, tmp_path: Path) -> None:
    """In whatever order they stand."""
    assert bring(sheet(CELLS)).sightings == 6
    before = kept(tmp_path)
    again = bring(sheet(CELLS[::-1]), "again.csv")
    assert (again.sightings, again.visits, again.there, again.faulty) == (0, 0, 6, 0)
    assert kept(tmp_path) == before


def test_people_without_a_party_share_the_visit_of_the_day(bring: Import, tmp_path: Path) -> None:
    """Two recorders of one day and place, each with what is theirs."""
    assert bring(sheet(("Tarn Fenwick", ""))).visits == 1
    assert credited(tmp_path) == {1: "Tarn Fenwick", 2: "Ada Marsh"}


def test_it_is_said_how_many_rows_named_nobody_and_who_is_credited(bring: Import) -> None:
    """Of a dry run too; rows that are there already are not counted again."""
    for dry in (True, False):
        done = bring(sheet(CELLS), dry=dry)
        assert (done.nobody, done.observer) == (1, "Ada Marsh")
    again = bring(sheet(CELLS))
    assert (again.nobody, again.observer) == (0, "")


def test_a_party_that_is_not_that_of_the_visit_with_this_id_comes_back(bring: Import, tmp_path: Path) -> None:
    """One visit has one party, and the row says which visit it is of. A named observer has room beside it."""
    text = sheet(("Ben Sallow and party of 4", "Tarn Fenwick", "party of 6"), "Visit ID,", "v-1,")
    done = bring(text)
    assert credited(tmp_path) == {4: "Ben Sallow | party of 4", 1: "Tarn Fenwick"}
    assert [(row["fault"], row["Recorder"]) for row in faulty(done)] == [("visit-differs", "party of 6")]


def test_an_observer_of_the_visit_without_its_party_is_credited_alone(bring: Import, tmp_path: Path) -> None:
    """The same name, once with the party and once without."""
    head = "Date,Grid Ref,Species,No.,Recorder\n"
    row = "12/07/2026,SU 431 118,pale rushlet,{},Ben Sallow{}\n"
    assert bring(head + row.format(1, " and party of 4") + row.format(2, "")).faulty == 0
    assert credited(tmp_path) == {1: "Ben Sallow | party of 4", 2: "Ben Sallow"}


@pytest.mark.parametrize(
    ("cell", "names", "party"),
    [
        ("Ben Sallow and party of 4", ("Ben Sallow",), "party of 4"),
        ("Sallow, Ben and a party of 4", ("Sallow, Ben",), "a party of 4"),
        ("Ben Sallow, party of 4", ("Ben Sallow",), "party of 4"),
        ("Ben Sallow with party of 4", ("Ben Sallow",), "party of 4"),
        ("Ben Sallow (party of 4)", ("Ben Sallow",), "party of 4"),
        ("Ben Sallow + 4 others", ("Ben Sallow",), "4 others"),
        ("Ben Sallow & Cora Reed And Party", ("Ben Sallow", "Cora Reed"), "Party"),
        ("party of 4 with Ben Sallow", ("Ben Sallow",), "party of 4"),
        ("party of 4 led by Ben Sallow", ("Ben Sallow",), "party of 4"),
        ("leader and party of 12", (), "leader and party of 12"),
        ("Walking Club with party of 4", (), "Walking Club with party of 4"),
        ("party of 6", (), "party of 6"),
        ("Ada Marsh | Ben Sallow", ("Ada Marsh", "Ben Sallow"), ""),
    ],
)
def test_a_name_beside_a_party_is_a_person(cell: str, names: tuple[str, ...], party: str) -> None:
    """And a word for whoever led it is not."""
    assert read_people(cell) == (names, party)
