"""The date as typed belongs to the row it was typed in, and so does the time of day behind it."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.darwincore import occurrence
from tasks.importing import Import, kept

HEAD = "Date,Grid Ref,Species,No.\n"


def sheet(*dates: str) -> str:
    """Rows of one day and place, counted from 1 on."""
    return HEAD + "".join(f"{day},SU 431 118,pale rushlet,{at}\n" for at, day in enumerate(dates, 1))


def told(tmp_path: Path) -> dict[int | None, tuple[str, str]]:
    """Give for each count what an export says of the date as typed and of the time."""
    lines = [(one.count, occurrence(one, at, "", str)) for one, at in kept(tmp_path)]
    return {count: (line["verbatimEventDate"], line["eventTime"]) for count, line in lines}


def test_no_row_has_the_date_as_another_row_typed_it(bring: Import, tmp_path: Path) -> None:
    """Three ways to write one day, one of them with a time."""
    text = sheet("12/7/2019 14:30", "12th July 2019", "12.07.2019", "2019-07-12", "12/7/2019 15:05")
    assert bring(text).faulty == 0
    assert told(tmp_path) == {
        1: ("12/7/2019", "14:30"),
        2: ("12th July 2019", ""),
        3: ("12.07.2019", ""),
        4: ("", ""),
        5: ("12/7/2019", "15:05"),
    }
    assert len({at.id for _, at in kept(tmp_path)}) == 4
    again = bring(text)
    assert (again.sightings, again.visits, again.there, again.faulty) == (0, 0, 5, 0)


@pytest.mark.parametrize(
    ("day", "typed", "time"),
    [
        ("12/07/2019 00:00:00", "12/07/2019", ""),
        ("12/7/2019 2:30 pm", "12/7/2019", "14:30"),
        ('"12 July 2019, 2pm"', "12 July 2019", "14:00"),
        ("12 July 2019 at 2.30pm", "12 July 2019", "14:30"),
        ("12.7.2019 @ 14:30", "12.7.2019", "14:30"),
        ("2019-07-12T14:30:22", "", "14:30"),
        ("2019-07-12T10:00/2019-07-12T12:00", "2019-07-12T10:00/2019-07-12T12:00", ""),
    ],
)
def test_a_local_time_behind_a_date_is_the_sightings(
    bring: Import, tmp_path: Path, day: str, typed: str, time: str
) -> None:
    """Midnight is none."""
    bring(sheet(day))
    assert told(tmp_path) == {1: (typed, time)}


def test_a_time_in_a_column_of_its_own_counts_before_that_behind_the_date(bring: Import, tmp_path: Path) -> None:
    """What stands behind the date then stays in it."""
    row = "12/7/2019 {},SU 431 118,pale rushlet,{},{}\n"
    bring("Date,Grid Ref,Species,No.,Time\n" + row.format("14:30", 1, "14:30") + row.format("9:00", 2, "10:15"))
    assert told(tmp_path) == {1: ("12/7/2019", "14:30"), 2: ("12/7/2019 9:00", "10:15")}


def test_a_visit_with_an_id_holds_no_date_as_typed_where_its_rows_differ(bring: Import, tmp_path: Path) -> None:
    """They stay one visit; a visit whose rows type it alike keeps it."""
    row = "{},{},SU 431 118,pale rushlet,{}\n"
    typed = [("v-1", "12/7/2019", 1), ("v-2", "12/7/2019", 2), ("v-1", "12th July 2019", 3), ("v-2", "12/7/2019", 4)]
    done = bring("Visit ID,Date,Grid Ref,Species,No.\n" + "".join(row.format(*cells) for cells in typed))
    assert (done.visits, done.faulty) == (2, 0)
    assert told(tmp_path) == {1: ("", ""), 2: ("12/7/2019", ""), 3: ("", ""), 4: ("12/7/2019", "")}
    later = bring("Visit ID,Date,Grid Ref,Species,No.\n" + row.format("v-2", "12.7.2019", 5), "later.csv")
    assert (later.sightings, list(later.faults)) == (0, ["visit-differs"])


@pytest.mark.parametrize(
    ("typed", "iso"),
    [
        ("2019/07/12", "2019-07-12"),
        ("12-Jul-2019", "2019-07-12"),
        ("July 12 2019", "2019-07-12"),
        ("Fri 12th July 2019", "2019-07-12"),
        ("7/1987", "1987-07"),
        ("3-5 July 1992", "1992-07-03/1992-07-05"),
        ("June-July 1987", "1987-06/1987-07"),
        ("early June 1990", "1990-06-01/1990-06-10"),
        ("12-14/7/2019", "2019-07-12/2019-07-14"),
        ("12-14.7.2019", "2019-07-12/2019-07-14"),
        ("3.vi.2019", "2019-06-03"),
        ("12 XII 2018", "2018-12-12"),
        ("1987-88", "1987/1988"),
        ("2011-12", "2011-12"),
    ],
)
def test_a_date_reads_as_it_does_in_notes(bring: Import, tmp_path: Path, typed: str, iso: str) -> None:
    """One reader for both: what is a date on the line of a visit is one in a cell."""
    assert bring(sheet(typed)).faulty == 0
    assert [at.date for _, at in kept(tmp_path)] == [iso]


@pytest.mark.parametrize("typed", ["14-12/7/2019", "12-14/13/2019", "3.xiii.2019", "1999-98", "1999-97"])
def test_a_span_that_runs_backwards_and_a_month_that_is_none_come_back(bring: Import, typed: str) -> None:
    """Rather than be turned round."""
    assert bring(sheet(typed)).faulty == 1


@pytest.mark.parametrize("cell", ["10:00-12:00", "10.00 – 12.00", "10am to 12 pm", "10:00/12:00"])
def test_a_span_of_times_is_the_visits(bring: Import, tmp_path: Path, cell: str) -> None:
    """In a column of times, where no other says when it began and ended."""
    bring(f"Date,Grid Ref,Species,No.,Time\n12/7/2019,SU 431 118,pale rushlet,1,{cell}\n")
    [(one, at)] = kept(tmp_path)
    assert (one.time, at.start, at.end) == (None, "10:00", "12:00")


@pytest.mark.parametrize(
    ("heads", "cells", "start", "end"),
    [
        ("Start,End", "10.30,12", "10:30", "12:00"),
        ("Start,End", "10.30am,noon", "10:30", "12:00"),
        ("Start,End", "13,14", "13:00", "14:00"),
        ("Start,End", "10,12", None, None),
        ("Start,End", "10:00,24", None, None),
        ("Time (mins),Start", "15,", None, None),
    ],
)
def test_an_hour_alone_from_noon_on_is_one_where_a_visit_starts_or_ends(
    bring: Import, tmp_path: Path, heads: str, cells: str, start: str | None, end: str | None
) -> None:
    """A smaller one could be of the evening, and under "Time" it may be minutes."""
    done = bring(f"Date,Grid Ref,Species,No.,{heads}\n12/07/2025,SU 431 118,pale rushlet,3,{cells}\n")
    assert [(at.start, at.end) for _, at in kept(tmp_path)] == ([(start, end)] if start else [])
    assert list(done.faults) == ([] if start else ["time-not-read"])
