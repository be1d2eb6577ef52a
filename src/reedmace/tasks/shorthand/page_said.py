"""A page of field notes as it was understood, and what reading one needs besides the page."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, Where
from reedmace.keys.model import Key
from reedmace.records import Site
from reedmace.tasks.shorthand.line import Line
from reedmace.tasks.shorthand.visit_said import VisitSaid

# What a line of a page is asked again with, once it is a fault: the corrected reading, or None to leave it a fault.
Ask = Callable[[str, Fault], Line | None]


class SeenLine(NamedTuple):
    """A line of a visit, and the spot it stands under (None where that is the visit's own place)."""

    line: Line
    number: int
    spot: VisitSaid | None = None


class PageVisit(NamedTuple):
    """One visit of a page. `said` is None where the page has no line for it; `notes` are remarks on their own lines."""

    said: VisitSaid | None
    lines: tuple[SeenLine, ...] = ()
    notes: tuple[str, ...] = ()
    number: int = 1


class Reading(NamedTuple):
    """What reading a page needs besides the page.

    `source` is what a fault calls the page; `typed` says that it was typed just now rather than stored in a file;
    `now` is the local time `HH:MM`.
    """

    key: Key
    source: str
    today: date
    now: str = ""
    sites: Sequence[Site] = ()
    typed: bool = True
    ask: Ask | None = None


def placed(fault: Fault, reading: Reading, number: int, text: str) -> Fault:
    """A fault of a line as a fault of its page."""
    column, width = (fault.where.column, fault.where.width) if fault.where else (None, 1)
    return fault._replace(where=Where(reading.source, number, column, text, width), typed=reading.typed)
