"""Dates as people type them: the day first, the year in full, vague where they were vague."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.keys import seasons
from reedmace.keys.seasons import show_third
from reedmace.records import span
from reedmace.tasks.shared.dates import TypedDate, read_date, read_day, read_time_of_year

TODAY = date(2026, 7, 12)
DAYS = st.dates(date(1600, 1, 1), date(2999, 12, 31))
MONTHS = [name.capitalize() for name in seasons.MONTHS]


@pytest.mark.parametrize(
    ("typed", "iso"),
    [
        ("2026-07-02", "2026-07-02"),
        ("2026-7-2", "2026-07-02"),
        ("2/7/2026", "2026-07-02"),
        ("02.07.2026", "2026-07-02"),
        ("2-7-2026", "2026-07-02"),
        ("2 7 2026", "2026-07-02"),
        ("2 July 2026", "2026-07-02"),
        ("2nd July 2026", "2026-07-02"),
        ("31st May 1987", "1987-05-31"),
        ("3rd jun 2026", "2026-06-03"),
        ("12 Sept. 2025", "2025-09-12"),
        ("  2 JULY 2026 ", "2026-07-02"),
        ("29 February 2024", "2024-02-29"),
        ("2026/07/02", "2026-07-02"),
        ("2026/7/2", "2026-07-02"),
        ("2026.07.02", "2026-07-02"),
        ("2-Jul-2026", "2026-07-02"),
        ("2/Jul/2026", "2026-07-02"),
        ("2nd of July 2026", "2026-07-02"),
        ("2 July, 2026", "2026-07-02"),
        ("July 2 2026", "2026-07-02"),
        ("July 2nd, 2026", "2026-07-02"),
        ("Jul-02-2026", "2026-07-02"),
        ("Sun 12th July 2026", "2026-07-12"),
        ("Sunday 12 July 1998", "1998-07-12"),
        ("Sunday, July 12, 1998", "1998-07-12"),
        ("Thurs. 2/7/2026", "2026-07-02"),
        ("today", "2026-07-12"),
        ("Yesterday", "2026-07-11"),
    ],
)
def test_a_day_is_read_day_first_and_kept_as_typed(typed: str, iso: str) -> None:
    """Every way of writing one day gives that day in ISO 8601, with the user's own words beside it."""
    assert read_date(typed, TODAY) == TypedDate(iso, typed, read_date(iso, TODAY).third)


@pytest.mark.parametrize(
    ("typed", "iso"),
    [
        ("1987", "1987"),
        ("June 1987", "1987-06"),
        ("1987-06", "1987-06"),
        ("7/1987", "1987-07"),
        ("07-1987", "1987-07"),
        ("early June 1990", "1990-06-01/1990-06-10"),
        ("mid-June 1990", "1990-06-11/1990-06-20"),
        ("Late Feb. 2024", "2024-02-21/2024-02-29"),
        ("3-5 July 1992", "1992-07-03/1992-07-05"),
        ("12/13 July 1992", "1992-07-12/1992-07-13"),
        ("12th/13th July 1992", "1992-07-12/1992-07-13"),
        ("3rd to 5th July 1992", "1992-07-03/1992-07-05"),
        ("30 June - 2 July 1992", "1992-06-30/1992-07-02"),
        ("30 Dec 1991 to 2 Jan 1992", "1991-12-30/1992-01-02"),
    ],
)
def test_a_vague_date_stays_as_vague_as_it_was_typed(typed: str, iso: str) -> None:
    """Old notebooks say "June 1987"; no day is made up for them."""
    read = read_date(typed, TODAY)
    assert isinstance(read, TypedDate)
    assert read.iso == iso


def test_yesterday_of_new_year_is_last_year() -> None:
    """The turn of the year is no special case."""
    assert read_date("yesterday", date(2026, 1, 1)).iso == "2025-12-31"


@pytest.mark.parametrize(
    ("typed", "third"),
    [
        ("10 June 2026", "early-June"),
        ("11 June 2026", "mid-June"),
        ("20 June 2026", "mid-June"),
        ("21 June 2026", "late-June"),
        ("June 2026", "mid-June"),
        ("late June 2026", "late-June"),
        ("19-23 June 2026", "late-June"),
        ("2026-06-01/2026-06-30", "mid-June"),
    ],
)
def test_the_third_of_the_month_goes_with_the_day(typed: str, third: str) -> None:
    """Flight periods are in thirds of a month: days 1-10, 11-20 and the rest; a bare month counts as its middle."""
    assert show_third(read_date(typed, TODAY).third) == third


def test_a_bare_year_lies_in_no_third() -> None:
    """Nothing of the season is known from a year, nor from days of two months."""
    assert read_date("1987", TODAY).third is None
    assert read_date("30 June - 2 July 1992", TODAY).third is None


@pytest.mark.parametrize(
    ("typed", "iso", "third", "assumed"),
    [
        ("July", "2026-07", "mid-July", "July of this year"),
        (" JUL. ", "2026-07", "mid-July", "July of this year"),
        ("in May", "2026-05", "mid-May", "May of this year"),
        ("August", "2025-08", "mid-August", "August of last year, as this year's has not come yet"),
        ("mid july", "2026-07-11/2026-07-20", "mid-July", "mid July of this year"),
        ("early-June", "2026-06-01/2026-06-10", "early-June", "early June of this year"),
        (
            "late July",
            "2025-07-21/2025-07-31",
            "late-July",
            "late July of last year, as this year's has not come yet",
        ),
        ("12 July", "2026-07-12", "mid-July", "12 July of this year"),
        ("Jul 3rd", "2026-07-03", "early-July", "3 July of this year"),
        ("1st of may", "2026-05-01", "early-May", "1 May of this year"),
        ("13 July", "2025-07-13", "mid-July", "13 July of last year, as this year's has not come yet"),
        ("29 Feb.", "2024-02-29", "late-February", "29 February of 2024, the latest that had one"),
    ],
)
def test_a_month_or_day_that_is_asked_about_is_the_latest_that_has_begun(
    typed: str, iso: str, third: str, assumed: str
) -> None:
    """A look in "July": the year was not said, so the one that was taken is told."""
    read = read_time_of_year(typed, TODAY)
    assert read == TypedDate(iso, typed, read.third, assumed)
    assert show_third(read.third) == third


def test_any_other_date_is_asked_about_as_it_is_logged() -> None:
    """But for the future, which can be asked about."""
    assert read_time_of_year("12 July 2026", TODAY) == read_date("12 July 2026", TODAY)
    assert read_time_of_year("August 2026", TODAY).iso == "2026-08"
    for typed in ("12 Juli", "Juli", "the hot month", "", "mid"):
        assert read_time_of_year(typed, TODAY) == read_day(typed, TODAY)
    impossible = read_time_of_year("31 June", TODAY)
    assert (impossible.code, impossible.said, impossible.hint) == (
        "impossible-date",
        "31 June",
        "check the day; the last is 2026-06-30",
    )
    assert read_day("12 July", TODAY).code == "year-missing", "what is logged has its year typed"


@pytest.mark.parametrize(
    ("typed", "code", "hint"),
    [
        ("31 June 2026", "impossible-date", "2026-06-30"),
        ("2026-06-31", "impossible-date", "2026-06-30"),
        ("29 February 2026", "impossible-date", "2026-02-28"),
        ("29/2/1900", "impossible-date", "1900-02-28"),
        ("0/6/2026", "impossible-date", "2026-06-30"),
        ("2026-06-00", "impossible-date", "2026-06-30"),
        ("6/13/2026", "impossible-date", "12/7/2026"),
        ("2026-13-01", "impossible-date", "day comes first"),
        ("12/7/26", "two-digit-year", "2026"),
        ("12 July 26", "two-digit-year", "2026"),
        ("12-07-26", "two-digit-year", "2026"),
        ("July 26", "two-digit-year", "2026"),
        ("July 12", "two-digit-year", "12 July 2026  or  July 2012"),
        ("12-Jul-26", "two-digit-year", "2026"),
        ("Monday 12 July 2026", "weekday-differs", "leave the day of the week out"),
        ("Sunday July 2026", "date-not-read", "leave it out"),
        ("Sunday 31 June 2026", "impossible-date", "2026-06-30"),
        ("13/1987", "impossible-date", "12 July"),
        ("1.1987", "date-not-read", "12 July 2026"),
        ("5-3 July 1992", "date-not-read", "12 July 2026"),
        ("July 40 2026", "impossible-date", "2026-07-31"),
        ("early July 0000", "date-not-read", "four digits"),
        ("12/7/226", "date-not-read", "four digits"),
        ("12/7/20026", "date-not-read", "four digits"),
        ("12 July 0026", "date-not-read", "four digits"),
        ("31 June", "date-not-read", "12 July 2026"),
        ("July", "date-not-read", "write it with its year:  2026-07  or  July 2026"),
        ("in Sept.", "date-not-read", "write it with its year:  2025-09  or  September 2025"),
        ("mid-July", "date-not-read", "write it with its year:  mid July 2026"),
        ("late July", "date-not-read", "write it with its year:  late July 2025"),
        ("12/7", "date-not-read", "12 July 2026"),
        ("the hot day", "date-not-read", "12 July 2026"),
        ("12 Juli 2026", "date-not-read", "12 July 2026"),
        ("", "date-not-read", "12 July 2026"),
        ("٢٠٢٦-٠٧-١٢", "date-not-read", "12 July 2026"),
        ("2026-07-12T10:00", "date-not-read", "12 July 2026"),
    ],
)
def test_what_is_no_date_is_a_typed_fault_with_a_remedy(typed: str, code: str, hint: str) -> None:
    """31 June, a month that is not there, two-digit years: refused, never guessed at."""
    fault = read_date(typed, TODAY)
    assert isinstance(fault, Fault)
    assert (fault.code, fault.said, fault.typed) == (code, typed, True)
    assert hint in fault.hint


@pytest.mark.parametrize("typed", ["13 July 2026", "2026-07-13", "August 2026", "2027", "1/1/2999"])
def test_a_date_still_to_come_is_a_fault_when_logging_and_none_when_asking(typed: str) -> None:
    """Nobody has seen anything tomorrow; but "what flies in August?" is a fair question."""
    fault = read_date(typed, TODAY)
    assert isinstance(fault, Fault)
    assert fault.code == "date-in-future"
    assert "2026-07-12" in fault.hint
    assert isinstance(read_date(typed, TODAY, future=True), TypedDate)


@pytest.mark.parametrize("typed", ["12 July 2026", "July 2026", "2026", "today"])
def test_today_this_month_and_this_year_are_not_still_to_come(typed: str) -> None:
    """A span that holds today has begun."""
    assert isinstance(read_date(typed, TODAY), TypedDate)


@given(DAYS)
def test_every_day_reads_the_same_however_it_is_written(day: date) -> None:
    """ISO, day first with three signs, and the month's name agree on every day of the calendar."""
    name = MONTHS[day.month - 1]
    ways = [
        day.isoformat(),
        f"{day.day}/{day.month}/{day.year}",
        f"{day.day:02}.{day.month:02}.{day.year}",
        f"{day.day} {name} {day.year}",
        f"{day.day} {name[:3]} {day.year}",
    ]
    assert {read_date(way, TODAY, future=True).iso for way in ways} == {day.isoformat()}


@given(DAYS)
def test_the_day_after_the_last_of_a_month_is_a_fault(day: date) -> None:
    """Every month of every year has its own last day; the hint names it."""
    last = monthrange(day.year, day.month)[1]
    fault = read_date(f"{last + 1}/{day.month}/{day.year}", TODAY, future=True)
    assert isinstance(fault, Fault)
    assert f"{day.year}-{day.month:02}-{last}" in fault.hint


@given(st.text() | st.from_regex(r"[0-9]{0,5}[-/. ][0-9A-Za-z]{0,9}[-/. ][0-9]{0,5}", fullmatch=True), st.booleans())
def test_no_text_makes_reading_a_date_raise(text: str, future: bool) -> None:
    """Whatever is typed gives a date that the records can keep, or a fault."""
    read = read_date(text, TODAY, future=future)
    if isinstance(read, Fault):
        assert read.hint
        assert read.typed
    else:
        assert span(read.iso) is not None
        assert future or span(read.iso).first <= "2026-07-12"


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("31 Dec", "31 December 2025"),
        ("Jan 3", "3 January 2026"),
        ("12 July", "12 July 2026"),
        ("29 Feb", "29 February 2024"),
    ],
)
def test_a_day_without_its_year_is_shown_with_the_latest_that_has_come(typed: str, hint: str) -> None:
    """At the end of a year the next one's are still to come; at its beginning last year's are meant."""
    read = read_day(typed, date(2026, 7, 12))
    assert isinstance(read, Fault)
    assert (read.code, read.hint) == ("year-missing", f"write  {hint}")
