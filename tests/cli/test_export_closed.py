"""A place that by the register of sites nobody else may see goes to nobody; one for the county recorder does."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

TARN = ("--for", "Tarn Fenwick")
GARDEN = ("sites", "add", "Mrs Pell's garden", "SU 4318 1182", "--kind", "exact", "--also", "Pell place")
SECRETS = ("Pell", "greenhouse", "4318", "1182", "SU43", "50.90", "431", "10:00")


def told_of(rows: list[dict[str, str]]) -> list[str]:
    """The secrets that rows tell. Identifiers are figures of chance, in which any figures may turn up."""
    said = [value for row in rows for term, value in row.items() if term not in ("occurrenceID", "eventID")]
    return [secret for secret in SECRETS if any(secret in value for value in said)]


def read(path: Path) -> list[dict[str, str]]:
    """The rows of a file."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture
def walks(tarn_run: Any, owned: Any) -> Any:
    """A garden that nobody else may see, with two records, a spot of it on another visit, and a pond."""
    assert tarn_run(*GARDEN, "--may-see", "nobody else").returncode == 0
    for lines in (
        ('visit 2025-07-12 @ "Mrs Pell\'s garden" 10:00-11:00', "3 pale # by Pell's greenhouse", "1 misty cf."),
        ('visit 2025-07-13 @ SU 452 131 "Withy Pond"', "2 great", "@ SU 4318 1182", "1 pale"),
        ('visit 2025-07-14 @ SU 452 131 "Withy Pond" vc 11', "5 sunny"),
    ):
        ran = tarn_run("log", *lines)
        assert ran.returncode == 0, ran.stderr
    return tarn_run


def sent(folder: Path, run: Any, *options: str, to: str = "out.csv") -> tuple[list[dict[str, str]], str]:
    """Export, and give the rows and what the screen said beside them."""
    ran = run("export", "--to", to, "--force", *options)
    assert ran.returncode == 0, ran.stderr
    return read(folder / to), ran.stderr


@pytest.mark.parametrize("options", [(), TARN, (*TARN, "--draft"), ("--precision", "1 km")])
def test_a_place_that_nobody_else_may_see_is_a_square_of_ten_kilometres(
    walks: Any, tmp_path: Path, options: tuple[str, ...]
) -> None:
    """Whoever it is for; the whole visit, without a word that could name it. The screen says so, and how to send it."""
    rows, said = sent(tmp_path, walks, *options)
    blurred = [row for row in rows if row["dataGeneralizations"].startswith("Place given as the 10 km square")]
    assert len(rows) == 5
    assert sorted(row["eventDate"] for row in blurred) == ["2025-07-12"] * 2 + ["2025-07-13"] * 2
    assert {row["verbatimCoordinates"] for row in blurred} == {"SU41"}
    assert {row["recordedBy"] for row in blurred} == {"Ada Marsh"}
    assert not told_of(blurred)
    assert [row["identificationQualifier"] for row in blurred].count("cf.") == 1
    [pond] = [row for row in rows if row not in blurred]
    assert pond["verbatimLocality"] == "Withy Pond" or options == ("--precision", "1 km")
    assert "Of 4 records the place is a square of 10 km: nobody else may see where Mrs Pell's garden is.\n" in said
    how = (
        '"Mrs Pell\'s garden" "SU 4318 1182" --kind exact --also "Pell place" --may-see "county recorder" --reason WHY'
    )
    assert f"To send it in full:  reedmace sites add {how}\n" in said


def test_the_county_recorder_gets_in_full_what_they_may_see(walks: Any, run: Any, tmp_path: Path) -> None:
    """Who was sent the square is told of the place as a change; who had the place is not told again when it closes."""
    sent(tmp_path, walks, *TARN)
    assert walks(*GARDEN, "--may-see", "county recorder", "--reason", "she agrees").returncode == 0
    rows, said = sent(tmp_path, walks, *TARN, "--since-last", to="b.csv")
    assert "10 km" not in said
    notes = [json.loads(row["dynamicProperties"]) for row in rows]
    assert [note["change"] for note in notes] == ["changed"] * 4
    assert {note["changeNote"] for note in notes} == {"place: as a square of 10 km, now in full"}
    assert [row["verbatimLocality"] for row in rows].count("Mrs Pell's garden") == 2
    assert walks(*GARDEN, "--may-see", "nobody else", "--reason", "no more").returncode == 0
    assert walks("export", "--to", "c.csv", *TARN, "--since-last").stdout.startswith("Nothing is new")
    rows, said = sent(tmp_path, walks, *TARN, to="d.csv")
    assert "4 of them have gone to this recipient with the place before, who may have it still.\n" in said
    # What was sent is made again as it was: as a square, and in full.
    for number, name in enumerate(("out.csv", "b.csv", "d.csv"), 1):
        ran = walks("export", "--to", "again.csv", "--force", *TARN, "--again", str(number))
        assert ran.stdout.endswith(": the same bytes as were sent\n"), ran.stdout
        assert (tmp_path / "again.csv").read_bytes() == (tmp_path / name).read_bytes()


def test_a_change_of_such_a_record_tells_nothing_of_the_place(
    walks: Any, run: Any, listed: Any, tmp_path: Path
) -> None:
    """Nor does its withdrawal: the reason may name it."""
    sent(tmp_path, walks, *TARN)
    first, second = (one["id"] for one in listed() if one["date"] == "2025-07-12")
    run("ledger", "amend", first, "count=4", "remarks=seen from Pell's greenhouse", "--reason", "Mrs Pell counted")
    run("ledger", "withdraw", second, "--reason", "Mrs Pell says it was a leaf")
    rows, _ = sent(tmp_path, walks, *TARN, "--since-last", to="b.csv")
    told = {row["occurrenceID"]: row for row in rows}
    assert set(told) == {first, second}
    assert not told_of(rows)
    changed = next(row for row in rows if "Withdrawn" not in row["occurrenceRemarks"])
    assert json.loads(changed["dynamicProperties"])["changeNote"].startswith("count: ")


def test_the_covering_page_names_no_such_place(walks: Any, tmp_path: Path) -> None:
    """It says of how many records the place is not told; in a season's page for the recorder too."""
    sent(tmp_path, walks, *TARN, "--place", "pell", "--cover", "a.md", "--force")
    assert walks("season", "2025", "--cover", "b.md", "--for", "Tarn Fenwick").returncode == 0
    for name, number in (("a.md", 2), ("b.md", 4)):
        text = (tmp_path / name).read_text(encoding="utf-8").replace("\\", "")
        assert f"the place of {number} records: a square of 10 km is given instead" in text, text
        assert not [secret for secret in ("Pell", "pell", "greenhouse", "4318", "SU4311", "SU431") if secret in text]


def test_a_sheet_of_their_own_says_it_in_the_remarks(walks: Any, tmp_path: Path) -> None:
    """One row a record, and one a species."""
    for kind in ("record", "species"):
        layout = f"format: 1\nsheet:\n  rows: {kind}\n"
        layout += "  columns: {Where: locality, Ref: grid reference, When: date, Notes: remarks}\n"
        (tmp_path / "sheet.yaml").write_text(layout)
        rows, said = sent(tmp_path, walks, "--profile", "sheet.yaml")
        assert [row["Ref"] for row in rows] == ["SU41"] * 4 + ["SU452131"]
        assert all("place given as the 10 km square that holds the whole visit" in row["Notes"] for row in rows[:4])
        assert "Of 4 records" in said


def test_our_own_file_read_in_again_takes_no_place_away(walks: Any, run: Any, listed: Any, tmp_path: Path) -> None:
    """The squares that stand for a place are not taken for a correction of it."""
    sent(tmp_path, walks)
    before = run("ledger", "dump").stdout
    ran = walks("ledger", "import", "out.csv", "--yes")
    assert run("ledger", "dump").stdout == before, ran.stdout + ran.stderr
