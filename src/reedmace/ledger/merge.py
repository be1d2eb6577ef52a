"""Bringing the entries of another ledger into this one.

The set of entry ids is the ledger, so merging is a union: doing it twice, or the other way round, gives the same.
Entries that are in both are one. Where both went on from the same entry in different ways, both stay, as two
heads, until somebody decides. People come along by id and name; contact details stay where they are.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import NamedTuple

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger import current, redact, schema
from reedmace.ledger.copies import looked_into
from reedmace.ledger.entries import COLUMNS, INSERT
from reedmace.ledger.trouble import told, writing

Progress = Callable[[int], None]
_EVERY = 1000  # entries between two reports of progress


class Merged(NamedTuple):
    """What merging did: entries taken over, entries that were here already, people new here.

    `visits` are the ids of visits that are new here, `diverged` the subjects that have to be decided on now.
    """

    new: int
    there: int
    people: int
    visits: tuple[str, ...]
    diverged: tuple[str, ...]


def merge(connection: sqlite3.Connection, path: str, other: str, progress: Progress) -> Merged:
    """Take over what another ledger holds, all or nothing; the other is only read.

    Raises `Refused` where an entry of the same id says something else there: one of the two files was changed
    outside reedmace.
    """
    with looked_into(other) as theirs, writing(connection, path):
        people = _people(connection, theirs)
        # Who was forgotten in either copy is forgotten in both, out of the words of entries too.
        without, theirs_without = redact.marked(connection), redact.marked(theirs)
        new = there = redacted = 0
        visits = []
        sql = f"SELECT {', '.join(COLUMNS)} FROM entry ORDER BY seq"  # noqa: S608  (constants)
        with told(other):
            for entry in theirs.execute(sql):
                ours = connection.execute(_SAME, (entry[0],)).fetchone()
                if ours is None:
                    connection.execute(INSERT, entry)
                    new += 1
                    if entry[0] in theirs_without:
                        redact.mark(connection, entry[0])
                    if entry[2] == "visit" and entry[1] is None:
                        visits.append(entry[3])
                elif ours == entry or (entry[0] in without and entry[0] not in theirs_without):
                    there += 1
                elif entry[0] in theirs_without and entry[0] not in without:
                    redact.take_over(connection, entry)
                    redacted += 1
                    there += 1
                else:
                    raise Refused(_differs(entry[0], other))
                if (new + there) % _EVERY == 0:
                    progress(new + there)
        if redacted:
            for statement in schema.RELIST:
                connection.execute(statement)
        diverged = tuple(subject for subject, _ in current.diverged(connection, path))
    return Merged(new, there, people, tuple(visits), diverged)


_SAME = f"SELECT {', '.join(COLUMNS)} FROM entry WHERE entry_id = ?"  # noqa: S608  (constants)


def _people(connection: sqlite3.Connection, theirs: sqlite3.Connection) -> int:
    """Take over the register. Who was forgotten in either stays forgotten in both."""
    before: int = connection.execute("SELECT count(*) FROM person").fetchone()[0]
    for person in theirs.execute("SELECT id, name, name_key, forgotten FROM person ORDER BY id"):
        connection.execute(
            "INSERT INTO person (id, name, name_key, forgotten) VALUES (?, ?, ?, ?)"
            " ON CONFLICT (id) DO UPDATE SET name = excluded.name, name_key = excluded.name_key, contact = '',"
            " forgotten = 1 WHERE excluded.forgotten AND NOT person.forgotten",
            person,
        )
    after: int = connection.execute("SELECT count(*) FROM person").fetchone()[0]
    return after - before


def _differs(entry_id: str, other: str) -> Fault:
    return Fault(
        "entry-differs",
        "An entry is in both ledgers under one id, but does not say the same: one file was changed outside reedmace.",
        "look at both with  reedmace ledger audit  and merge from a backup; nothing was written",
        entry_id,
        Where(other),
    )
