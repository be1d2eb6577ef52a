"""Headings in two rows, cells that mean what stands above them, and letters for bands."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.tasks.sheets.bands import read_bands
from reedmace.tasks.sheets.rows import look_at, rows
from reedmace.tasks.sheets.two_rows import second_row
from tasks.importing import Import, faulty, kept

GROUPS = """Pond walks of 2025,,,,,,
,,,Adults,,Exuviae,
Date,Site,Species,Male,Female,,Notes
12/07/2025,Withy Pond,pale rushlet,3,2,7,by the sluice
"""


def test_two_rows_of_headings_are_joined(bring: Import, tmp_path: Path) -> None:
    """Males and females of the adults, beside skins; the title above is no heading."""
    done = bring(GROUPS)
    assert (done.sightings, done.faulty) == (3, 0)
    assert {(one.count, one.sex, one.stage) for one, _ in kept(tmp_path)} == {
        (3, "male", "adult"),
        (2, "female", "adult"),
        (7, None, "exuvia"),
    }


@pytest.mark.parametrize(
    ("above", "below", "joined"),
    [
        ("When,,Where,,What", "Date,Time,Site,Grid ref,Species", "Date,Time,Site,Grid ref,Species"),
        (
            ",Adults,,Exuviae,",
            "Date,Male,Female,Male,Female",
            "Date,Adults Male,Adults Female,Exuviae Male,Exuviae Female",
        ),
        ("Date,Where,Species,Count", "dd/mm/yyyy,Site name,Name,Number", "Date,Site name,Species Name,Number"),
        ("Date,Site,Number,", ",,Males,Females", "Date,Site,Number Males,Number Females"),
        ("Date,Site,Species,Count", "12/07/2025,Withy Pond,pale rushlet,3", None),
        ("Date,Site,Species,Count", "as above,Withy Pond,pale rushlet,present", None),
        ("Date,Site,Species,Count", ",,,", None),
    ],
)
def test_a_second_row_is_one_of_headings_only(above: str, below: str, joined: str | None) -> None:
    """A record is none; the males among skins are no males of the adults."""
    found = second_row(above.split(","), below.split(","))
    assert (found and ",".join(found)) == joined


def test_what_comes_back_of_two_rows_can_be_corrected(bring: Import, tmp_path: Path) -> None:
    """The file of faults has one row of headings, and its rows the ids they would have had."""
    [row] = faulty(bring(GROUPS.replace("12/07/2025", "sometime")))
    assert (row["Adults Male"], row["Exuviae"], row["fault"]) == ("3", "7", "date-not-read")
    back = (tmp_path / "walks.csv.faults.csv").read_bytes().replace(b"sometime", b"12/07/2025")
    assert bring(back, "again.csv").sightings == 3
    assert bring(GROUPS).there == 3


MERGED = """Date,Site,Grid Ref,Recorder,Species,No.
12/07/2025,Sallow Farm,SU 431 118,Ben Sallow,pale rushlet,3
,,,,misty,2
ditto,as above,as above,as above,great boulderer,1
,Withy Pond,,,pale rushlet,4
13/07/2025,,,,pale rushlet,5
"""


def test_empty_cells_mean_what_stands_above_where_that_is_said(bring: Import, tmp_path: Path) -> None:
    """Another place has another reference, and another day other people, though nobody wrote them."""
    done = bring(MERGED, as_above=True)
    assert (done.sightings, done.faulty, done.nobody) == (5, 0, 2)
    assert sorted((one.count or 0, at.date, at.place.locality, at.place.square) for one, at in kept(tmp_path)) == [
        (1, "2025-07-12", "Sallow Farm", "SU431118"),
        (2, "2025-07-12", "Sallow Farm", "SU431118"),
        (3, "2025-07-12", "Sallow Farm", "SU431118"),
        (4, "2025-07-12", "Withy Pond", None),
        (5, "2025-07-13", "Withy Pond", None),
    ]


def test_else_they_come_back_with_the_way_to_say_it(bring: Import) -> None:
    """An empty cell may as well be forgotten."""
    first, second, *_ = faulty(bring(MERGED))
    assert first["fault"] == "date-missing / place-missing"
    assert "--as-above" in first["what to do"]
    assert second["fault"].startswith("date-not-read / place-not-read")
    assert "--as-above" in second["what to do"]


def test_what_comes_back_of_merged_cells_stands_by_itself(bring: Import, tmp_path: Path) -> None:
    """Its day and place are in it, so that it can be imported alone."""
    done = bring(MERGED.replace("misty,2", "mistly,2"), as_above=True)
    [row] = faulty(done)
    assert (row["Date"], row["Grid Ref"], row["Recorder"]) == ("12/07/2025", "SU 431 118", "Ben Sallow")
    back = (tmp_path / "walks.csv.faults.csv").read_bytes().replace(b"mistly", b"misty")
    assert bring(back, "again.csv").sightings == 1
    assert bring(MERGED.replace("mistly,2", "misty,2"), as_above=True).there == 5


def test_letters_stand_for_bands_where_somebody_says_for_which(bring: Import, tmp_path: Path) -> None:
    """In columns of parts too; the letter stays as typed."""
    bands = read_bands("A=1, B=2-5; c = 6-20, E=101+, frequent=~10")
    assert not isinstance(bands, Fault)
    text = "Date,Grid Ref,Species,Ad,Ex\n" + "".join(
        f"12/07/2025,SU 431 118,{name},{adults},{skins}\n"
        for name, adults, skins in (("pale rushlet", "B", ""), ("misty", "e", "A"), ("great boulderer", "Frequent", ""))
    )
    assert bring(text, bands=bands).faulty == 0
    assert [(one.count, one.count_to, one.count_kind, one.count_typed) for one, _ in kept(tmp_path)] == [
        (10, None, "estimate", "Frequent"),
        (101, None, "at least", "e"),
        (1, None, "exact", "A"),
        (2, 5, "band", "B"),
    ]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("A", "This does not say what a band stands for."),
        ("A=", "This does not say what a band stands for."),
        ("A=many", '"many" is no number or range of numbers.'),
        ("A=2m 3f", '"2m 3f" is no number or range of numbers.'),
        ("A=1, a=2", '"A" stands for two bands.'),
        ("", "This table is empty."),
    ],
)
def test_a_table_of_bands_that_says_nothing_is_told(text: str, why: str) -> None:
    """Before anything is read by it."""
    read = read_bands(text)
    assert isinstance(read, Fault)
    assert (read.code, read.message.replace('"a"', '"A"')) == ("band-not-read", why)


def test_a_letter_that_nobody_explained_comes_back_with_the_way_to(bring: Import) -> None:
    """It could be any table."""
    [row] = faulty(bring("Date,Grid Ref,Species,No.\n12/07/2025,SU 431 118,pale rushlet,C\n"))
    assert row["fault"] == "count-not-read"
    assert row["what to do"].endswith('if it stands for a band, say for which:  --bands "C=2-5"')


def test_the_rows_of_a_sheet_are_counted_behind_both_rows_of_headings(tmp_path: Path) -> None:
    """Each knows its line in the file."""
    (tmp_path / "two.csv").write_text(GROUPS, encoding="utf-8")
    [row] = rows(look_at(str(tmp_path / "two.csv")))
    assert (row.line, row.cells[0]) == (4, "12/07/2025")
