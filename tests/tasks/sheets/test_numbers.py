"""Numbers as spreadsheets write them: days counted from 1900, parts of a day, thousands, eastings in metres."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.sheets.columns import ColumnMapping, from_body, guess, missing
from reedmace.tasks.sheets.counts import Count, read_count
from reedmace.tasks.sheets.numbers import are_numbers, day_of, time_of
from reedmace.terminal.mapping_text import mapping_text
from tasks.importing import TODAY, Import, faulty, kept

HEAD = "Date,Start,Species,Grid Ref,No.\n"


def test_a_column_of_day_numbers_is_read_as_days(bring: Import, tmp_path: Path) -> None:
    """Counted from 1900; the part of a day behind one is a time, the number itself is what was typed."""
    done = bring(f"{HEAD}46215,,pale,SU431118,1\n46215.4375,,pale,SU431118,2\n31970,0.5,pale,SU431118,3\n")
    assert done.faulty == 0
    found = {one.count: (at.date, at.date_typed, one.time, at.start) for one, at in kept(tmp_path)}
    assert found[1] == ("2026-07-12", "46215", None, None)
    assert found[2] == ("2026-07-12", "46215", "10:30", None)
    assert found[3] == ("1987-07-12", "31970", None, "12:00")


def test_a_column_of_parts_of_a_day_is_read_as_times(bring: Import, tmp_path: Path) -> None:
    """0.4375 is no time as people write it; so 0.5 in its column is none either."""
    bring(f"{HEAD}12/07/2026,0.4375,pale,SU431118,1\n12/07/2026,0.5,pale,SU431118,2\n")
    assert sorted(str(at.start) for _, at in kept(tmp_path)) == ["10:30", "12:00"]


def test_what_the_numbers_are_is_shown_and_kept_with_the_mapping(tarn: Key, tmp_path: Path) -> None:
    """Before anything is written."""
    from reedmace.tasks.sheets.rows import look_at

    (tmp_path / "n.csv").write_text("Date,Species,Grid Ref\n46215,pale,SU431118\n")
    sheet = look_at(str(tmp_path / "n.csv"))
    mapping = guess(tarn, sheet.columns, [("46215", "pale", "SU431118")], TODAY)
    assert "days counted from 1900: 46215 is 2026-07-12" in mapping_text(sheet, mapping, ("observer", "Ada Marsh"))
    assert from_body(mapping.as_body()) == mapping
    assert "numbers" not in mapping._replace(numbers=False).as_body()


def test_one_number_among_dates_comes_back_with_what_it_looks_like(bring: Import) -> None:
    """It is not read: a slip of the pen may be a number too."""
    sheet = f"{HEAD}46215,,pale,SU431118,1\n12/07/2026,0.4375,pale,SU431118,2\n12/07/2026,10:30,pale,SU431118,3\n"
    day, time = faulty(bring(sheet))
    assert "a spreadsheet's number for 2026-07-12" in day["what to do"]
    assert "a spreadsheet's number for 10:30" in time["what to do"]


@pytest.mark.parametrize("dates", [["2026"], ["19999"], ["60001"], ["46215", "12/07/2026"], ["462150"], []])
def test_other_numbers_are_no_days(dates: list[str]) -> None:
    """A year, a grid reference's figures, or a column of both."""
    assert not are_numbers(dates, [])
    assert not are_numbers([], ["0.5", "0.75"]), "which may be half past midnight as some write it"
    assert (day_of("20000"), time_of("0.99999")) == ("1954-10-03", "23:59")


@pytest.mark.parametrize(
    ("cell", "counts"),
    [
        ("1,200", [(1200, None, None)]),
        ("1,234,567", [(1234567, None, None)]),
        ("TRUE", [(None, None, None)]),
        ("10 (2f)", [(2, "female", None), (8, None, None)]),
        ("5 (3m, 2f)", [(3, "male", None), (2, "female", None)]),
        ("9 (2 ten)", [(2, None, "teneral"), (7, None, None)]),
        ("3 individuals", [(3, None, None)]),
        ("2 (m)", [(2, "male", None)]),
    ],
)
def test_counts_as_spreadsheets_and_people_write_them(cell: str, counts: list[object]) -> None:
    """Of what stands in brackets the rest is what nothing more is said of."""
    read = read_count(cell)
    assert not isinstance(read, Fault)
    assert [(one.number, one.sex, one.stage) for one in read] == counts


@pytest.mark.parametrize("cell", ["2 (3f)", "1,20", "10 (2)", "12,3456"])
def test_counts_that_could_be_another_number_come_back(cell: str) -> None:
    """More in brackets than before them, and commas that part no thousands."""
    assert isinstance(read_count(cell), Fault)


@pytest.mark.parametrize("cell", ["no", "N", "FALSE", "none", "Nil"])
def test_no_in_a_count_is_a_0(cell: str) -> None:
    """And so asked about."""
    assert read_count(cell) == (Count(None, zero=True),)


@pytest.mark.parametrize(
    ("heads", "typed", "square"),
    [
        ("OS easting,OS northing", (), "SU4315011850"),
        ("Easting,Northing", ("Easting=british_easting", "Northing=british_northing"), "SU4315011850"),
        ("Irish Grid easting,Irish Grid northing", (), "U4315011850"),
    ],
)
def test_eastings_and_northings_are_a_square_of_a_metre(
    bring: Import, tmp_path: Path, heads: str, typed: tuple[str, ...], square: str
) -> None:
    """On the grid that the heading or the user names; as typed beside it. A reference in the row comes first."""
    coarse = f"{square[:-10]}4311"
    sheet = f"Date,Species,Grid Ref,{heads}\n12/07/2026,pale,,443150,111850\n12/07/2026,pale,{coarse},443150,111850\n"
    assert bring(sheet, typed=typed).faulty == 0
    places = {at.place.square: at.place for _, at in kept(tmp_path)}
    assert places.keys() == {square, coarse}
    assert (places[square].typed, places[square].side_m) == ("443150, 111850", 1)


def test_eastings_of_no_grid_are_not_guessed(bring: Import) -> None:
    """The hint says how to name the grid; what is out of it, or half, comes back."""
    mapping = ColumnMapping((("Date", "date"), ("Species", "name"), ("Easting", None), ("Northing", None)))
    [fault] = missing(mapping)
    assert '--map "Easting=british_easting"' in fault.hint
    head = "Date,Species,OS easting,OS northing\n"
    rows = faulty(bring(f"{head}12/07/2026,pale,443150,\n12/07/2026,pale,943150,111850\n12/07/2026,pale,SU43,111850\n"))
    assert [row["fault"] for row in rows] == ["easting-not-read"] * 3


def test_x_and_y_in_metres_are_no_degrees(tarn: Key, bring: Import, tmp_path: Path) -> None:
    """Of which grid they are nobody says, so the file waits for it; a sheet with degrees there is read as before."""
    columns = ("Date", "Species", "Site", "X", "Y")
    cells = ("12/07/2026", "pale", "Withy Pond", "443150.4", "111850.9")
    mapping = guess(tarn, columns, [cells], TODAY)
    assert [field for _, field in mapping.columns] == ["date", "name", "locality", None, None]
    [fault] = missing(mapping)
    assert fault.code == "easting-not-read"
    assert '--map "X=british_easting" --map "Y=british_northing"' in fault.hint
    [fault] = missing(guess(tarn, columns[:2] + columns[3:], [cells[:2] + cells[3:]], TODAY))
    assert '--map "X=british_easting" --map "Y=british_northing"' in fault.hint
    metres = f"{','.join(columns)}\n{','.join(cells)}\n"
    assert bring(metres, typed=("X=british_easting", "Y=british_northing")).faulty == 0
    assert bring(metres.replace("443150.4", "-1.3877").replace("111850.9", "50.9045"), "b.csv", "b").faulty == 0
    beside = "Date,Species,Grid Ref,X,Y\n12/07/2026,pale,SU 431 118,443150,111850\n"
    assert bring(beside, "c.csv", "c").faulty == 0
    found = [at.place.square for ledger in ("pond", "b", "c") for _, at in kept(tmp_path, ledger)]
    assert found == ["SU4315011850", "SU431118", "SU431118"]


@pytest.mark.parametrize(
    ("latitude", "longitude"), [("51,0596", "-1,3101"), ("51,0596°", "-1.3101"), ("51,0596N", "1,3101W")]
)
def test_a_comma_in_a_latitude_of_its_own_is_the_decimal_sign(
    bring: Import, tmp_path: Path, latitude: str, longitude: str
) -> None:
    """There it parts nothing; in one cell with the longitude it is still asked about."""
    sheet = "Date;Species;Lat;Long\n12/07/2026;pale;{};{}\n"
    assert bring(sheet.format(latitude, longitude)).faulty == 0
    [(_, at)] = kept(tmp_path)
    assert (at.place.latitude, at.place.longitude, at.place.square) == (51.0596, -1.3101, "SU484291")
    both = "Date;Species;Lat/Long\n12/07/2026;pale;51,0596, -1,3101\n"
    assert list(bring(both, "both.csv", ledger="other").faults) == ["position-decimal-comma"]


@pytest.mark.parametrize(
    ("cell", "count"),
    [
        ("<5", Count(1, 4, "band")),
        ("under 5", Count(1, 4, "band")),
        ("<2", Count(1, kind="exact")),
        ("up to 5", Count(1, 5, "band")),
        ("~40 insects", Count(40, kind="estimate")),
        ("1 (dead)", Count(1, kind="exact", remarks="dead")),
    ],
)
def test_counts_with_an_upper_end_and_with_words_behind_them(cell: str, count: Count) -> None:
    """Of what is named there was one; what brackets tell, and is nothing that is counted, is a remark."""
    assert read_count(cell) == (count,)


@pytest.mark.parametrize("cell", ["<1", "5 (mostly males)", "3 (2?)", "individuals"])
def test_words_behind_a_count_that_could_mean_a_part_of_it_come_back(cell: str) -> None:
    """They are no remark."""
    assert isinstance(read_count(cell), Fault)
