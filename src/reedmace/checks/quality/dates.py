"""Dates: are they dates, and can they be true?"""

from __future__ import annotations

from calendar import isleap, monthrange
from datetime import date

from reedmace.checks.quality.isodate import read_days
from reedmace.checks.quality.outcome import COMPLIANT, Basis, Outcome, Row, Validation, empty, integer, lacking, refused

# The earliest days that the standard takes by default: the first of its calendar, and the first of naming.
EARLIEST_EVENT = date(1582, 11, 15)
EARLIEST_NAMING = date(1753, 1, 1)


def event_date_standard(row: Row, basis: Basis) -> Outcome:
    """Is eventDate a date of ISO 8601?"""
    return _standard("eventDate", row)


def date_identified_standard(row: Row, basis: Basis) -> Outcome:
    """Is dateIdentified a date of ISO 8601?"""
    return _standard("dateIdentified", row)


def _standard(term: str, row: Row) -> Outcome:
    text = row.get(term, "")
    if empty(text):
        return lacking(f"{term} is empty")
    return COMPLIANT if read_days(text) else refused(f'{term} "{text}" is no date of ISO 8601')


def event_date_in_range(row: Row, basis: Basis) -> Outcome:
    """Does all of eventDate lie between the beginning of the calendar and today?"""
    text = row.get("eventDate", "")
    days = None if empty(text) else read_days(text)
    if days is None:
        return lacking("eventDate is empty or no date")
    if days.first < EARLIEST_EVENT:
        return refused(f"eventDate {text} begins before {EARLIEST_EVENT.isoformat()}")
    return refused(f"eventDate {text} reaches beyond today") if days.last > basis.today else COMPLIANT


def date_identified_in_range(row: Row, basis: Basis) -> Outcome:
    """Was it named on or after the day it was seen, and not in the future?"""
    text, seen = row.get("dateIdentified", ""), row.get("eventDate", "")
    named = None if empty(text) else read_days(text)
    if named is None:
        return lacking("dateIdentified is empty or no date")
    if named.last < EARLIEST_NAMING or named.first > basis.today:
        return refused(f"dateIdentified {text} cannot be")
    if empty(seen):
        return COMPLIANT
    event = read_days(seen)
    if event is None:
        return lacking("eventDate is no date")
    return refused(f"Named {text}, before it was seen, {seen}") if named.last < event.first else COMPLIANT


def day_standard(row: Row, basis: Basis) -> Outcome:
    """Is day a whole number from 1 to 31?"""
    return _number("day", 31, row)


def month_standard(row: Row, basis: Basis) -> Outcome:
    """Is month a whole number from 1 to 12?"""
    return _number("month", 12, row)


def _number(term: str, most: int, row: Row) -> Outcome:
    text = row.get(term, "")
    if empty(text):
        return lacking(f"{term} is empty")
    number = integer(text)
    fits = number is not None and 1 <= number <= most
    return COMPLIANT if fits else refused(f'{term} "{text}" is no number from 1 to {most}')


def day_in_range(row: Row, basis: Basis) -> Outcome:
    """Does the month have this day?"""
    day = integer(row.get("day", ""))
    if day is None:
        return lacking("day is empty or no whole number")
    if not 1 <= day <= 31:
        return refused(f"No month has a day {day}")
    if day <= 28:
        return COMPLIANT
    month, year = integer(row.get("month", "")), integer(row.get("year", ""))
    if month is None or not 1 <= month <= 12:
        return lacking("without the month it cannot be said")
    if month == 2 and day == 29:
        if year is None or not 1 <= year <= 9999:
            return lacking("without the year it cannot be said")
        return COMPLIANT if isleap(year) else refused(f"{year} was no leap year")
    return COMPLIANT if day <= monthrange(2000, month)[1] else refused(f"Month {month} has no day {day}")


def year_in_range(row: Row, basis: Basis) -> Outcome:
    """Does the year lie between the beginning of the calendar and this year?"""
    text = row.get("year", "")
    year = integer(text)
    if year is None:
        return lacking("year is empty or no whole number")
    return (
        COMPLIANT if EARLIEST_EVENT.year <= year <= basis.today.year else refused(f"The year {text.strip()} cannot be")
    )


def start_day_in_range(row: Row, basis: Basis) -> Outcome:
    """Is startDayOfYear a day of the year in which eventDate begins?"""
    return _day_of_year("startDayOfYear", row)


def end_day_in_range(row: Row, basis: Basis) -> Outcome:
    """Is endDayOfYear a day of the year in which eventDate ends?"""
    return _day_of_year("endDayOfYear", row)


def _day_of_year(term: str, row: Row) -> Outcome:
    text = row.get(term, "")
    if empty(text):
        return lacking(f"{term} is empty")
    number = integer(text)
    if number is not None and 1 <= number <= 365:
        return COMPLIANT
    if number != 366:
        return refused(f'{term} "{text}" is no day of a year')
    days = read_days(row.get("eventDate", ""))
    if days is None:
        return lacking("eventDate does not say which year")
    year = days.first.year if term == "startDayOfYear" else days.last.year
    return COMPLIANT if isleap(year) else refused(f"{year} had no day 366")


VALIDATIONS: dict[str, Validation] = {
    "EVENTDATE_STANDARD": event_date_standard,
    "EVENTDATE_INRANGE": event_date_in_range,
    "DATEIDENTIFIED_STANDARD": date_identified_standard,
    "DATEIDENTIFIED_INRANGE": date_identified_in_range,
    "YEAR_INRANGE": year_in_range,
    "MONTH_STANDARD": month_standard,
    "DAY_STANDARD": day_standard,
    "DAY_INRANGE": day_in_range,
    "STARTDAYOFYEAR_INRANGE": start_day_in_range,
    "ENDDAYOFYEAR_INRANGE": end_day_in_range,
}
