"""A running number is no id: the rows of two sheets that both begin with 1 are different sightings."""

from __future__ import annotations

from pathlib import Path

import pytest

from tasks.importing import Import, faulty, kept

YEAR = (
    "ID,Date,Site,Grid ref,Species,Count\n"
    "1,1/6/{0},Tern Hollow,SU 431 118,pale rushlet,3\n"
    "2,1/6/{0},Tern Hollow,SU 431 118,misty rushlet,5\n"
)


@pytest.mark.parametrize("heading", ["ID", "Record ID", "Key"])
def test_the_sheets_of_two_years_are_the_sightings_of_both(bring: Import, tmp_path: Path, heading: str) -> None:
    """And each of them comes in once."""
    for year in ("2018", "2019", "2018"):
        done = bring(YEAR.format(year).replace("ID", heading, 1), f"{year}.csv")
        assert done.faulty == 0
    assert done.there == 2
    found = kept(tmp_path)
    assert sorted(str(at.date) for _, at in found) == ["2018-06-01"] * 2 + ["2019-06-01"] * 2
    assert all(len(one.id) == 36 for one, _ in found)


def test_a_spreadsheets_numbers_and_blanks_are_running_numbers_too(bring: Import, tmp_path: Path) -> None:
    bring(YEAR.format("2018").replace("\n1,", "\n1.0,").replace("\n2,", "\n,"))
    assert all(len(one.id) == 36 for one, _ in kept(tmp_path))


@pytest.mark.parametrize("ids", [("TH-1", "2"), ("1234567", "1234568"), ("1", "b2")])
def test_what_is_more_than_a_number_is_an_id(bring: Import, tmp_path: Path, ids: tuple[str, str]) -> None:
    bring(YEAR.format("2018").replace("\n1,", f"\n{ids[0]},").replace("\n2,", f"\n{ids[1]},"))
    assert {one.id for one, _ in kept(tmp_path)} == set(ids)


def test_who_takes_it_for_the_id_is_obeyed_and_told_how_not_to(bring: Import, tmp_path: Path) -> None:
    """The rows of the next year say something else under the same numbers."""
    assert bring(YEAR.format("2018"), typed=("ID=id",)).sightings == 2
    assert {one.id for one, _ in kept(tmp_path)} == {"1", "2"}
    done = bring(YEAR.format("2019"), "b.csv", typed=("ID=id",))
    assert list(done.faults) == ["differs-from-ledger"]
    assert all('--map "ID="' in row["what to do"] for row in faulty(done))
    assert bring(YEAR.format("2019"), "c.csv").sightings == 2
