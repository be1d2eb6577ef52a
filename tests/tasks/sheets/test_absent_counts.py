"""What stands in the place of a count or of a name of a place, and means more than it seems to."""

from __future__ import annotations

from pathlib import Path

import pytest

from tasks.importing import Import, faulty, kept


@pytest.mark.parametrize("cell", ["absent", "Absent", "none seen", "not found"])
@pytest.mark.parametrize("zero", ["", "present"])
def test_absent_in_place_of_a_count_is_no_sighting(bring: Import, tmp_path: Path, cell: str, zero: str) -> None:
    """It says so, whatever 0 means in a file; the row is told among those of nothing."""
    text = f"Date,Grid Ref,Species,No.\n12/07/2025,SU431118,pale rushlet,{cell}\n12/07/2025,SU431118,misty rushlet,2\n"
    done = bring(text, zero=zero)
    assert (done.faulty, done.sightings, done.left_out) == (0, 1, 1)
    assert [seen.taxon.vernacular for seen, _ in kept(tmp_path)] == ["Misty Rushlet"]


def test_a_column_of_places_that_holds_references_is_one_of_references(bring: Import) -> None:
    """Under a name of a place one with a slip in it would come in as a name, without a place on the map."""
    refs = ("SU431118", "SU 4311", "SU43A", "SU4312 1184", "SU431", "TQ337805", "SU 455 131")
    text = "".join(f"12/07/2025,{ref},pale rushlet,{at}\n" for at, ref in enumerate(refs, 1))
    done = bring(f"Date,Place,Species,No.\n{text}")
    assert [(row["Place"], row["fault"]) for row in faulty(done)] == [("SU431", "grid-odd-digits")]


def test_names_of_places_that_hold_references_stay_names(bring: Import, tmp_path: Path) -> None:
    """A reference at their beginning is read; figures that are none of it are not cut off."""
    places = ("SU 431 118 Withy Pond", "SU 4311 1811 9", "Withy Pond")
    text = "".join(f"12/07/2025,{place},pale rushlet,{at}\n" for at, place in enumerate(places, 1))
    assert bring(f"Date,Place,Species,No.\n{text}").faulty == 0
    assert {(at.place.locality, at.place.square) for _, at in kept(tmp_path)} == {
        ("SU 431 118 Withy Pond", "SU431118"),
        ("SU 4311 1811 9", None),
        ("Withy Pond", None),
    }
