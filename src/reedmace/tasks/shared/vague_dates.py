"""Dates that are more, or less, than a day: `2026-07-12/2026-07-14`, `June-July 1987`, `early June 1990`, `1980s`.

Weeks by their numbers are read as the standard writes them (`2026-W30`): elsewhere weeks are counted in other ways.
"""

import re
from calendar import isleap
from datetime import date
from typing import NamedTuple

from reedmace.keys.seasons import MONTHS, month_of

_DAY, _TO = r"([0-9]{1,2})(?:st|nd|rd|th)?", r"\s*(?:-|–|to)\s*"
# Seasons by whole months, as weather services count them; winter runs over two years and is left out.
_SEASONS = {"spring": (3, 5), "summer": (6, 8), "autumn": (9, 11)}


def read_vague(plain: str) -> str | None:
    """The ISO 8601 interval that a vague date in small letters means; None where it is none."""
    if "/" in plain and re.match(r"[0-9]{4}", plain) and _is_date(plain):
        return plain
    if found := _whole_years(plain) or _season_or_week(plain):
        return found
    if months := re.fullmatch(r"([a-z]{3,9})\.?\s*(?:-|–|/|to)\s*([a-z]{3,9})\.?,?\s+([0-9]{4})", plain):
        first_month, last_month = (month_of(months[part]) for part in (1, 2))
        if first_month and last_month and first_month < last_month:
            return f"{months[3]}-{first_month:02}/{months[3]}-{last_month:02}"
    if part := re.fullmatch(r"(early|mid|late)(?:\s+|-)([a-z]{3,9})\.?,?\s+([0-9]{4})", plain, re.ASCII):
        return _part_of_month(part[1], month_of(part[2]), part[3])
    if days := re.fullmatch(rf"{_DAY}{_TO}([0-9]{{1,2}})([/.])([0-9]{{1,2}})\3([0-9]{{4}})", plain, re.ASCII):
        if not 1 <= int(days[4]) <= len(MONTHS):
            return None
        month = MONTHS[int(days[4]) - 1]
        return _days((days[1], month, days[5]), (days[2], month, days[5]))
    end = rf"{_DAY}\s+([a-z]{{3,9}})\.?,?\s+([0-9]{{4}})"
    if days := re.fullmatch(rf"{_DAY}(?:{_TO}|(/)){end}", plain, re.ASCII):
        # A stroke is for the night between two days: 12/13 July 2026.
        apart = bool(days[2]) and int(days[3]) != int(days[1]) + 1
        return None if apart else _days((days[1], days[4], days[5]), (days[3], days[4], days[5]))
    if days := re.fullmatch(rf"{_DAY}\s+([a-z]{{3,9}})\.?(?:,?\s+([0-9]{{4}}))?{_TO}{end}", plain, re.ASCII):
        return _days((days[1], days[2], days[3] or days[6]), (days[4], days[5], days[6]))
    return None


def year_lacking(day: str, month: str, today: date) -> str:
    """A day and the beginning of a month as `31 Dec 2025`, with the latest year in which it has come.

    A day that no year has stays one of this year, and is told once it is typed so.
    """
    number = month_of(month.casefold()) or 1
    year = today.year - ((number, int(day)) > (today.month, today.day))
    if (number, int(day)) == (2, 29):
        year = next(one for one in range(year, 0, -1) if isleap(one))
    return f"{int(day)} {month.capitalize()} {year}"


def _whole_years(plain: str) -> str | None:
    if years := re.fullmatch(r"([0-9]{2})([0-9]{2})[-–/]([0-9]{2})", plain, re.ASCII):
        # `1987-88`; what could be a month is one.
        later = int(years[3]) > max(12, int(years[2]))
        return f"{years[1]}{years[2]}/{years[1]}{years[3]}" if later else None
    if decade := re.fullmatch(r"([0-9]{3}0)s", plain, re.ASCII):
        return f"{decade[1]}/{int(decade[1]) + 9}"
    return None


def _season_or_week(plain: str) -> str | None:
    if season := re.fullmatch(r"(spring|summer|autumn)\s+([0-9]{4})", plain, re.ASCII):
        first, last = _SEASONS[season[1]]
        return f"{season[2]}-{first:02}/{season[2]}-{last:02}"
    if week := re.fullmatch(r"([0-9]{4})-?w([0-9]{2})(?:-?([1-7]))?", plain, re.ASCII):
        return _week(int(week[1]), int(week[2]), week[3])
    return None


class BareMonth(NamedTuple):
    """A month without a year, or a third of one: `July`, `mid July`."""

    part: str
    month: int

    @property
    def title(self) -> str:
        """As it is written in full."""
        return f"{self.part} {MONTHS[self.month - 1].capitalize()}".strip()

    def year(self, today: date) -> int:
        """The latest year in which it has begun."""
        begins = (self.month, {"mid": 11, "late": 21}.get(self.part, 1))
        return today.year - (begins > (today.month, today.day))

    def dated(self, today: date) -> str:
        """How to write it with that year."""
        year = self.year(today)
        full = f"{self.title} {year}"
        return full if self.part else f"{year}-{self.month:02}  or  {full}"


def bare_month(plain: str) -> BareMonth | None:
    """The month or the third of one that words in small letters name without a year; None for others."""
    named = re.fullmatch(r"(?:in\s+)?(?:(early|mid|late)[\s-]+)?([a-z]{3,9})\.?", plain, re.ASCII)
    month = month_of(named[2]) if named else None
    return BareMonth(named[1] or "", month) if named and month else None


def _days(first: tuple[str, str, str], last: tuple[str, str, str]) -> str | None:
    """The interval of two days, each as day, month in letters and year; None where there is none such."""
    text = "/".join(f"{year}-{month_of(month) or 0:02}-{int(day):02}" for day, month, year in (first, last))
    return text if _is_date(text) else None


def _week(year: int, week: int, day: str | None) -> str | None:
    """A numbered week of ISO 8601, or one of its days, as days."""
    try:
        first, last = (date.fromisocalendar(year, week, int(day or end)) for end in (1, 7))
    except ValueError:
        return None
    return first.isoformat() if day else f"{first.isoformat()}/{last.isoformat()}"


def _part_of_month(part: str, month: int | None, year: str) -> str | None:
    """`early June 1990` as its days: thirds of a month, as in flight periods."""
    if month is None:
        return None
    from calendar import monthrange  # only this form pays for it

    first, last = {"early": (1, 10), "mid": (11, 20), "late": (21, monthrange(max(int(year), 1), month)[1])}[part]
    return f"{year}-{month:02}-{first:02}/{year}-{month:02}-{last:02}"


def _is_date(iso: str) -> bool:
    from reedmace.records.dates import span  # brings all records with it: only those who type an interval pay

    return span(iso) is not None
