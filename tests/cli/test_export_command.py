"""`reedmace export`: a season as a file, the same bytes every time, never half a file, never over another."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest


def test_the_same_ledger_gives_the_same_bytes(log, run, tmp_path: Path) -> None:
    """Twice over, under two names."""
    log("2m 3f pale", "3 cop misty  # by the reeds", "azure".replace("azure", "pale/misty"), "great ?")
    first = run("export", "--season", "2025", "--to", "one.csv")
    second = run("export", "--season", "2025", "--to", "two.csv")
    assert first.stdout == "5 records written to one.csv\n"
    assert second.returncode == 0
    assert (tmp_path / "one.csv").read_bytes() == (tmp_path / "two.csv").read_bytes()


def test_a_later_undo_leaves_out_the_line_and_changes_no_other_byte(log, run, tmp_path: Path) -> None:
    """Every record keeps its identifier for ever."""
    log("12 pale m")
    run("export", "--to", "one.csv")
    log("3 great")
    run("ledger", "undo")
    run("export", "--to", "two.csv")
    assert (tmp_path / "one.csv").read_bytes() == (tmp_path / "two.csv").read_bytes()


def test_one_row_a_sighting_with_the_ids_of_the_ledger(log, run, listed, tmp_path: Path) -> None:
    """Read back by Python's own csv: a season's rows and no others."""
    log("2m 3f pale")
    log("1 great", "--locality", 'Bédoin, [sensu lato] "the tarn"')
    run("export", "--season", "2025", "--to", "one.csv")
    with (tmp_path / "one.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["occurrenceID"] for row in rows} == {one["id"] for one in listed()}
    assert {row["verbatimLocality"] for row in rows} == {"", 'Bédoin, [sensu lato] "the tarn"'}
    assert [row["scientificName"] for row in rows].count("Tarnula pallida") == 2
    none = run("export", "--season", "2024", "--to", "none.csv")
    assert none.stdout == "0 records written to none.csv\n"
    assert none.stderr == (
        "No record was among those asked for; the file has nothing but headings. There are records of: 2025.\n"
    )


def test_an_export_of_nothing_is_not_noted_as_sent(log, run, tmp_path: Path) -> None:
    """A year mistyped would stand in the log of what went out."""
    log("1 great")
    said = run("export", "--season", "2052", "--to", "none.zip", "--for", "Tarn Fenwick").stderr
    assert "It was not noted as sent. There are records of: 2025." in said
    assert run("export", "log", "--json").stdout == ""
    assert "submission 1" in run("export", "--season", "2025", "--to", "some.zip", "--for", "Tarn Fenwick").stderr


def test_a_file_that_is_there_is_not_written_over_without_force(log, run, tmp_path: Path) -> None:
    """With --force it is."""
    log("12 pale m")
    (tmp_path / "mine.csv").write_text("precious")
    ran = run("export", "--to", "mine.csv")
    assert ran.returncode in (1, 2)
    assert "hint: " in ran.stderr
    assert (tmp_path / "mine.csv").read_text() == "precious"
    assert run("export", "--to", "mine.csv", "--force").returncode == 0
    assert (tmp_path / "mine.csv").read_text().startswith("occurrenceID,")


@pytest.mark.parametrize("name", ["season.xls", "season", "nowhere/season.csv", "folder.csv"])
def test_a_file_that_cannot_be_written_is_a_fault_with_a_remedy(log, run, tmp_path: Path, name: str) -> None:
    """A wrong ending, a folder that is not there, a folder of that name."""
    log("12 pale m")
    (tmp_path / "folder.csv").mkdir()
    ran = run("export", "--to", name)
    assert ran.returncode in (1, 2)
    assert ran.stdout == ""
    assert "hint: " in ran.stderr
    assert "Traceback" not in ran.stderr
    left = {path.name for path in tmp_path.iterdir()}
    assert not [one for one in left if one.startswith("season")]
    assert not [one for one in left if one.endswith((".part", ".tmp"))]


@pytest.mark.parametrize("year", ["25", "next", "99999"])
def test_a_season_is_a_year_in_full(log, run, year: str) -> None:
    """Wrong usage otherwise."""
    ran = run("export", "--season", year, "--to", "one.csv")
    assert (ran.returncode, ran.stdout) == (2, "")
