"""A place name of blanks alone is no name, through whatever door it comes: and what has signs stays as typed."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from reedmace.records import unless_blank

BLANKS = ["   ", "\u00a0", " \u00a0\u2007\u202f ", "\u200b\ufeff", "\t"]
AT = ("--place", "SU 431 118", "--date", "12 July 2025")


def test_what_can_be_seen_stays_as_typed() -> None:
    """Blanks around it, too; a name in any script."""
    for text in (" Withy Pond ", "\u00a0שלום", "·", "池", "\u200bx"):
        assert unless_blank(text) == text
    for text in ("", *BLANKS):
        assert unless_blank(text) == ""


@pytest.mark.parametrize("blank", BLANKS)
def test_logged_with_a_blank_name_it_has_none(tarn_run, owned, listed, run, blank: str) -> None:
    """By option, behind @, as words of the visit's line, of a spot, of a sighting's own place, and amended."""
    lines = ("1 pale", f'2 pale @ SU 433 119 "{blank}"')
    for arguments in (
        (*lines, *AT, "--locality", blank),
        (f'visit 2025-07-12 @ SU 431 118 "{blank}"', "1 misty", f'@ SU 434 119 "{blank}"', "2 misty"),
        (f'visit 2025-07-13 @ SU 431 118 locality "{blank}"', "1 misty"),
        (f'visit 2025-07-14 @ SU 431 118 VC11 "{blank}"', "1 great"),
    ):
        ran = tarn_run("log", *arguments)
        assert ran.returncode == 0, ran.stderr
    assert len(listed()) == 6
    assert {one["locality"] for one in listed()} == {""}
    assert blank not in {one["remarks"] for one in listed()}
    dumped = run("ledger", "history", listed()[-1]["visit_id"]).stdout
    assert ", ," not in dumped
    amended = run("ledger", "amend", listed()[0]["id"], f"locality={blank}", "--reason", "no name")
    assert "Traceback" not in amended.stderr
    assert {one["locality"] for one in listed()} == {""}


@pytest.mark.parametrize("blank", BLANKS)
def test_a_blank_name_alone_is_no_place(tarn_run, owned, run, listed, blank: str) -> None:
    """It is asked for; a site needs a name that can be seen."""
    ran = tarn_run("log", f'visit 2025-07-12 @ "{blank}"', "1 pale")
    assert ran.returncode == 2
    assert "place-missing" in ran.stderr
    ran = tarn_run("sites", "add", blank, "SU 431 118")
    assert (ran.returncode, "site-unnamed" in ran.stderr) == (2, True)
    assert listed() == []


@pytest.mark.parametrize("blank", BLANKS)
def test_brought_in_with_a_blank_name_it_has_none(tarn_run, owned, listed, run, tmp_path: Path, blank: str) -> None:
    """From a sheet and from Darwin Core; where there is nothing but the blank name, the row comes back."""
    with (tmp_path / "sheet.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(
            [
                ("Date", "Site", "Grid ref", "Species", "Number"),
                ("12/07/2025", blank, "SU 431 118", "pale rushlet", "1"),
                ("13/07/2025", blank, "", "pale rushlet", "2"),
            ]
        )
    ran = tarn_run("ledger", "import", "sheet.csv", "--yes")
    assert "place-missing" in ran.stdout + ran.stderr
    with (tmp_path / "core.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(
            [
                ("occurrenceID", "eventDate", "scientificName", "verbatimCoordinates", "locality", "verbatimLocality"),
                ("one", "2025-07-12", "Tarnula pallida", "SU 431 118", blank, blank),
                ("two", "2025-07-12", "Tarnula pallida", "SU 431 118", blank, "Withy Pond"),
            ]
        )
    ran = tarn_run("ledger", "import", "core.csv", "--yes")
    assert ran.returncode == 0, ran.stderr
    assert sorted(one["locality"] for one in listed()) == ["", "", "Withy Pond"]
    assert run("export", "--to", "out.csv").returncode == 0
    with (tmp_path / "out.csv").open(encoding="utf-8", newline="") as file:
        assert sorted(row["locality"] for row in csv.DictReader(file)) == ["", "", "Withy Pond"]
