"""Forms for one walk: what stands above the headings is said of every row."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.ledger.store import open_ledger
from reedmace.tasks.sheets.everywhere import passed_over, with_said_above
from reedmace.tasks.sheets.rows import look_at
from tasks.importing import Import, faulty, kept

FORM = """Pond walks of the year,,,,
Site: Withy Pond,,Grid ref: SU 431 118,,
Recorder:,Cora Reed & Ben Sallow,,Weather:,sunny
Date:,4 July 2025,in the afternoon,,
,,,,
Species,Adults,Pairs,Ex,Notes
pale rushlet,12,1,,by the gate
misty rushlet,,,3,
"""


def test_a_form_is_read_with_what_stands_above_its_headings(bring: Import, tmp_path: Path) -> None:
    """Place, day, people and weather are those of the walk; a title says nothing."""
    done = bring(FORM)
    assert (done.faulty, done.sightings, done.visits) == (0, 3, 1)
    at = kept(tmp_path)[0][1]
    assert (at.date, at.place.square, at.place.locality, at.weather) == (
        "2025-07-04",
        "SU431118",
        "Withy Pond",
        "sunny",
    )
    with open_ledger(tmp_path / "pond") as pond:
        assert [pond.people.name_of(who) for who in at.observers] == ["Cora Reed", "Ben Sallow"]
    sheet = with_said_above(look_at(str(tmp_path / "walks.csv")))
    assert passed_over(sheet) == ["Pond walks of the year", "in the afternoon"]
    assert bring(FORM).there == 3


def test_the_next_walk_on_the_same_form_is_another(bring: Import, tmp_path: Path) -> None:
    """Its rows may be the same, word for word."""
    bring(FORM)
    assert bring(FORM.replace("4 July", "5 July"), "next.csv").sightings == 3
    assert sorted({at.date for _, at in kept(tmp_path)}) == ["2025-07-04", "2025-07-05"]


def test_a_column_comes_before_what_stands_above(bring: Import, tmp_path: Path) -> None:
    """The day on which the sheet was made is not that of its rows."""
    text = "Recorder: Cora Reed,,,,\nDate: 1 January 2026,,,,\n\nDate,Species,Grid Ref,Count,Recorder\n"
    assert bring(f"{text}12/07/2025,pale rushlet,SU431118,4,Ada Marsh\n").faulty == 0
    [(_, at)] = kept(tmp_path)
    with open_ledger(tmp_path / "pond") as pond:
        assert (at.date, [pond.people.name_of(who) for who in at.observers]) == ("2025-07-12", ["Ada Marsh"])


@pytest.mark.parametrize("row", ["wombat,1,,,", '"pale, open', "pale rushlet,1,,,,,too,long"])
def test_a_row_that_comes_back_has_it_too(bring: Import, tmp_path: Path, row: str) -> None:
    """So that it stands alone."""
    [back] = faulty(bring(FORM + row + "\n"))
    assert (back["Site"], back["Grid ref"], back["Date"]) == ("Withy Pond", "SU 431 118", "4 July 2025")


def test_a_row_that_was_put_right_is_of_the_same_walk(bring: Import, tmp_path: Path) -> None:
    """Its columns for what stood above say the same."""
    back = bring(FORM + "wombat,1,,,\n").faults_file
    assert back is not None
    again = bring(Path(back).read_text(encoding="utf-8-sig").replace("wombat", "pale rushlet"), "mended.csv")
    assert (again.sightings, again.visits, again.faulty) == (1, 0, 0)
    assert len({at.id for _, at in kept(tmp_path)}) == 1


@pytest.mark.parametrize(
    "form",
    [
        "Site:,Withy Pond,Date:,4 July 2025",
        "Site,Withy Pond,Date,4 July 2025",
        "Site: Withy Pond,Date: 4 July 2025,Recorder: Cora Reed,Weather: sunny",
        "Recorder:,Cora Reed,Site:,Withy Pond,Date:,4 July 2025",
        "Walks of the year,,,\nSite:,Withy Pond,Date:,4 July 2025",
    ],
)
@pytest.mark.parametrize("heads", ["Species,Count,Sex,Comments", "Species,Count"])
def test_a_row_of_a_form_may_have_as_many_cells_as_there_are_headings(
    bring: Import, tmp_path: Path, form: str, heads: str
) -> None:
    """What it says tells it from headings, and not its width."""
    done = bring(f"{form}\n{heads}\npale rushlet,3\n")
    assert (done.faulty, done.sightings) == (0, 1)
    [(_, at)] = kept(tmp_path)
    assert (at.place.locality, at.date) == ("Withy Pond", "2025-07-04")


@pytest.mark.parametrize(
    "heads",
    [
        "Date:,Species:,Grid Ref:,Count:",
        "Date,Species,Grid Ref,Count,Comments: what else you saw",
        "Walks,,,,\nDate,Species,Grid Ref,Count,Comments: what else you saw",
        "Date,Insect,Grid Ref,Zahl",
    ],
)
def test_headings_with_colons_are_no_form(bring: Import, tmp_path: Path, heads: str) -> None:
    """Nor is a row of which half are headings that are known."""
    done = bring(f"{heads}\n12/07/2025,pale rushlet,SU431118,4,\n", typed=("Zahl=count",) if "Zahl" in heads else ())
    assert (done.faulty, done.sightings) == (0, 1)
    [(seen, at)] = kept(tmp_path)
    assert (at.place.square, at.date, seen.count) == ("SU431118", "2025-07-12", 4)
