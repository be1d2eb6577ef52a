"""A date as people type it → ISO 8601. Day first, year in full; a vague date stays as vague as it was typed."""

import re
from datetime import date, timedelta
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.seasons import MONTHS, bare_day, month_of, third_of
from reedmace.tasks.shared.vague_dates import bare_month, read_vague, year_lacking

# Looked for with re.fullmatch, which compiles what is tried: most dates are of the first form.
_YEAR_FIRST = r"([0-9]{4})(?:-([0-9]{1,2})(?:-([0-9]{1,2}))?|([/.])([0-9]{1,2})\4([0-9]{1,2}))"
_DAY_FIRST = r"([0-9]{1,2})[./ -]([0-9]{1,2})[./ -]([0-9]+)"
_MONTH_YEAR = r"([0-9]{1,2})[/-]([0-9]{4})"
_NAMED = r"(?:([0-9]{1,2})(?:st|nd|rd|th)?[\s./-]+(?:of\s+)?)?([a-z]{3,9})\.?,?(?:[\s./-]+([0-9]+))?"
_ROMAN = r"([0-9]{1,2})[./ -]+([ivx]+)[./ -]+([0-9]+)"
_ROMANS = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
_MONTH_FIRST = r"([a-z]{3,9})\.?[\s./-]+([0-9]{1,2})(?:st|nd|rd|th)?(?:,\s*|[\s./-]+)([0-9]{4})"
_WEEKDAY = r"([a-z]{3,9})(?:\.?,?\s+|\.?,)(.*[0-9].*)"
_SPANS = re.compile(r"[0-9]{4}[-–][0-9]{2}|[0-9]{1,2}\s*[-–][ 0-9]+\..*", re.ASCII)
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


class TypedDate(NamedTuple):
    """`iso` is a day, a month, a year or an interval of these; `third` the third of the year it lies in.

    None for a bare year and an interval longer than a month. `assumed` says which year was taken where none was typed.
    """

    iso: str
    typed: str
    third: int | None
    assumed: str = ""

    @property
    def is_day(self) -> bool:
        """Whether it is one day, and no month, year or interval."""
        return len(self.iso) == len("2026-07-12")


def read_date(text: str, today: date, *, future: bool = False) -> TypedDate | Fault:
    """Read a date. A day after `today` is a fault unless `future` is allowed."""
    plain = text.strip().casefold()
    if "/" in plain or any(map(str.isalpha, plain)) or _SPANS.fullmatch(plain):  # other figures alone are neither
        if (named := re.fullmatch(_WEEKDAY, plain, re.ASCII)) and (number := weekday_of(named[1])) is not None:
            return _on_weekday(number, named[2], text, today, future=future)
        vague = read_vague(plain)
        if vague is not None:
            return _vague(vague, text, today, future=future)
    parts = _parts(plain, today)
    if parts is None:
        return _not_read(plain, text, today)
    year, month, day = parts
    if len(year) == 2:
        century = f"20{year}"
        if month is not None and day is None and 1 <= int(year) <= 31:
            name = MONTHS[month - 1].capitalize()
            hint = f"write  {int(year)} {name} {today.year}  or  {name} {century}"
            return _fault("two-digit-year", f"{year} could be the day or the year.", hint, text)
        return _fault(
            "two-digit-year",
            f"The year {year} could be in any century.",
            f"write the year in full:  {century}",
            text,
        )
    if len(year) != 4 or year < "1600":
        return _fault("date-not-read", f"{year} is no year.", "write the year with four digits", text)
    if month is not None and not 1 <= month <= 12:
        hint = "the day comes first:  12/7/2026  is 12 July"
        return _fault("impossible-date", f"There is no month {month}.", hint, text)
    if month is not None and day is not None and not 1 <= day <= 28:
        from calendar import monthrange  # most days are in every month

        days = monthrange(int(year), month)[1]
        if not 1 <= day <= days:
            name = MONTHS[month - 1].capitalize()
            return _fault(
                "impossible-date",
                f"{name} {year} has {days} days.",
                f"check the day; the last is {year}-{month:02}-{days}",
                text,
            )
    found = _typed(int(year), month, day, text)
    if not future and found.iso > today.isoformat()[: len(found.iso)]:
        return _fault(
            "date-in-future",
            f"{found.iso} is still to come.",
            f"today is {today.isoformat()}; check day, month and year",
            text,
        )
    return found


def read_time_of_year(text: str, today: date) -> TypedDate | Fault:
    """Read a date that is asked about, not logged: it may be to come, and a month or a day may lack its year.

    That is then the present year, or the last where it has not come yet.
    """
    plain = text.strip().casefold()
    if month := bare_month(plain):
        year, title = month.year(today), month.title
        dated = f"{title} {year}"
    elif found := bare_day(plain):
        dated = year_lacking(*found, today)
        title, _, typed_year = dated.rpartition(" ")
        year = int(typed_year)
    else:
        return read_day(text, today, future=True)
    read = read_date(dated, today, future=True)
    if isinstance(read, Fault):
        return read._replace(said=text)
    return read._replace(typed=text, assumed=f"{title} of {_which(year, today)}")


def _which(year: int, today: date) -> str:
    """A year that was taken, in words."""
    if year == today.year:
        return "this year"
    if year == today.year - 1:
        return "last year, as this year's has not come yet"
    return f"{year}, the latest that had one"


def _vague(iso: str, text: str, today: date, *, future: bool) -> TypedDate | Fault:
    if iso < "1600":
        return _fault("date-not-read", f"{iso[:4]} is no year.", "write the year with four digits", text)
    if not future and iso[:10].partition("/")[0] > today.isoformat():
        return _fault("date-in-future", f"{iso} is still to come.", "check the year", text)
    return TypedDate(iso, text, _third_within(iso))


def _third_within(iso: str) -> int | None:
    """The third in which the middle of an interval within one month lies; None for a longer one."""
    from reedmace.records.dates import span

    days = span(iso)
    if days is None or days.month is None:
        return None
    return third_of(days.month, (int(days.first[8:]) + int(days.last[8:])) // 2)


def _parts(plain: str, today: date) -> tuple[str, int | None, int | None] | None:
    if plain in ("today", "yesterday"):
        then = today - timedelta(days=plain == "yesterday")
        return str(then.year), then.month, then.day
    if re.fullmatch(r"[0-9]{4}", plain, re.ASCII):
        return plain, None, None
    if iso := re.fullmatch(_YEAR_FIRST, plain, re.ASCII):
        month, day = iso[2] or iso[5], iso[3] or iso[6]
        return iso[1], int(month), int(day) if day else None
    if first := re.fullmatch(_DAY_FIRST, plain, re.ASCII):
        return first[3], int(first[2]), int(first[1])
    if months := re.fullmatch(_MONTH_YEAR, plain, re.ASCII):
        return months[2], int(months[1]), None
    if (roman := re.fullmatch(_ROMAN, plain, re.ASCII)) and roman[2] in _ROMANS:
        return roman[3], _ROMANS.index(roman[2]) + 1, int(roman[1])
    if (named := re.fullmatch(_NAMED, plain, re.ASCII)) and named[3] and (number := month_of(named[2])):
        return named[3], number, int(named[1]) if named[1] else None
    if (named := re.fullmatch(_MONTH_FIRST, plain, re.ASCII)) and (number := month_of(named[1])):
        return named[3], number, int(named[2])
    return None


def weekday_of(word: str) -> int | None:
    """The number of the day of the week that a word in small letters begins, from 0 for Monday; None for others."""
    return next((at for at, name in enumerate(WEEKDAYS) if len(word) > 2 and name.startswith(word)), None)


def _on_weekday(number: int, rest: str, text: str, today: date, *, future: bool) -> TypedDate | Fault:
    """A date behind a day of the week, which has to be that of the date."""
    read = read_date(rest, today, future=future)
    if isinstance(read, Fault):
        return read._replace(said=text)
    if not read.is_day:
        return _fault("date-not-read", "A day of the week stands before one day.", "leave it out", text)
    is_day = date.fromisoformat(read.iso).weekday()
    if is_day != number:
        hint = "check the date, or leave the day of the week out"
        return _fault("weekday-differs", f"{read.iso} is a {WEEKDAYS[is_day].capitalize()}.", hint, text)
    return read._replace(typed=text)


def _not_read(plain: str, text: str, today: date) -> Fault:
    if month := bare_month(plain):
        hint = f"write it with its year:  {month.dated(today)}"
        return _fault("date-not-read", "This month has no year.", hint, text)
    return _fault(
        "date-not-read", "This is no date that can be read.", "write it as  2026-07-12  or  12 July 2026", text
    )


def _typed(year: int, month: int | None, day: int | None, text: str) -> TypedDate:
    if month is None:
        return TypedDate(f"{year:04}", text, None)
    if day is None:
        return TypedDate(f"{year:04}-{month:02}", text, third_of(month, 15))
    return TypedDate(f"{year:04}-{month:02}-{day:02}", text, third_of(month, day))


def read_day(text: str, today: date, *, future: bool = False) -> TypedDate | Fault:
    """Read a date that stands alone, as `read_date`; of one without its year that is said."""
    read = read_date(text, today, future=future)
    if not isinstance(read, Fault) or read.code != "date-not-read":
        return read
    found = bare_day(text.strip().casefold())
    if found is None:
        return read
    return _fault("year-missing", "This date has no year.", f"write  {year_lacking(*found, today)}", text)


def _fault(code: str, message: str, hint: str, said: str) -> Fault:
    return Fault(code, message, hint, said, typed=True)
