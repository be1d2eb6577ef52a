"""A cell of whoever named an insect: one name, and the year or day of the naming where that stands behind it."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.sheets.people import People, read_people

_SPLIT = re.compile(r"[\s,;:(\[]+")
_DET = re.compile(r"[\s,(]+det\.?$", re.IGNORECASE)
_ONE = "one person names a sighting: leave the one who did; others who saw it are observers"


class Determined(NamedTuple):
    """Who named it, None where nobody is named, and the day, month or year (ISO 8601), None where none is said."""

    name: str | None = None
    on: str | None = None


def read_determiner(text: str, me: str, read_day: Callable[[str], str | Fault]) -> Determined | Fault:
    """Read `Ben Sallow 2018`, `det. B. Sallow (2019)`, `Ben Sallow, 4 Nov 2018`; `me` is who keeps the sheet."""
    cell = " ".join(text.split())
    name, on = _day_behind(cell, read_day)
    if isinstance(on, Fault):
        return on._replace(said=cell)
    read = read_people(_DET.sub("", name), me)
    if isinstance(read, Fault):
        return read._replace(said=cell)
    if len(read.names) > 1 or (read.names and read.party):
        return Fault("two-determiners", "Several people are named here as those who named it.", _ONE, cell)
    if read.party or (on and read == People()):
        why = "Nobody is named here who could have named it."
        return Fault("people-not-read", why, "write the name of a person, or leave the cell empty", cell)
    return Determined(read.names[0] if read.names else None, on)


def _day_behind(cell: str, read_day: Callable[[str], str | Fault]) -> tuple[str, str | Fault | None]:
    """Part a day, month or year from the end of a cell: the longest end that is one."""
    if not any(sign.isdigit() for sign in cell):
        return cell, None
    unread: Fault | None = None
    for found in _SPLIT.finditer(cell):
        before, after = cell[: found.start()], cell[found.end() :].strip(" ,.;:()[]")
        if not any(sign.isdigit() for sign in after) or not any(sign.isalpha() for sign in before):
            continue
        # Behind a single word `May` is a surname.
        if after[0].isalpha() and not re.search(r"[\s.]", before):
            continue
        read = read_day(after)
        if not isinstance(read, Fault):
            return before, read
        if unread is None and read.code in ("two-digit-year", "date-in-future") and after[0].isdigit():
            unread = read
    return cell, unread
