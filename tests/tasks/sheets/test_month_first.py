"""Dates with the month before the day: read so where the heading says it, asked about where only the cells show it."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.keys.model import Key
from reedmace.tasks.sheets.columns import corrected, guess, unsure
from reedmace.tasks.sheets.month_first import says_month_first
from tasks.importing import TODAY, Import, faulty, kept

HEADS = "Date (mm/dd/yyyy),Site,Grid Ref,Species,Count\n"


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("07/04/2025", "2025-07-04"),
        ("7-25-2025", "2025-07-25"),
        ("07/04/2025 10:30", "2025-07-04"),
        ("07/04/2025 - 07/06/2025", "2025-07-04/2025-07-06"),
        ("2025-07-04", "2025-07-04"),
        ("4 July 2025", "2025-07-04"),
        ("July 2025", "2025-07"),
    ],
)
def test_a_heading_that_says_the_month_comes_first_is_believed(
    bring: Import, tmp_path: Path, typed: str, day: str
) -> None:
    """The fourth of July would come in as the seventh of April, without a word. What was typed is kept."""
    done = bring(f"{HEADS}{typed},Withy Pond,SU431118,pale rushlet,3\n")
    assert (done.faulty, done.sightings) == (0, 1)
    [(_, at)] = kept(tmp_path)
    assert (at.date, at.date_typed or at.date) == (day, typed)


def test_short_years_and_last_days_are_of_the_same_order(bring: Import, tmp_path: Path) -> None:
    """One sheet, one order."""
    heads = HEADS.replace("Site", "End date")
    assert bring(f"{heads}7/4/25,7/6/25,SU431118,pale rushlet,3\n", century=2000).faulty == 0
    [(_, at)] = kept(tmp_path)
    assert at.date == "2025-07-04/2025-07-06"


def test_a_month_that_is_none_comes_back_with_how_the_column_is_read(bring: Import) -> None:
    """That the day comes first would be wrong there."""
    done = bring(f"{HEADS}25/07/2025,Withy Pond,SU431118,pale rushlet,3\n")
    [row] = faulty(done)
    assert (row["fault"], row["why"]) == ("impossible-date", "There is no month 25. (25/07/2025)")
    assert row["what to do"].startswith("the month comes first in this column:  7/25/2026  is 25 July")


def test_rows_of_one_visit_whose_dates_are_typed_in_two_ways_are_one_visit(bring: Import, tmp_path: Path) -> None:
    """As they are where the day comes first."""
    heads = f"Visit ID,{HEADS}"
    rows = ("walk-a,07/04/2025,Withy,SU431118,pale rushlet,3", "walk-a,7/4/2025,Withy,SU431118,misty rushlet,1")
    assert bring(heads + "\n".join(rows)).faulty == 0
    assert {at.id for _, at in kept(tmp_path)} == {"walk-a"}


@pytest.mark.parametrize(
    ("dates", "asked"),
    [
        (["07/04/2025", "07/25/2025"], True),
        (["25/07/2025", "07/25/2025"], False),
        (["07/04/2025", "25/07/2025"], False),
        (["07/04/2025"], False),
        (["2025-07-25", "07.2025"], False),
    ],
)
def test_cells_that_can_only_be_month_first_are_asked_about(tarn: Key, dates: list[str], asked: bool) -> None:
    """The others of that column may be so too; but not where one can only be day first."""
    columns = ("Date", "Grid Ref", "Species")
    rows = [(day, "SU431118", "pale rushlet") for day in dates]
    mapping = guess(tarn, columns, rows, TODAY)
    assert [fault.code for fault in unsure(mapping, columns, rows)] == ["date-order-unclear"] * asked
    said = corrected(mapping, ["Date=date-month-first"])
    assert (dict(said.columns)["Date"], unsure(said, columns, rows)) == ("date_month_first", [])


@pytest.mark.parametrize("heading", ["Date (dd/mm/yyyy)", "Date (yyyy-mm-dd)", "Comments", "Date"])
def test_other_headings_say_nothing_of_it(heading: str) -> None:
    """They are day first, as all dates are."""
    assert not says_month_first(heading)


@pytest.mark.parametrize("heading", ["Date (MM/DD/YYYY)", "Date mm-dd-yy", "m/d/y", "Date (month/day/year)"])
def test_the_ways_of_saying_it(heading: str) -> None:
    """As people write it."""
    assert says_month_first(heading)
