"""A small pond's worth of records, ids that count up, and helpers shared by the ledger's tests."""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

import pytest

import reedmace
from reedmace.faults import Refused
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit

NOON = "2026-06-14T12:00:00Z"
LATER = "2026-06-14T13:00:00Z"


def counting(start: int = 1, mark: str = "0") -> Callable[[], str]:
    """Give a source of ids in the form of UUIDs that counts up."""
    numbers = count(start)
    return lambda: f"{mark * 8}-0000-4000-8000-{next(numbers):012}"


@contextmanager
def begun(path: Path, new_id: Callable[[], str] | None = None) -> Iterator[tuple[Ledger, str, Callable[[], str]]]:
    """Begin (or open) a ledger kept by Ada Marsh; gives ledger, her id, and a source of ids."""
    mint = new_id or counting()
    with open_ledger(path) as ledger:
        ada = ledger.people.register("Ada Marsh", mint)
        ledger.people.set_me(ada)
        yield ledger, ada, mint


def visit(number: int, observer: str, **more: object) -> Visit:
    """Make a visit to Withy Pond in June."""
    made = Visit(
        f"v{number}",
        date=f"2026-06-{number:02}",
        place=PlaceRecord(typed="TQ 33 80", system="GB", square="TQ3380", side_m=1000, locality="Withy Pond"),
        observers=(observer,),
    )
    return made._replace(**more)


def sighting(name: str, visit_id: str, scientific: str = "Aeshna mixta", **more: object) -> Sighting:
    """Make a sighting on a visit; its line is its own unless said otherwise."""
    word = name.replace(" ", "-")
    made = Sighting(f"s-{word}", f"l-{word}", visit_id, Taxon(scientific, typed=name), typed=name)
    return made._replace(**more)


@contextmanager
def refused(*codes: str) -> Iterator[pytest.ExceptionInfo[Refused]]:
    """Expect a refusal with these fault codes, each with a message and a remedy."""
    with pytest.raises(Refused) as caught:
        yield caught
    assert [fault.code for fault in caught.value.faults] == list(codes)
    assert all(fault.message and fault.hint for fault in caught.value.faults)


@contextmanager
def raw(path: Path) -> Iterator[sqlite3.Connection]:
    """Open the file as any other program would, past all our code."""
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        yield connection
    finally:
        connection.close()


def rows(path: Path) -> list[tuple[object, ...]]:
    """Give every column of every entry, by `seq`."""
    with raw(path) as connection:
        return connection.execute("SELECT * FROM entry ORDER BY seq").fetchall()


def healthy(path: Path) -> bool:
    """Say whether SQLite finds nothing wrong with the file."""
    with raw(path) as connection:
        return bool(connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)])


CHILD = Path(__file__).with_name("child.py")


def child_command(*arguments: object) -> tuple[list[str], dict[str, str]]:
    """Give the command and environment that run child.py in a process of its own, with the same package."""
    package = str(Path(reedmace.__file__).parent.parent)
    start = (
        f"import runpy, sys; sys.path.insert(0, {package!r});"
        f" sys.argv = {['child', *map(str, arguments)]!r}; "
        f"runpy.run_path({str(CHILD)!r}, run_name='__main__')"
    )
    return [sys.executable, "-c", start], {"PATH": "/usr/bin:/bin", "PYTHONDONTWRITEBYTECODE": "1"}
