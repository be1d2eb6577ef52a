"""Dates in a file of answers: read to ISO 8601, and which of day and month comes first in the file."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.records import Visit
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.month_first import in_figures, put_day_first
from reedmace.tasks.sheets.numbers import day_of
from reedmace.tasks.sheets.values import read_day

FIELDS = ("date", "verified_on", "new_date")
MONTH_FIRST = "_month_first"  # behind one of FIELDS: in that column the month comes before the day
_MONTHS = 12
_CENTURIES = (2000, 1900)


def day_of_reply(text: str, today: date, year: int | None = None) -> str | Fault:
    """Read a date in a file of answers, which nobody can say the century of for the whole file.

    A year of two digits is that of the record (`year`) where it ends so, else the latest that is not to come. A
    spreadsheet's number of a day is that day.
    """
    day = read_day(day_of(text) or text, today, None)
    if not isinstance(day, Fault) or day.code != "two-digit-year":
        return day
    own = [year // 100 * 100] if year else []
    for century in (*own, *_CENTURIES):
        read = read_day(text, today, century)
        if not isinstance(read, Fault):
            return read
    return day._replace(hint="write the year in full")


def put_in_order(fields: dict[str, str]) -> None:
    """Put the dates of columns in which the month comes first into the order of all others, in place."""
    for field in FIELDS:
        if (cell := fields.pop(field + MONTH_FIRST, None)) is not None:
            fields[field] = put_day_first(cell)


def year_of(visit: Visit) -> int | None:
    """Give the year of a visit, None where it has no date."""
    return int(visit.date[:4]) if visit.date else None


class Order(NamedTuple):
    """What the cells of a file show of the order of day and month, each with one that shows it, "" for none.

    `month` can only be read with the month first, or is a date that was sent when it is; `day` with the day first.
    """

    month: str = ""
    day: str = ""


def order_of(cells: Iterable[tuple[str, frozenset[str]]]) -> Order:
    """Give what cells show; beside each stand the days on which the record was, by what was sent (ISO 8601)."""
    month = day = ""
    for text, days in cells:
        for one, other in in_figures(text):
            shown = _shown(text, one, other, days)
            month = month or (text if shown == "month" else "")
            day = day or (text if shown == "day" else "")
    return Order(month, day)


def _shown(text: str, one: int, other: int, days: frozenset[str]) -> str:
    """Say what the first number is, as far as the cell or the record tells."""
    if one > _MONTHS or other > _MONTHS:
        return "month" if other > _MONTHS >= one else "day" if one > _MONTHS >= other else ""
    endings = {day[5:10] for day in days}
    if one == other or not text or not endings:
        return ""
    as_day, as_month = f"{other:02}-{one:02}" in endings, f"{one:02}-{other:02}" in endings
    return "" if as_day == as_month else "day" if as_day else "month"


def order_unclear(mapping: ColumnMapping, order: Order) -> Fault | None:
    """Ask which comes first where cells show that the month may, and the columns do not say so."""
    dated = [(column, field) for column, field in mapping.columns if field in FIELDS]
    if not order.month or not dated or order.day:
        return None
    why = f"{order.month} can only be read with the month first, or is the date that was sent if it is."
    first, then = (
        " ".join(f'--map "{column}={(field + behind).replace("_", "-")}"' for column, field in dated)
        for behind in (MONTH_FIRST, "")
    )
    hint = f"say which comes first:  {first}  or, for the day,  {then}"
    return Fault("date-order-unclear", why, hint, order.month, typed=True)


def turned(text: str, day: str) -> bool:
    """Say whether a cell is this day with day and month the other way round, as spreadsheets turn some of a column."""
    year, month, of_month = day[:4], day[5:7], day[8:10]
    if month == of_month or len(day) != len("2026-07-12"):
        return False
    if text.strip()[:10] == f"{year}-{of_month}-{month}":
        return True
    return (int(month), int(of_month)) in in_figures(text) and text.strip()[-2:] == year[-2:]
