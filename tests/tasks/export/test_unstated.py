"""What an export leaves out because it does not say what was asked for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, sighting, visit
from reedmace.ledger.store import open_ledger
from reedmace.records import PlaceRecord
from reedmace.tasks.export.profiles import Choose, ExportProfile
from reedmace.tasks.export.season import Asked
from reedmace.tasks.export.unstated import Unstated, unstated

FINE = PlaceRecord("SU 431 118", "GB", "SU431118", 100, locality="Withy Pond", vice_county="11")
Ask = Callable[..., dict[str, int]]


@pytest.fixture
def asked(tmp_path: Path) -> Ask:
    """Ask a ledger of four records, three of which lack a date, a fine square, or a name; gives numbers by what."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        for number, (day, place) in enumerate(
            (
                (None, FINE),
                ("2024/2025", FINE._replace(square="SU41", side_m=10_000, typed="SU41", locality="")),
                ("2023", FINE._replace(locality="", vice_county=None)),
                ("2025-07-01", FINE),
            ),
            1,
        ):
            walk = visit(number, ada, date=day, place=place)
            ledger.record_walk(walk, [sighting(str(number), walk.id)], ada, NOON, mint)

    def asking(season: int | None = None, **choose: object) -> dict[str, int]:
        profile = ExportProfile(format=1, choose=Choose(**choose))
        with open_ledger(tmp_path / "pond") as ledger:
            found = unstated(ledger, Asked(season, tmp_path / "x.csv", profile, date(2026, 1, 1)))
        return {one.what: one.records for one in found}

    return asking


def test_dates_squares_and_names_that_are_not_stated_are_counted(asked: Ask) -> None:
    """A date of several years may be of the one that is asked for; a coarse square may hold the one asked for."""
    assert asked() == {}
    assert asked(2025) == {"date": 2}
    assert asked(2023) == {"date": 1}
    assert asked(since="2024") == {"date": 1}
    assert asked(places=("SU 431 118",)) == {"place": 1}
    assert asked(places=("SU41",)) == asked(places=("SU 47 47",)) == asked(certainty="certain") == {}
    assert asked(places=("withy",)) == {"place": 2}


def test_what_says_nothing_of_two_conditions_is_counted_by_neither(asked: Ask) -> None:
    """With one of them stated it would still be left out."""
    assert asked(2023, vice_counties=("11",)) == {"date": 1, "vice-county": 1}
    assert asked(2025, places=("withy",)) == {"date": 1}


def test_words_and_remedies_are_of_what_is_not_stated() -> None:
    """A name of a place is said otherwise than a square."""
    said = [(one.why, one.remedy) for one in (Unstated("place", 1, 1, ("v",), by) for by in (True, False))]
    assert said == [
        ("no name of a place", "locality=NAME"),
        ("no grid square as fine as that", "place=REFERENCE"),
    ]
