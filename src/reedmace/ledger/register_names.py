"""A forgotten name inside what is not the person's own row: further rows of the register, and names of saved mappings.

A sheet can bring a row of the register that names two people, and somebody can save a mapping under a person's name.
A row loses the part that is the name, and keeps the rest. A mapping gets a name that says nothing, worked out from
the id of its first entry, so that it is the same in every copy of the ledger. Both are marked in `redacted`.
"""

from __future__ import annotations

import re
import sqlite3
from typing import NamedTuple

from reedmace.ledger import redact
from reedmace.ledger.people import Person, name_key

REMOVED = "name removed"  # in place of the whole name of a person
_PARTED = re.compile(r"(\s*(?:[,;&/+]|\band\b)\s*)", re.IGNORECASE)
_SAVED = "profile:"
_NEUTRAL = re.compile(rf"{_SAVED}mapping-[0-9a-z]{{8}}")


class Renamed(NamedTuple):
    """A saved mapping that was named after somebody, and the name it has now."""

    was: str
    now: str


def holding(connection: sqlite3.Connection, wanted: re.Pattern[str]) -> tuple[Person, ...]:
    """Give the people whose names hold what is wanted."""
    rows = connection.execute("SELECT id, name FROM person WHERE NOT forgotten ORDER BY name_key, id")
    return tuple(Person(person, name) for person, name in rows if wanted.search(name))


def clean(connection: sqlite3.Connection, wanted: re.Pattern[str]) -> tuple[Person, ...]:
    """Take a name out of every row that holds it, in a transaction that is open; gives the rows as they are now."""
    cleaned = []
    for person in holding(connection, wanted):
        left = without(person.name, wanted)
        put(connection, person.id, left)
        cleaned.append(Person(person.id, left or REMOVED, forgotten=not left))
    return tuple(cleaned)


def put(connection: sqlite3.Connection, person: str, left: str) -> None:
    """Write what is left of a person's name; where nothing is, the person is forgotten."""
    connection.execute(
        "UPDATE person SET name = ?, name_key = ?, forgotten = ?, contact = iif(?, contact, '') WHERE id = ?",
        (left or REMOVED, name_key(left), not left, bool(left), person),
    )
    if not left:
        connection.execute("DELETE FROM setting WHERE name = 'me' AND value = ?", (person,))
    redact.mark(connection, person)


def without(name: str, wanted: re.Pattern[str]) -> str:
    """Give a name without the people in it that are wanted; empty where nobody is left."""
    taken = wanted.sub("\0", name)
    left = ""
    before = ""
    for number, part in enumerate(_PARTED.split(taken)):
        if number % 2:
            before = part
        elif re.search(r"\w", part.replace("\0", "")):
            left += (before if left else "") + part
    return left.replace("\0", redact.REMOVED).strip()


def left_of_both(one: str, other: str) -> str:
    """Give who stands in both of two names that one row has in two copies; empty where nobody does."""
    there = {name_key(part) for part in _PARTED.split(other)[::2]}
    parts = _PARTED.split(one)
    left = ""
    for number in range(0, len(parts), 2):
        if name_key(parts[number]) in there:
            left += (parts[number - 1] if left else "") + parts[number]
    return left


def mappings(connection: sqlite3.Connection, wanted: re.Pattern[str]) -> tuple[str, ...]:
    """Give the names of saved mappings that hold what is wanted, as a subject holds them."""
    rows = connection.execute("SELECT DISTINCT subject FROM entry WHERE kind = 'profile' ORDER BY subject")
    names = (subject.removeprefix(_SAVED) for (subject,) in rows if subject.startswith(_SAVED))
    return tuple(name for name in names if wanted.search(name))


def rename(connection: sqlite3.Connection, wanted: re.Pattern[str]) -> tuple[Renamed, ...]:
    """Give saved mappings names that say nothing, in a transaction that is open."""
    renamed = []
    for name in mappings(connection, wanted):
        first = "SELECT min(entry_id) FROM entry WHERE kind = 'profile' AND subject = ? AND parent IS NULL"
        root = connection.execute(first, (_SAVED + name,)).fetchone()[0]
        now = "mapping-" + re.sub(r"[^0-9a-z]", "", root.casefold())[-8:].rjust(8, "0")
        _move(connection, _SAVED + name, _SAVED + now)
        renamed.append(Renamed(name, now))
    return tuple(renamed)


def _move(connection: sqlite3.Connection, was: str, now: str) -> None:
    for (entry_id,) in connection.execute(
        "SELECT entry_id FROM entry WHERE kind = 'profile' AND subject = ?", (was,)
    ).fetchall():
        redact.mark(connection, entry_id)
    with redact.unguarded(connection):
        connection.execute("UPDATE entry SET subject = ? WHERE kind = 'profile' AND subject = ?", (now, was))


def renamed_in_either(connection: sqlite3.Connection, theirs: sqlite3.Connection) -> dict[str, str]:
    """Rename ours where the other copy did, in a transaction that is open.

    Gives what subjects were called, in either copy, and what they are called now.
    """
    asked = "SELECT entry_id, subject FROM entry WHERE kind = 'profile'"
    ours = dict(connection.execute(asked))
    marks = redact.marked(connection) | redact.marked(theirs)
    called: dict[str, str] = {}
    for entry_id, subject in theirs.execute(asked):
        here = ours.get(entry_id, subject)
        now = min(here, subject, key=lambda one: (_NEUTRAL.fullmatch(one) is None, one))
        if here == subject or entry_id not in marks or _NEUTRAL.fullmatch(now) is None:
            continue
        called |= {name: now for name in (here, subject) if name != now}
        if here != now:
            _move(connection, here, now)
            ours = {entry: now if name == here else name for entry, name in ours.items()}
    return called
