"""Dates that several columns give: a first and a last day, or year, month and day apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from tasks.importing import Import, faulty, kept

ROW = ",SU 431 118,pale rushlet,3\n"


def days(tmp_path: Path) -> list[tuple[str, str]]:
    """Give the dates of the visits, with these as typed."""
    return [(at.date, at.date_typed) for _, at in kept(tmp_path)]


@pytest.mark.parametrize("heads", ["Start date,End date", "Date from,Date to", "From,To", "First seen,Last seen"])
def test_a_first_and_a_last_day_are_a_span_and_no_day(bring: Import, tmp_path: Path, heads: str) -> None:
    """The first alone would be a day on which nobody may have seen it."""
    done = bring(f"{heads},Grid Ref,Species,No.\n01/06/2025,30/06/2025{ROW}02/07/2025,{ROW}03/07/2025,3/7/2025{ROW}")
    assert (done.sightings, done.faulty) == (3, 0)
    assert days(tmp_path) == [
        ("2025-06-01/2025-06-30", "01/06/2025 to 30/06/2025"),
        ("2025-07-02", "02/07/2025"),
        ("2025-07-03", "03/07/2025 to 3/7/2025"),
    ]


def test_times_under_from_and_to_stay_times(bring: Import, tmp_path: Path) -> None:
    """The same headings over hours."""
    assert bring(f"Date,From,To,Grid Ref,Species,No.\n01/06/2025,10:00,11:30{ROW}").faulty == 0
    [(_, visit)] = kept(tmp_path)
    assert (visit.date, visit.start, visit.end) == ("2025-06-01", "10:00", "11:30")


def test_days_that_end_before_they_begin_come_back(bring: Import) -> None:
    """Turned about, or one of them a slip."""
    [row] = faulty(bring(f"Date from,Date to,Grid Ref,Species,No.\n02/07/2025,01/07/2025{ROW}"))
    assert (row["fault"], row["why"]) == (
        "dates-turned",
        "The first day, 2025-07-02, is later than the last, 2025-07-01. (02/07/2025 to 01/07/2025)",
    )


def test_the_day_that_does_not_read_is_the_one_told(bring: Import) -> None:
    """Of the two."""
    [row] = faulty(bring(f"Date from,Date to,Grid Ref,Species,No.\n02/07/2025,soon{ROW}"))
    assert (row["fault"], row["why"]) == ("date-not-read", "This is no date that can be read. (soon)")


@pytest.mark.parametrize(("century", "found"), [(2000, ["2025-07-14", "2025-12-08"]), (None, [])])
def test_a_year_of_two_figures_in_its_column_is_no_day(
    bring: Import, tmp_path: Path, century: int | None, found: list[str]
) -> None:
    """25, 7 and 14 are 14 July, and not the 25th in the year 14."""
    text = "Year,Month,Day,Grid Ref,Species,No.\n25,7,14,SU 431 118,pale rushlet,3\n25,12,8,SU 431 118,pale rushlet,3\n"
    done = bring(text, century=century)
    assert [day for day, _ in days(tmp_path)] == found
    if century is None:
        assert [row["why"] for row in faulty(done)] == [
            "The year 25 could be in any century. (14/7/25)",
            "The year 25 could be in any century. (8/12/25)",
        ]


def test_numbers_with_a_nought_behind_the_point_are_whole(bring: Import, tmp_path: Path) -> None:
    """So programs write columns in which a cell is empty."""
    text = "Year,Month,Day,Grid Ref,Species,No.\n2025.0,7.0,14.0,SU 431 118,pale rushlet,3\n"
    assert bring(text).faulty == 0
    assert days(tmp_path) == [("2025-07-14", "")]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("03/07/2025 - 05/07/2025", "2025-07-03/2025-07-05"),
        ("3 July 2025 to 2 August 2025", "2025-07-03/2025-08-02"),
        ("20250704", "2025-07-04"),
    ],
)
def test_forms_of_dates(bring: Import, tmp_path: Path, typed: str, found: str) -> None:
    """A span of two whole dates, and figures alone."""
    assert bring(f"Date,Grid Ref,Species,No.\n{typed}{ROW}").faulty == 0
    assert days(tmp_path) == [(found, typed)]


def test_a_date_without_its_year_is_told_so(bring: Import) -> None:
    """The year stands in the title of the sheet, or nowhere."""
    [row] = faulty(bring(f"Date,Grid Ref,Species,No.\n12 July{ROW}"))
    assert (row["fault"], row["why"]) == ("year-missing", "This date has no year. (12 July)")


def test_visits_that_are_numbered_in_each_sheet_do_not_meet(bring: Import, tmp_path: Path) -> None:
    """Next year's first visit is not this year's; two of one day at one place stay two."""
    head = "Visit,Date,Site,Grid Ref,Species,No.\n"
    row = "{},{},Withy Pond,SU 431 118,pale rushlet,{}\n"
    assert bring(head + row.format(1, "01/06/2025", 1) + row.format(2, "01/06/2025", 2)).faulty == 0
    assert bring(head + row.format(1, "02/06/2026", 3) + row.format(1, "02/06/2026", 4), "next.csv").faulty == 0
    by_visit: dict[str, list[int | None]] = {}
    for one, at in kept(tmp_path):
        by_visit.setdefault(at.id, []).append(one.count)
    assert sorted(map(sorted, by_visit.values())) == [[1], [2], [3, 4]]


def test_a_date_that_only_its_words_as_typed_give_is_read(bring: Import, tmp_path: Path) -> None:
    """A file of the standard with the date left verbatim."""
    head = "occurrenceID,scientificName,eventDate,verbatimEventDate,locality,recordedBy\n"
    assert bring(f"{head}a,Tarnula pallida,,12 July 2025,Withy Pond,Ada Marsh\n").faulty == 0
    assert days(tmp_path) == [("2025-07-12", "12 July 2025")]


def test_columns_that_count_parts_change_nothing_of_that(bring: Import, tmp_path: Path) -> None:
    """Days under From and To, numbers of visits and short headings, all in one sheet."""
    text = "Visit,From,To,Obs,Grid Ref,Species,Ad,La\n1,01/06/2025,30/06/2025,Ben Sallow,SU 431 118,pale rushlet,3,2\n"
    done = bring(text)
    assert (done.sightings, done.faulty, done.new_people) == (2, 0, ("Ben Sallow",))
    assert {(one.count, one.stage, at.date) for one, at in kept(tmp_path)} == {
        (3, "adult", "2025-06-01/2025-06-30"),
        (2, "larva", "2025-06-01/2025-06-30"),
    }
    assert all(at.id != "1" for _, at in kept(tmp_path))


@pytest.mark.parametrize(
    ("typed", "century", "found"),
    [
        ("June 13", 2000, "two-digit-year"),
        ("Jun-13", 2000, "two-digit-year"),
        ("June 13", None, "two-digit-year"),
        ("June '13", 2000, "2013-06"),
        ("Jun-87", 1900, "1987-06"),
        ("13th June '13", 2000, "2013-06-13"),
        ("13th June '13", None, "two-digit-year"),
        ("13-Jun-13", 2000, "2013-06-13"),
    ],
)
def test_figures_behind_a_month_that_could_be_the_day_are_no_year(
    bring: Import, tmp_path: Path, typed: str, century: int | None, found: str
) -> None:
    """June 13 is mostly the thirteenth of a June; the century of a file does not say that it is June 2013."""
    done = bring(f'Date,Grid Ref,Species,No.\n"{typed}",SU 431 118,pale rushlet,3\n', century=century)
    told = [row["fault"] for row in faulty(done)] if done.faulty else []
    assert [*(day for day, _ in days(tmp_path)), *told] == [found]


def test_a_day_without_a_year_is_told_with_both_meanings(bring: Import) -> None:
    """Saying the century again would not help."""
    [row] = faulty(bring(f"Date,Grid Ref,Species,No.\nJune 13{ROW}", century=2000))
    assert row["why"] == "13 could be the day or the year. (June 13)"
    assert row["what to do"] == "write  13 June 2026  or  June 2013"


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("2025-W30", "2025-07-21/2025-07-27"),
        ("2025W30", "2025-07-21/2025-07-27"),
        ("2025-W30-3", "2025-07-23"),
        ("2020-W53", "2020-12-28/2021-01-03"),
        ("2025-152", "2025-06-01"),
        ("2025-366", "date-not-read"),
        ("2025-06/07", "2025-06/2025-07"),
        ("2025-06-01/03", "2025-06-01/2025-06-03"),
        ("2025-06-28/07-02", "2025-06-28/2025-07-02"),
        ("2025-07/06", "date-not-read"),
        ("2025-W53", "date-not-read"),
        ("2025-W00", "date-not-read"),
        ("week 30 2025", "date-not-read"),
        ("May/June 2025", "2025-05/2025-06"),
        ("Sept./Oct. 2025", "2025-09/2025-10"),
        ("June/May 2025", "date-not-read"),
    ],
)
def test_weeks_of_the_standard_and_two_months_are_spans(bring: Import, tmp_path: Path, typed: str, found: str) -> None:
    """A week that others number in their own way is none, nor one that its year does not have."""
    done = bring(f"Date,Grid Ref,Species,No.\n{typed}{ROW}")
    told = [row["fault"] for row in faulty(done)] if done.faulty else []
    assert [*(day for day, _ in days(tmp_path)), *told] == [found]
