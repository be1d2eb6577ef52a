"""Dates with the month before the day: where a heading says so, or cells show it and somebody confirms it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from reedmace.faults import Fault

FIELD = "date_month_first"
_HEADED = re.compile(r"(?<![a-z])mm?\W?dd?\W?y{1,4}(?![a-z])|month\W{1,3}day\W{1,3}year", re.ASCII | re.IGNORECASE)
# Two numbers and a year behind them, which may be short: 07/25/2026, 7-25-26. No part of a longer row of numbers.
_IN_NUMBERS = re.compile(
    r"(?<![0-9./-])([0-9]{1,2})([./-])([0-9]{1,2})(?=\2(?:[0-9]{4}|[0-9]{2})(?![0-9./-]))", re.ASCII
)
_MONTHS = 12


def says_month_first(heading: str) -> bool:
    """Say whether a heading tells that the month comes first: `Date (mm/dd/yyyy)`."""
    return _HEADED.search(heading) is not None


def day_first(fields: dict[str, str]) -> None:
    """Put the dates of a row, in which the month comes first, into the order of all others, in place.

    What was typed is kept. A date that cannot be turned stays where it is, for the reader of dates to tell.
    """
    for field, into in ((FIELD, "date"), ("date_to", "date_to"), ("determined_on", "determined_on")):
        if (cell := fields.get(field)) is None or any(month > _MONTHS for month, _ in in_figures(cell)):
            continue
        fields[into] = put_day_first(cell)
        if field == FIELD:
            del fields[FIELD]
            if fields[into] != cell:
                fields.setdefault("date_typed", cell)


def impossible(cell: str) -> Fault:
    """Say of a cell whose month is none that there the month comes first."""
    month = next((month for month, _ in in_figures(cell) if month > _MONTHS), 0)
    hint = "the month comes first in this column:  7/25/2026  is 25 July; write such a day as  2026-07-25"
    return Fault("impossible-date", f"There is no month {month}.", hint, cell)


def order_unclear(
    columns: Sequence[tuple[str, str | None]], sample: Sequence[Sequence[str]], places: Sequence[str]
) -> Fault | None:
    """Ask which comes first, where a column of dates has one that can only be month first, and none day first.

    `columns` are headings with what they mean, `places` the headings in the order of the cells of `sample`.
    """
    meant = dict(columns)
    for at, heading in enumerate(places):
        if meant.get(heading) != "date":
            continue
        cells = [(row[at], pair) for row in sample if at < len(row) for pair in in_figures(row[at])]
        shown = next((cell for cell, (one, other) in cells if one <= _MONTHS < other), None)
        if shown is not None and not any(other <= _MONTHS < one for _, (one, other) in cells):
            why = f'Under "{heading}", {shown.strip()} can only be read with the month first, and no other date there '
            why += "tells which comes first."
            hint = f'say which:  --map "{heading}=date-month-first"  or  --map "{heading}=date"  for the day first'
            return Fault("date-order-unclear", why, hint, heading, typed=True)
    return None


def put_day_first(cell: str) -> str:
    """Put the dates of a cell in which the month comes first into the order of all others, as far as they are any."""
    if any(month > _MONTHS for month, _ in in_figures(cell)):
        return cell
    return _IN_NUMBERS.sub(r"\3\2\1", cell)


def in_figures(cell: str) -> Iterator[tuple[int, int]]:
    """Give the two numbers before each year of a cell."""
    return ((int(found[1]), int(found[3])) for found in _IN_NUMBERS.finditer(cell))
