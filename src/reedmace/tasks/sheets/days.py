"""The date of a row from the columns that give it: one cell, a first and a last day, or year, month and day apart."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from reedmace.faults import Fault
from reedmace.records import span
from reedmace.tasks.sheets.numbers import day_of
from reedmace.tasks.sheets.values import read_day

_SHORT = re.compile(r"['’]?([0-9]{2})", re.ASCII)
_WHOLE = re.compile(r"([0-9]+)\.0+", re.ASCII)


def in_one_cell(fields: dict[str, str], today: date, century: int | None, *, numbers: bool) -> None:
    """Put a first and a last day that stand in two columns into one date, in place.

    Where one does not read it is left alone there, for the reader of dates to tell. `numbers` says that dates are a
    spreadsheet's numbers.
    """
    last = fields.pop("date_to", "").strip()
    first = fields.get("date", "").strip() or of_parts(fields, century)
    if not (first and last) or first == last:
        return
    fields["date_typed"] = f"{first} to {last}"
    one, other = (read_day((numbers and day_of(text)) or text, today, century) for text in (first, last))
    if isinstance(one, Fault) or isinstance(other, Fault):
        fields["date"] = first if isinstance(one, Fault) else last
    else:
        fields["date"] = one if one == other else f"{_end(one, 0)}/{_end(other, -1)}"


def of_parts(fields: dict[str, str], century: int | None) -> str:
    """Write day, month and year of columns of their own as one date; blank without a year.

    A year of two digits stands behind the others, so that it cannot be taken for a day.
    """
    day, month, year = (_WHOLE.sub(r"\1", fields.get(part, "").strip()) for part in ("day", "month", "year"))
    if not year:
        return ""
    short = _SHORT.fullmatch(year)
    if short and century is None:
        return (
            "/".join((day or "1", month or "1", short[1])) if not month.isalpha() else f"{day or 1} {month} {short[1]}"
        )
    year = str(century + int(short[1])) if short and century else year
    if month.isalpha():
        return " ".join(filter(None, (day, month, year)))
    return "-".join(filter(None, (year, month.zfill(2) if month else "", day.zfill(2) if month and day else "")))


def _end(iso: str, which: int) -> str:
    """Give one end of a date that may be an interval itself."""
    return iso.split("/")[which]


def turned(fields: Mapping[str, str]) -> Fault | None:
    """Say that a date ends before it begins."""
    text = fields.get("date", "")
    first, stroke, last = text.partition("/")
    if stroke and re.match(r"[0-9]{4}", first) and span(text) is None and span(first) and span(last):
        why = f"The first day, {first}, is later than the last, {last}."
        return Fault("dates-turned", why, "correct one of them", fields.get("date_typed") or text)
    return None
