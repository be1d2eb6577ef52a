"""An export no finer than a square: nor is any word in it, and what is left out is said."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

FINE = ("SU 43112 11844", "SU43111184", "50.9049, -1.3876", "443112, 111844")


@pytest.mark.parametrize("typed", FINE)
def test_no_word_is_finer_than_the_square(owned, tarn_run, tmp_path: Path, typed: str) -> None:
    """In remarks of insect and visit, and in the name of the place; in any spelling."""
    visit = f'visit 2025-07-12 @ SU 431 118 "Gate {typed}" # parked at {typed}'
    assert tarn_run("log", stdin=f"{visit}\n1 pale m # nest at {typed}\n2 misty m # by the reeds\n").returncode == 0
    ran = tarn_run("export", "--to", "coarse.csv", "--precision", "10 km")
    assert ran.returncode == 0, ran.stderr
    text = (tmp_path / "coarse.csv").read_text(encoding="utf-8")
    for spelled in (typed, typed.replace(" ", "")):
        assert spelled not in text.replace("SU 431 118", "")
    pale, misty = sorted(csv.DictReader(text.splitlines()), key=lambda row: row["vernacularName"], reverse=True)
    assert (pale["verbatimCoordinates"], pale["locality"], pale["occurrenceRemarks"]) == ("SU41", "", "")
    assert misty["occurrenceRemarks"] == "by the reeds"
    for row in (pale, misty):
        assert row["dataGeneralizations"] == "Place no finer than 10 km"
        assert row["informationWithheld"] == "Words as typed, words from which a finer place can be read"


def test_words_that_tell_nothing_stay(owned, tarn_run, tmp_path: Path) -> None:
    """A name and a remark without a place in them."""
    said = 'visit 2025-07-12 @ SU 431 118 "Sallow Farm pond" # warm\n1 pale m # by the sluice\n'
    assert tarn_run("log", stdin=said).returncode == 0
    assert tarn_run("export", "--to", "coarse.csv", "--precision", "1 km").returncode == 0
    [row] = csv.DictReader((tmp_path / "coarse.csv").read_text(encoding="utf-8").splitlines())
    assert (row["locality"], row["occurrenceRemarks"]) == ("Sallow Farm pond", "by the sluice")
    assert row["informationWithheld"] == "Words as typed"
