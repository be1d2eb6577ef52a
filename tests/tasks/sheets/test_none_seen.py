"""Rows that say that nothing at all was seen are visits, and no insects."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.ledger.store import open_ledger
from reedmace.records import Visit
from tasks.importing import Import, faulty, kept

HEAD = "Date,Site,Grid Ref,Species,No.,Recorder,Comments\n"


def visits(tmp_path: Path) -> list[Visit]:
    """Give all visits of the ledger."""
    with open_ledger(tmp_path / "pond") as pond:
        return [visit for visit, *_ in pond.current_visits()]


@pytest.mark.parametrize("cells", ["NONE,", "none seen,0", "No dragonflies,-", "Nil,no"])
def test_nothing_seen_is_a_visit_that_says_so(bring: Import, tmp_path: Path, cells: str) -> None:
    """With who was there, and what is said of it; a second time it adds nothing."""
    text = f"{HEAD}12/07/2025,Withy Pond,SU 431 118,{cells},Cora Reed,too windy\n"
    done = bring(text)
    assert (done.faulty, done.sightings, done.visits, done.left_out) == (0, 0, 1, 1)
    [at] = visits(tmp_path)
    assert (at.none_seen, at.date, at.place.square, at.remarks) == (True, "2025-07-12", "SU431118", "too windy")
    assert done.new_people == ("Cora Reed",)
    assert (bring(text).visits, len(visits(tmp_path))) == (0, 1)


def test_it_never_becomes_the_visit_of_what_others_saw(bring: Import, tmp_path: Path) -> None:
    """Of that day, at that place."""
    none = "12/07/2025,Withy Pond,SU 431 118,none,,Cora Reed,\n"
    seen = "12/07/2025,Withy Pond,SU 431 118,pale rushlet,3,Ben Sallow,\n"
    assert bring(HEAD + none + seen + none).faulty == 0
    assert sorted(at.none_seen for at in visits(tmp_path)) == [False, True]
    [(_, at)] = kept(tmp_path)
    assert not at.none_seen


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("12/07/2025,Withy Pond,SU 431 118,none,4,Cora Reed,\n", "unknown-name"),
        ("soon,Withy Pond,SU 431 118,none,0,Cora Reed,\n", "date-not-read"),
        ("12/07/2025,,,none,0,Cora Reed,\n", "place-missing"),
    ],
)
def test_one_that_counts_or_does_not_say_when_and_where_comes_back(bring: Import, row: str, fault: str) -> None:
    """As any other."""
    assert [one["fault"] for one in faulty(bring(HEAD + row))] == [fault]


@pytest.mark.parametrize("heading", ["Record ID", "Visit ID"])
def test_one_with_an_id_says_what_to_do(bring: Import, heading: str) -> None:
    """That the key knows no "None seen" would send whoever reads it to the names."""
    done = bring(f"{heading},{HEAD}r-13,12/07/2025,Withy Pond,SU431118,None seen,,Ada Marsh,\n")
    assert {code: kind.hint.partition(":")[0] for code, kind in done.faults.items()} == {
        "none-seen-with-id": "leave these ids empty"
    }
