"""What `ledger import` says of a sheet before and after it is read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tarn import FOLDER

pytestmark = pytest.mark.usefixtures("owned")


def test_a_sheet_without_headings_is_refused(tarn_run, tmp_path: Path) -> None:
    """Its first record would be lost."""
    (tmp_path / "bare.csv").write_text(
        "12/07/2025,Pale Rushlet,Sallow,SU431118,1\n13/07/2025,misty,Sallow,SU431118,2\n"
    )
    ran = tarn_run("ledger", "import", "bare.csv", "--yes")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "first-row-a-record" in ran.stderr
    assert '"SU431118" is a place' in " ".join(ran.stderr.split())
    assert "write headings in a row above it" in ran.stderr


def test_columns_that_count_and_what_stands_above_them_are_shown(tarn_run, tmp_path: Path) -> None:
    """Before anything is written; so is what a blank means among ticks."""
    head = "Pond book\nDate,Gridref,Species,Males,Exuviae,Seen\n"
    (tmp_path / "pond.csv").write_text(f"{head}12/07/2025,SU431118,pale,1,2,x\n12/07/2025,SU431118,misty,,,\n")
    ran = tarn_run("ledger", "import", "pond.csv", "--yes", "--zero", "skip")
    assert "Above the headings, and passed over: Pond book" in ran.stderr
    assert "Each number under males, exuviae is a sighting of its own" in ran.stderr
    assert "Seen is a column of ticks: no and blank mean there what 0 means" in ran.stderr
    assert "Brought in 2 sightings and 1 visit from 2 rows." in ran.stdout


def test_a_column_of_numbers_that_is_left_out_is_said_plainly(tarn_run, tmp_path: Path) -> None:
    """Without a question too; one of words, or of mixed cells, is only shown."""
    head = "Date,Gridref,Species,Wheels,Ring,Ref,Colour\n"
    (tmp_path / "n.csv").write_text(f"{head}12/07/2025,SU431118,pale,1,12,a1,red\n13/07/2025,SU431118,pale,1,,b2,\n")
    said = " ".join(tarn_run("ledger", "import", "n.csv", "--yes").stderr.split())
    assert 'Left out, though it holds numbers: Ring (to bring them in: --map "Heading=field" )' in said


def test_numbers_that_may_number_the_rows_are_asked_about(tarn_run, tmp_path: Path) -> None:
    """Where nothing else counts: one answer brings them in as counts, the other without one."""
    rows = "".join(f"{at},12/07/2025,SU431118,pale\n" for at in range(3, 9))
    (tmp_path / "n.csv").write_text(f"No,Date,Gridref,Species\n{rows}")
    ran = tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run")
    assert (ran.returncode, "count-or-row-number" in ran.stderr, "(3, 4, 5 …)" in ran.stderr) == (2, True, True)
    for said, means in (("No=count", "No count such as 3"), ("No=", "No - left out - such as 3")):
        assert f'--map "{said}"' in ran.stderr
        told = tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run", "--map", said)
        assert (told.returncode, means in " ".join(told.stderr.split())) == (0, True)


def test_a_column_without_a_heading_is_told_and_can_be_said(tarn_run, tmp_path: Path) -> None:
    """As under a heading that runs over two columns."""
    (tmp_path / "n.csv").write_text("Date,Gridref,Species,Males,\n12/07/2025,SU431118,pale,1,2\n")
    said = " ".join(tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run").stderr.split())
    assert "Left out, though it holds numbers: (no heading) (to bring them in:" in said
    ran = tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run", "--map", "=females")
    assert "Would bring in 2 sightings" in ran.stdout


def test_how_a_count_goes_with_skins_is_shown(tarn_run, tmp_path: Path) -> None:
    """For the sheet, not row by row."""
    for head, said in (
        ("Count,Exuviae", "Under count are the others, beside those under exuviae"),
        ("Count,Males,Exuviae", "those under exuviae are not in it"),
    ):
        (tmp_path / "n.csv").write_text(f"Date,Gridref,Species,{head}\n12/07/2025,SU431118,pale,4,4,4\n")
        assert said in tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run").stderr


def test_a_table_that_runs_crosswise_says_so_instead_of_a_missing_column(tarn_run, tmp_path: Path) -> None:
    """With what to do."""
    (tmp_path / "cross.csv").write_text("Species,Site,12/07/2025,19/07/2025\npale,Sallow,1,2\n")
    ran = tarn_run("ledger", "import", "cross.csv", "--yes")
    assert "table-crosswise" in ran.stderr
    assert "no-date-column" not in ran.stderr


def test_names_that_are_not_in_the_key_are_told_on_the_screen_and_as_json(tarn_run, tmp_path: Path) -> None:
    """With the nearest of the key."""
    head = "occurrenceID,eventDate,scientificName,decimalLatitude,decimalLongitude\n"
    (tmp_path / "n.csv").write_text(f"{head}a,2025-07-12,Tarnula palida,51.06,-1.31\n")
    ran = tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run")
    assert "Scientific names that are not in the key, kept as they are:" in ran.stdout
    assert "Tarnula palida, 1 row; the key has Tarnula pallida" in ran.stdout
    told = json.loads(tarn_run("ledger", "import", "n.csv", "--yes", "--json").stdout)
    assert told["not_in_key"] == [{"name": "Tarnula palida", "nearest": "Tarnula pallida", "rows": 1}]


def test_corrected_rows_are_told_as_json_by_their_names(tarn_run, tmp_path: Path) -> None:
    """As all else is, and not as bare lists."""
    for count in ("3", "4"):
        (tmp_path / "rows.csv").write_text(f"Date,Gridref,Species,No.\n12/07/2025,SU431118,pale,{count}\n")
        told = json.loads(tarn_run("ledger", "import", "rows.csv", "--yes", "--json").stdout)
    [one] = told["corrected"]
    assert (one["line"], one["name"], one["differs"]) == (2, "Pale Rushlet", ["count"])
    assert one["record"] != one["before"]


def test_what_a_row_without_a_tick_means_is_asked_at_a_terminal(seat, tmp_path: Path) -> None:
    """As for 0."""
    rows = "12/07/2025,SU431118,pale,x\n12/07/2025,SU431118,misty,\n"
    (tmp_path / "ticks.csv").write_text(f"Date,Gridref,Species,Seen\n{rows}")
    with seat("ledger", "import", "ticks.csv", "--key", FOLDER) as terminal:
        terminal.wait_for("Is this right?")
        terminal.type("y")
        terminal.wait_for("Line 3 counts nothing")
        terminal.type("skip")
        terminal.wait_for("Brought in 1 sighting")
        assert terminal.leave() == 0


def test_a_running_number_is_shown_as_such_with_how_to_take_it(tarn_run, tmp_path: Path) -> None:
    """And not once more as a column of numbers that is left out."""
    sheet = "ID,Date,Gridref,Species\n1,12/07/2025,SU431118,pale\n2,13/07/2025,SU431118,pale\n"
    (tmp_path / "n.csv").write_text(sheet)
    said = " ".join(tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run").stderr.split())
    assert "ID is a running number, and no id that a record keeps" in said
    assert '--map "ID=id"' in said
    assert "Left out, though" not in said
    said = " ".join(tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run", "--map", "ID=id").stderr.split())
    assert "running number" not in said


def test_who_is_new_in_the_register_is_told_by_name(tarn_run, tmp_path: Path) -> None:
    """Before anything is written too, so that a cell that was read wrongly shows."""
    head = "Date,Gridref,Species,Recorder\n12/07/2025,SU431118,pale,"
    (tmp_path / "n.csv").write_text(f"{head}Cora Reed & Moss Linley\n")
    dry = tarn_run("ledger", "import", "n.csv", "--yes", "--dry-run")
    assert "New people there would be: Cora Reed; Moss Linley" in dry.stdout
    assert "New people: Cora Reed; Moss Linley" in tarn_run("ledger", "import", "n.csv", "--yes").stdout
    again = tarn_run("ledger", "import", "n.csv", "--yes", "--json")
    assert json.loads(again.stdout)["new_people"] == []
