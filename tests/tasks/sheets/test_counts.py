"""What stands with the number in the cell of a count is read as in a logged line, or the row comes back."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.tasks.sheets.counts import Count, read_count
from reedmace.tasks.shorthand.line import read_tallies
from tasks.importing import HEADS, ROW, Import, faulty, kept


@pytest.mark.parametrize(
    ("cell", "stage"),
    [
        ("3 exuviae", "exuvia"),
        ("2 larvae", "larva"),
        ("1 ex", "exuvia"),
        ("2 teneral", "teneral"),
        ("5 emerging", "emerging"),
        ("4imm", "immature"),
        ("6 ad", "adult"),
    ],
)
def test_a_stage_with_the_number_is_kept(bring: Import, tmp_path: Path, cell: str, stage: str) -> None:
    """By the words of the shorthand."""
    assert bring(HEADS + ROW.format(cell)).faulty == 0
    [(one, _)] = kept(tmp_path)
    assert (one.stage, one.count, one.count_kind) == (stage, int(cell[0]), "exact")


def test_a_stage_with_numbers_of_two_sexes_is_that_of_both(bring: Import, tmp_path: Path) -> None:
    """One cell, two sightings: the stage stands before all numbers."""
    bring(HEADS + ROW.format("ten 2m 3f"))
    assert sorted((one.sex, one.count, one.stage) for one, _ in kept(tmp_path)) == [
        ("female", 3, "teneral"),
        ("male", 2, "teneral"),
    ]


@pytest.mark.parametrize(
    ("cell", "found"),
    [
        ("2m, 3 ten", [("male", 2, None), (None, 3, "teneral")]),
        ("3 ad 2 ten", [(None, 3, "adult"), (None, 2, "teneral")]),
        ("2m, 3f ten", [("male", 2, None), ("female", 3, "teneral")]),
        ("1m; 2 exuviae", [("male", 1, None), (None, 2, "exuvia")]),
        ("2m / 3 ten", [("male", 2, None), (None, 3, "teneral")]),
        ("3 (2m, 1f)", [("male", 2, None), ("female", 1, None)]),
    ],
)
def test_a_stage_by_one_number_is_that_of_no_other(cell: str, found: list[tuple[str | None, int, str | None]]) -> None:
    """Commas tell what belongs together, in a cell as on a line."""
    read = read_count(cell)
    assert not isinstance(read, Fault), read
    assert [(one.sex, one.number, one.stage) for one in read] == found


def test_a_stage_that_could_be_of_one_or_of_all_comes_back_and_says_so() -> None:
    found = read_count("2m 3f ten")
    assert isinstance(found, Fault)
    assert found.code == "count-not-read"
    assert '"ten" could be said of one of these numbers, or of all of them' in found.message


@pytest.mark.parametrize(
    ("cell", "columns"),
    [("3 exuviae", ",larva,"), ("3 ten", ",adult,"), ("3m", "f,,"), ("1 ad ten", ",,")],
)
def test_what_a_column_contradicts_comes_back(bring: Import, tmp_path: Path, cell: str, columns: str) -> None:
    """And so do two stages in one cell."""
    done = bring(HEADS + ROW.format(cell).replace(",,,", f",{columns}"))
    assert (done.sightings, done.faulty, kept(tmp_path)) == (0, 1, [])
    assert faulty(done)[0]["fault"] == ("count-not-read" if columns == ",," else "cells-differ")


def test_a_column_that_says_the_same_is_no_contradiction(bring: Import, tmp_path: Path) -> None:
    """Exuviae twice."""
    assert bring(HEADS + ROW.format("3 exuviae").replace(",,,", ",,exuviae,")).faulty == 0
    assert kept(tmp_path)[0][0].stage == "exuvia"


def test_doubt_behind_a_number_is_kept(bring: Import, tmp_path: Path) -> None:
    """As `log` keeps it: of the number, and not of the name."""
    bring(HEADS + ROW.format("12?") + ROW.format("5") + ROW.format("3 m?"))
    found = {one.count: (one.count_kind, one.sex, one.certainty, one.remarks) for one, _ in kept(tmp_path)}
    assert found == {
        12: ("estimate", None, None, "12?"),
        5: ("exact", None, None, ""),
        3: ("exact", None, None, "3 m?"),
    }


def test_words_in_quotes_and_evidence_beside_a_number_are_kept(bring: Import, tmp_path: Path) -> None:
    """A remark goes before that of the row's own column."""
    bring(HEADS + ROW.format('"3 netted ""by, or in, the Sluice"""').replace("Marsh,", "Marsh,windy"))
    [(one, _)] = kept(tmp_path)
    assert (one.count, one.evidence, one.remarks) == (3, "in hand", "by, or in, the Sluice; windy")


@pytest.mark.parametrize("cell", ["3 @ SU 43 12", "3 by Cora", "3 10:30", "3 cf", "3 photo=a.jpg"])
def test_what_has_no_room_in_a_count_comes_back(cell: str) -> None:
    """Rather than being dropped."""
    found = read_count(cell)
    assert isinstance(found, Fault)
    assert found.code == "count-not-read"


@pytest.mark.parametrize("cell", [">100", "over 100", "more than 100", "100+", ">=100", "min 100", "at least 100"])
def test_a_lower_bound_is_that_of_a_logged_line(cell: str) -> None:
    """Over 100 is at least 101."""
    said, logged = read_count(cell), read_tallies(cell)
    assert not isinstance(logged, Fault)
    number = 101 if cell[0] in ">om" and cell[:2] not in (">=", "mi") else 100
    assert said == (Count(number, kind="at least"),)
    assert [(one.count, one.kind) for one in logged.tallies] == [(number, "at least")]


@pytest.mark.parametrize(
    ("heads", "cells", "told"),
    [
        ("Count,Status", "5,Absent", ["cells-differ"]),
        ("Count,Status", "present,Absent", ["cells-differ"]),
        ("Count,Status", "0,Absent", []),
        ("Count,Status", ",not detected", []),
        ("Count,Status", "n/a,Absent", []),
        ("Males,Exuviae,Status", ",2,Absent", ["cells-differ"]),
        ("Males,Exuviae,Status", "0,,Absent", []),
        ("Count,Status", "5,Present", []),
    ],
)
def test_a_row_that_counts_and_says_that_there_was_nothing_comes_back(
    bring: Import, heads: str, cells: str, told: list[str]
) -> None:
    """Nobody knows which is wrong, and five insects would be lost."""
    done = bring(f"Date,Grid Ref,Species,{heads}\n12/07/2025,SU 431 118,pale rushlet,{cells}\n")
    assert [row["fault"] for row in (faulty(done) if done.faulty else [])] == told


@pytest.mark.parametrize(
    ("sex", "count", "found"),
    [
        ("1m 2f", "3", [("female", 2), ("male", 1)]),
        ("1M 2F", "", [("female", 2), ("male", 1)]),
        ("3M", "3", [("male", 3)]),
        ("1m 2f", "4", []),
        ("2 ad", "2", []),
    ],
)
def test_numbers_that_stand_with_the_sexes_are_the_count(
    bring: Import, tmp_path: Path, sex: str, count: str, found: list[tuple[str, int]]
) -> None:
    """Where none is said, or their sum; else nobody knows what the rest was."""
    done = bring(f"Date,Grid Ref,Species,No.,Sex\n12/07/2025,SU 431 118,pale rushlet,{count},{sex}\n")
    assert sorted((one.sex, one.count) for one, _ in kept(tmp_path)) == found
    assert done.faulty == (not found)
    if not found:
        assert faulty(done)[0]["what to do"].startswith("numbers go into the column of the count")
