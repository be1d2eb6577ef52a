"""A grid reference cut into columns, one that only a column left out has, and the datum of a position."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.records import PlaceRecord
from reedmace.tasks.sheets import two_places
from reedmace.tasks.sheets.values import read_position
from tasks.importing import Import, faulty, kept


def place(tmp_path: Path) -> PlaceRecord:
    """Give the place of the only visit."""
    [(_, visit)] = kept(tmp_path)
    return visit.place


@pytest.mark.parametrize(
    ("heads", "cells", "typed"),
    [
        ("100km,East,North", "SU,431,118", "SU 431 118"),
        ("Square,E,N", "su,43100,11800", "su 43100 11800"),
        ("Grid,Easting,Northing", "SU,05,03", "SU 05 03"),
        ("Letters,Grid ref (6 fig)", "SU,431118", "SU 431118"),
    ],
)
def test_letters_and_figures_apart_are_a_reference(
    bring: Import, tmp_path: Path, heads: str, cells: str, typed: str
) -> None:
    """Whatever the columns are called: of the letters there are two, and of the figures one column or two."""
    done = bring(f"Date,Site,{heads},Species,No.\n12/07/2025,Withy Pond,{cells},pale rushlet,3\n")
    assert (done.sightings, done.faulty) == (1, 0)
    found = place(tmp_path)
    assert (found.typed, found.square) == (typed, typed.upper().replace(" ", ""))


def test_figures_that_lost_a_nought_come_back(bring: Import) -> None:
    """A spreadsheet drops those in front, and the place would be another."""
    [row] = faulty(bring("Date,Site,100km,East,North,Species,No.\n12/07/2025,Withy Pond,SU,431,18,pale rushlet,3\n"))
    assert (row["fault"], row["what to do"]) == (
        "easting-not-read",
        "write noughts in front too, such as  431  and  018",
    )


def test_a_place_that_only_a_column_left_out_has_is_not_lost(bring: Import, tmp_path: Path) -> None:
    """The coarser of two columns, in the rows that have only that."""
    text = "Date,Site,1km square,Tetrad,Species,No.\n12/07/2025,Withy Pond,SU4311,SU41F,pale rushlet,3\n"
    text += "12/07/2025,Withy Pond,,SU41F,pale rushlet,4\n12/07/2025,Withy Pond,,,pale rushlet,5\n"
    done = bring(text)
    [row] = faulty(done)
    assert (row["No."], row["fault"]) == ("4", "left-out-place")
    assert (done.sightings, bring(text, "said.csv", typed=("Tetrad=",)).faulty) == (2, 0)


DARWIN = "occurrenceID,scientificName,eventDate,decimalLatitude,decimalLongitude,geodeticDatum,recordedBy\n"


@pytest.mark.parametrize("datum", ["EPSG:4277", "OSGB36", "osgb 1936"])
def test_a_position_on_an_old_datum_is_brought_to_ours(bring: Import, tmp_path: Path, datum: str) -> None:
    """It lay more than 100 m beside the place; as typed it stays with the sighting."""
    assert bring(f"{DARWIN}a,Tarnula pallida,2025-07-12,51.0596,-1.3101,{datum},Ada Marsh\n").faulty == 0
    found = place(tmp_path)
    assert (found.latitude, found.longitude) == pytest.approx((51.060144, -1.311555), abs=2e-6)
    [(sighting, _)] = kept(tmp_path)
    assert sighting.typed.endswith(f"51.0596, -1.3101 {datum}")


@pytest.mark.parametrize("datum", ["WGS84", "EPSG:4326", "", "unknown", "ETRS89"])
def test_a_position_on_ours_or_none_stays(bring: Import, tmp_path: Path, datum: str) -> None:
    """Nobody shifts what may be right."""
    assert bring(f"{DARWIN}a,Tarnula pallida,2025-07-12,51.0596,-1.3101,{datum},Ada Marsh\n").faulty == 0
    assert (place(tmp_path).latitude, place(tmp_path).typed) == (51.0596, "51.0596, -1.3101")


def test_a_position_on_a_datum_that_is_not_known_here_comes_back(bring: Import) -> None:
    """It would lie beside the place, nobody knows how far."""
    [row] = faulty(bring(f"{DARWIN}a,Tarnula pallida,2025-07-12,51.0596,-1.3101,ED50,Ada Marsh\n"))
    assert (row["fault"], "(ED50)" in row["why"]) == ("datum-not-read", True)


@pytest.mark.parametrize(
    ("said", "metres"),
    [("100", 100), ("100 m", 100), ("+/- 10m", 10), ("~50", 50), ("1 km", 1000), ("0.5km", 500), ("GPS", None)],
)
def test_how_far_a_position_may_be_off(bring: Import, tmp_path: Path, said: str, metres: int | None) -> None:
    """A kilometre is no metre, and no reason to forget it."""
    text = f"Date,Latitude,Longitude,Accuracy,Species,No.\n12/07/2025,51.0596,-1.3101,{said},pale rushlet,3\n"
    assert bring(text).faulty == 0
    assert place(tmp_path).uncertainty_m == metres


@pytest.mark.parametrize("heads", ["Quadrat,Exact spot", "Exact spot,Quadrat"])
def test_of_two_columns_of_places_the_finer_one_is_the_place(bring: Import, tmp_path: Path, heads: str) -> None:
    """Wherever it stands; else all records would be in squares of a kilometre."""
    cells = {"Quadrat": "SU4311", "Exact spot": "SU 431 118"}
    row = ",".join(cells[head] for head in heads.split(","))
    assert bring(f"Date,{heads},Species,No.\n12/07/2025,{row},pale rushlet,3\n").faulty == 0
    assert place(tmp_path).square == "SU431118"


@pytest.mark.parametrize(
    ("heads", "cells", "faults"),
    [
        ("Grid Ref,Lat,Lon", "SU 431 118,50.9045,-1.3877", []),
        ("Grid Ref,Lat,Lon", "SU4311,50.9045,-1.3877", []),
        ("Grid Ref,Lat,Lon", "SU 431 118,51.0612,-1.3834", ["place-differs"]),
        ("Grid Ref,Lat,Lon", "SU 431 118,50.9,-1.3", []),  # rounded to a tenth of a degree
        ("Grid Ref,Lat,Lon", "SU 431 118,51.1,-1.4", ["place-differs"]),
        ("Grid Ref,Lat,Lon", 'SU 431 118,"51,0612","-1,3834"', ["place-differs"]),
        ("Grid Ref,Lat,Lon,Accuracy", "SU 431 118,51.0612,-1.3834,20 km", []),
        ("Grid Ref,Lat,Lon", "SU 431 118,,", []),
        ("Grid Ref,Lat,Lon", ",50.9045,", ["position-half"]),
        ("Lat,Lon", ",-1.3877", ["position-half"]),
        ("Lat,Lon", ",", []),
        ("Grid Ref,British easting,British northing", "SU 431 118,443150,111850", []),
        ("Grid Ref,British easting,British northing", "SU 431 118,463150,111850", ["place-differs"]),
        ("British easting,British northing,Lat,Lon", "443150,111850,51.0612,-1.3834", ["place-differs"]),
    ],
)
def test_two_ways_of_saying_where_have_to_be_of_one_place(
    bring: Import, heads: str, cells: str, faults: list[str]
) -> None:
    """Else one of them is wrong, and nobody knows which; half a position is not left out for the name of the place."""
    done = bring(f"Date,Site,{heads},Species,No.\n12/07/2025,Withy Pond,{cells},pale rushlet,3\n")
    assert [row["fault"] for row in (faulty(done) if done.faulty else [])] == faults


def test_a_position_that_is_plainly_near_is_measured_without_its_grid(monkeypatch: pytest.MonkeyPatch) -> None:
    """Reading it whole for this alone made an import half as long again; one that is not near is read whole."""
    read = []
    monkeypatch.setattr(two_places, "read_position", lambda *cells: read.append(cells) or read_position(*cells))
    assert two_places.places_differ("SU 431 118", "", "50.9045", "-1.3877", "", "WGS84") is None
    assert read == []
    for cells in (
        ("51.0612", "-1.3834", "", ""),
        ("50.9045", "-1.3877", "", "OSGB36"),
        ("50°54'16\"N", "1°23'W", "", ""),
    ):
        two_places.places_differ("SU 431 118", "", *cells)
    assert len(read) == 3


def test_places_of_a_darwin_core_row_that_differ_are_told_with_how_far(bring: Import) -> None:
    """Kilometres tell a slip of letters from one of figures."""
    text = "occurrenceID,scientificName,eventDate,verbatimCoordinates,decimalLatitude,decimalLongitude,recordedBy\n"
    [row] = faulty(bring(f"{text}a,Tarnula pallida,2025-07-12,SU 431 118,51.0612,-1.3834,Ada Marsh\n"))
    assert row["fault"] == "place-differs"
    assert row["why"] == "This row gives two places: 51.0612, -1.3834 lies 17 km from SU431118. (SU 431 118)"


@pytest.mark.parametrize(
    ("typed", "square"),
    [
        ("SU 431 118 (approx)", "SU431118"),
        ("SU4311 (1 km)", "SU4311"),
        ("SU431118 (100m square)", "SU431118"),
        ("SU431118 (SU432118)", None),
        ("SU431118 (or 119)", None),
        ("SU431 (118)", None),
    ],
)
def test_words_in_brackets_behind_a_reference_are_none_of_it(
    bring: Import, tmp_path: Path, typed: str, square: str | None
) -> None:
    """They stay as typed; other figures may be another reference."""
    done = bring(
        f"Date,Grid Ref,Species,No.\n12/07/2025,SU 431 118,pale rushlet,1\n12/07/2025,{typed},pale rushlet,3\n"
    )
    found = {one.count: at.place for one, at in kept(tmp_path)}
    assert ((found[3].square, found[3].typed) if 3 in found else (None, typed)) == (square, typed)
    assert done.faulty == (square is None)
