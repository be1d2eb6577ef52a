"""The headings of a sheet: a record in their place, a title above them, a table that runs crosswise."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.sheets.columns import guess, missing
from reedmace.tasks.sheets.headings import crosswise, numbers_crosswise, record_as_headings, uncounted
from reedmace.tasks.sheets.rows import look_at, rows
from tasks.importing import TODAY, Import, kept


@pytest.mark.parametrize(
    "first",
    [
        "12/07/2026,Pale Rushlet,Sallow,SU431118,1",
        "Pale Rushlet,Sallow,12 July 2026,m,x",
        "2026-07-12,purple thing,Sallow",
        "SU431118,pale,3",
    ],
)
def test_a_record_in_the_first_row_is_no_heading(tarn: Key, first: str) -> None:
    """It would be lost without a word."""
    fault = record_as_headings(tarn, first.split(","), TODAY)
    assert fault is not None
    assert (fault.code, fault.hint[:32]) == ("first-row-a-record", "write headings in a row above it")


@pytest.mark.parametrize(
    "first",
    [
        "Date,Species,Site,Grid Ref,Count",
        "Wann,Was,Wo,Feld,Zahl,Bem",
        "Date,Site,Grid Ref,Pale Rushlet,Misty Rushlet",
        "Species,12/07/2026,19/07/2026",
        ",Date,,Species 2,,",
        "A,B,C",
    ],
)
def test_headings_are_none_for_a_record(tarn: Key, first: str) -> None:
    """Nor are the headings of tables that run crosswise."""
    assert record_as_headings(tarn, first.split(","), TODAY) is None


@pytest.mark.parametrize(
    ("sheet", "what"),
    [
        ("Species,Site,12/07/2026,19/07/2026\nPale Rushlet,Sallow,1,2\n", "date"),
        ("Date,Site,Grid Ref,Pale Rushlet,Misty Rushlet\n12/07/2026,Sallow,SU431118,1,2\n", "species"),
    ],
)
def test_a_table_that_runs_crosswise_is_told_for_what_it_is(tarn: Key, tmp_path: Path, sheet: str, what: str) -> None:
    """With what to do."""
    (tmp_path / "cross.csv").write_text(sheet)
    seen = look_at(str(tmp_path / "cross.csv"))
    mapping = guess(tarn, seen.columns, [row.cells for row in rows(seen)], TODAY)
    fault = crosswise(tarn, mapping, TODAY)
    assert fault is not None
    assert (fault.code, f"a column for each {what}" in fault.message) == ("table-crosswise", True)


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_headings_below_a_title_are_found(bring: Import, tmp_path: Path, sign: str) -> None:
    """And what stands above them is told; lines of faults are those of the file."""
    rows_ = [
        ["Pond records, wet and dry" if sign != "," else "Pond records", "", "", ""],
        ["", "", "", ""],
        ["Recorder:", "Ada Marsh", "", ""],
        ["Date", "Species", "Grid Ref", "Count"],
        ["12/07/2026", "Pale Rushlet", "SU431118", "4"],
        ["12/07/2026", "wombat", "SU431118", "4"],
    ]
    text = "".join(f"{sign.join(row)}\n" for row in rows_)
    (tmp_path / "seen.csv").write_text(text)
    assert look_at(str(tmp_path / "seen.csv")).above == (tuple(rows_[0]), tuple(rows_[2]))
    done = bring(text)
    assert (done.rows, [one.count for one, _ in kept(tmp_path)]) == (2, [4])
    assert done.faults_file is not None
    assert "6" in Path(done.faults_file).read_text(encoding="utf-8-sig").splitlines()[1].split(sign)


@pytest.mark.parametrize(
    "text",
    [
        "Wann,Was,Wo\n12/07/2026,Pale Rushlet,SU431118\nDate,Species,Grid Ref\n",
        "A,B,C,D\nDate,Species,Grid Ref,Count\n",
        "Date,Was,Grid ref\nSpecies,Site,Count\n",
    ],
)
def test_the_first_row_has_the_headings_where_nothing_says_otherwise(tmp_path: Path, text: str) -> None:
    """No row of a table is taken for a title."""
    (tmp_path / "plain.csv").write_text(text)
    assert look_at(str(tmp_path / "plain.csv")).above == ()


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Ex", "exuviae"),
        ("Em", "emerging"),
        ("No. m", "males"),
        ("No. f", "females"),
        ("M/F", "sex"),
        ("OSGB Easting", "british_easting"),
        ("Northing (OSGB36, m)", "british_northing"),
        ("OS Grid Eastings", "british_easting"),
        ("Irish National Grid Northing", "irish_northing"),
        ("ITM Easting", None),
        ("UTM Easting", None),
        ("Easting", None),
        ("OS Irish Easting", None),
        ("Easting Northing OS", None),
        ("Max temp °C", "temperature"),
        ("Air temperature (deg C)", "temperature"),
        ("Temp °F", None),
        ("Min temp", None),
        ("Cloud cover (oktas)", "cloud_eighths"),
        ("Cloud (eighths)", "cloud_eighths"),
        ("Cloud %", "cloud"),
        ("Wind dir", "wind_direction"),
        ("Wind speed (mph)", None),
        ("Accuracy m", "uncertainty"),
        ("Lat/Long", "place"),
        ("Coords", "place"),
        ("Depth m", None),
    ],
)
def test_what_a_heading_means(tarn: Key, heading: str, field: str | None) -> None:
    """By its words; a unit or a grid that it does not say, or that is not read, is not guessed."""
    mapping = guess(tarn, ["Species", "Date", "Grid ref", heading], [], TODAY)
    assert dict(mapping.columns)[heading] == field


def test_eastings_of_a_grid_that_nobody_names_are_not_lost(tarn: Key) -> None:
    """A site alone says less; whoever leaves them out says so, and a grid reference goes before them."""
    columns = ["Species", "Date", "Site", "Easting", "Northing"]
    mapping = guess(tarn, columns, [], TODAY)
    [fault] = missing(mapping)
    assert (fault.code, fault.said) == ("easting-not-read", "Easting")
    assert '--map "Easting=british_easting"' in fault.hint
    assert missing(mapping, {"Easting"}) == []
    assert missing(guess(tarn, [*columns, "Grid ref"], [], TODAY)) == []
    [fault] = missing(guess(tarn, [*columns[:3], "ITM Easting", "ITM Northing"], [], TODAY))
    assert "eastings of this grid are not read" in fault.hint


@pytest.mark.parametrize("heading", ["Lat/Long", "Coords", "Pond position", "OS"])
@pytest.mark.parametrize("typed", [("51.0596, -1.3101", "51.0597, -1.3102"), ("SU 431 118", "SU 432 118")])
def test_one_place_that_cannot_be_read_takes_the_others_from_no_row(
    bring: Import, tmp_path: Path, heading: str, typed: tuple[str, str]
) -> None:
    """A column in which most cells are places is one of places; the row of the others comes back."""
    head = f"Date,Site,{heading},Species,Count\n"
    rows_ = [f'12/07/2026,Sallow,"{cell}",pale rushlet,1\n' for cell in (*typed, "no fix")]
    done = bring(head + "".join(rows_))
    assert (done.sightings, done.faulty) == (2, 1)
    assert all(at.place.square for _, at in kept(tmp_path))


def test_a_column_with_a_place_here_and_there_is_none_of_places(tarn: Key) -> None:
    """Half of its cells are not most."""
    cells = [("pale", "SU431118"), ("pale", "by the gate")]
    mapping = guess(tarn, ["Species", "Way in"], cells, TODAY)
    assert dict(mapping.columns)["Way in"] is None


@pytest.mark.parametrize(
    ("site", "square"),
    [
        ("SU 431 118 Tern Hollow", "SU431118"),
        ("SU431118: Tern Hollow", "SU431118"),
        ("Tern Hollow (SU 4310 1180)", "SU43101180"),
        ("SU431118", "SU431118"),
        ("SU 43 11", "SU4311"),
        ("SU41F", "SU41F"),
        ("N 43 11", "N4311"),
        ("B3400", None),
        ("SU41 pond", None),
        ("Tern Hollow SO 2019", None),
        ("Lane B4013", None),
        ("Tern Hollow su 431 118", None),
        ("SU 431 118th pond", None),
        ("ZZ 431 118", None),
    ],
)
def test_a_grid_reference_beside_the_name_of_a_place_is_read(
    bring: Import, tmp_path: Path, site: str, square: str | None
) -> None:
    """Where the row has no other; the name stays as it was typed. What may be a year or a road is none."""
    bring(f"Date,Site,Species,Count\n12/07/2026,{site},pale rushlet,1\n")
    [(_, at)] = kept(tmp_path)
    assert (at.place.square, at.place.locality) == (square, site)
    bring(f"Date,Site,Grid ref,Species,Count\n12/07/2026,{site},SU 433,pale rushlet,1\n".replace("433", "43"), "b.csv")
    assert {one.place.square for _, one in kept(tmp_path)} == {square, "SU43"}


def asked(tarn: Key, tmp_path: Path, text: str, find: Callable[..., Fault | None]) -> str:
    """Say of which column somebody has to speak."""
    (tmp_path / "sheet.csv").write_text(text, encoding="utf-8")
    sheet = look_at(str(tmp_path / "sheet.csv"))
    sample = [row.cells for row in rows(sheet)]
    fault = find(guess(tarn, sheet.columns, sample, TODAY), sheet.columns, sample)
    return fault.said if fault else ""


@pytest.mark.parametrize(
    ("heads", "cells", "column"),
    [
        ("Entered Abundance", "3", "Entered Abundance"),
        ("Entered Abundance,No.", "3,4", ""),
        ("Entered Abundance,Males", "3,4", ""),
        ("Habitat note", "reeds", ""),
        ("line in the file", "7", ""),
    ],
)
def test_a_sheet_in_which_nothing_counts_is_asked_about_its_numbers(
    tarn: Key, tmp_path: Path, heads: str, cells: str, column: str
) -> None:
    """Else all of it would come in as present, and the numbers be lost."""
    text = f"Date,Grid Ref,Species,{heads}\n12/07/2026,SU 431 118,pale rushlet,{cells}\n"
    assert asked(tarn, tmp_path, text, uncounted) == column


@pytest.mark.parametrize(
    ("heads", "cells", "column"),
    [("1,2-5,6-20", "x,,", ""), ("1,2-5,6-20", "x,x,", "1"), ("No.,1,2", "3,,", ""), ("100 m,1 km", "x,x", "")],
)
def test_a_column_for_each_number_is_no_row_of_one_sighting(
    tarn: Key, tmp_path: Path, heads: str, cells: str, column: str
) -> None:
    """Which of them is ticked would be lost."""
    text = f"Date,Grid Ref,Species,{heads}\n12/07/2026,SU 431 118,pale rushlet,{cells}\n"
    assert asked(tarn, tmp_path, text, numbers_crosswise) == column


@pytest.mark.parametrize(
    ("heading", "cells", "asked"),
    [
        ("Bugs", ("3", "5", "4", "7", "2"), True),
        ("Max", ("3", "5", "4", "7", "2"), True),
        ("Area count", ("3", "5", "4", "7", "2"), True),
        ("Water depth (cm)", ("30", "50", "40", "70", "20"), False),
        ("Altitude", ("30", "50", "40", "70", "20"), False),
        ("Mins", ("30", "50", "40", "70", "20"), False),
        ("Section", ("3", "5", "4", "7", "2"), False),
        ("Section 1", ("3", "5", "4", "7", "2"), True),
        ("Zone B", ("3", "5", "4", "7", "2"), True),
        ("transect_2", ("3", "5", "4", "7", "2"), True),
        ("Area 3", ("3", "5", "4", "7", "2"), True),
        ("Area (m2)", ("30", "50", "40", "70", "20"), False),
        ("Depth m", ("30", "50", "40", "70", "20"), False),
        ("Entry", ("11", "12", "13", "14", "15"), False),
        ("Bugs", ("11", "12", "13", "14", "17"), True),
    ],
)
def test_only_numbers_that_may_count_insects_are_asked_about(
    tarn: Key, heading: str, cells: tuple[str, ...], asked: bool
) -> None:
    """Where no column counts: what was measured, and what numbers the rows or the pages, does not."""
    columns = ("Date", "Site", "Species", heading)
    sample = [("12/07/2026", "Withy Pond", "pale", cell) for cell in cells]
    found = uncounted(guess(tarn, columns, sample, TODAY), columns, sample)
    assert (found.code if found else "") == ("count-or-not" if asked else "")


def test_what_was_measured_where_there_was_nothing_is_no_count(bring: Import) -> None:
    """A depth, or an easting beside the reference, says nothing of insects."""
    text = "Date,Grid Ref,Species,No.,Water depth,X,Y\n12/07/2026,SU 431 118,pale rushlet,{},30,443150,111850\n"
    assert bring(text.format(0) + text.format(3).splitlines()[1], zero="absent").faulty == 0
