"""Bringing the entries of another ledger into this one.

The set of entry ids is the ledger, so merging is a union: doing it twice, or the other way round, gives the same.
Entries that are in both are one, without the names that were taken out of either (redacted_both.py). Where both went
on from the same entry in different ways, both stay, as two heads, until somebody decides. People come along by id and
name; contact details stay where they are. Where a name went, the file is written anew, so that no page keeps it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger import current, forget, redact, register_names, schema
from reedmace.ledger.copies import looked_into
from reedmace.ledger.entries import COLUMNS, INSERT
from reedmace.ledger.redacted_both import together
from reedmace.ledger.trouble import told, writing

Progress = Callable[[int], None]
_SUBJECT = COLUMNS.index("subject")
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
    with told(path):
        connection.execute("PRAGMA secure_delete = ON")
    with looked_into(other) as theirs, writing(connection, path):
        known = _forgotten(connection)
        people, cleaned = _people(connection, theirs)
        called = register_names.renamed_in_either(connection, theirs)
        # Who was forgotten in either copy is forgotten in both, out of the words of entries too.
        without, theirs_without = redact.marked(connection), redact.marked(theirs)
        new = there = redacted = 0
        visits = []
        sql = f"SELECT {', '.join(COLUMNS)} FROM entry ORDER BY seq"  # noqa: S608  (constants)
        with told(other):
            for row in theirs.execute(sql):
                entry = (*row[:_SUBJECT], called.get(row[_SUBJECT], row[_SUBJECT]), *row[_SUBJECT + 1 :])
                ours = connection.execute(_SAME, (entry[0],)).fetchone()
                if ours is None:
                    connection.execute(INSERT, entry)
                    new += 1
                    if entry[0] in theirs_without or entry != row:
                        redact.mark(connection, entry[0])
                    if entry[2] == "visit" and entry[1] is None:
                        visits.append(entry[3])
                else:
                    redacted += _in_both(
                        connection, ours, entry, entry[0] in without, entry[0] in theirs_without, other
                    )
                    there += 1
                if (new + there) % _EVERY == 0:
                    progress(new + there)
        if redacted:
            for statement in schema.RELIST:
                connection.execute(statement)
        diverged = tuple(subject for subject, _ in current.diverged(connection, path))
        names_went = redacted or cleaned or called or _forgotten(connection) > known
    if names_went:
        with told(path):
            forget.rewrite(connection, path)
    return Merged(new, there, people, tuple(visits), diverged)


def _forgotten(connection: sqlite3.Connection) -> int:
    count: int = connection.execute("SELECT count(*) FROM person WHERE forgotten").fetchone()[0]
    return count


def _in_both(
    connection: sqlite3.Connection,
    ours: tuple[Any, ...],
    theirs: tuple[Any, ...],
    ours_redacted: bool,
    theirs_redacted: bool,
    other: str,
) -> bool:
    """Let what either copy took out of an entry be out of ours; gives whether that changed it."""
    if ours == theirs:
        if theirs_redacted:
            redact.mark(connection, theirs[0])
        return False
    both = together(ours, theirs, ours_redacted, theirs_redacted) if ours_redacted or theirs_redacted else None
    if both is None:
        raise Refused(_differs(theirs[0], other))
    kind, reason, body = (ours[COLUMNS.index(column)] for column in ("kind", "reason", "body"))
    if both == (reason, body):
        return False
    redact.rewrite(connection, theirs[0], kind, *both)
    return True


_SAME = f"SELECT {', '.join(COLUMNS)} FROM entry WHERE entry_id = ?"  # noqa: S608  (constants)


def _people(connection: sqlite3.Connection, theirs: sqlite3.Connection) -> tuple[int, int]:
    """Take over the register; gives how many are new, and how many names lost a part that either copy took out.

    Who was forgotten in either stays forgotten in both.
    """
    before: int = connection.execute("SELECT count(*) FROM person").fetchone()[0]
    cleaned = _cleaned(connection, theirs)
    for person in theirs.execute("SELECT id, name, name_key, forgotten FROM person ORDER BY id"):
        connection.execute(
            "INSERT INTO person (id, name, name_key, forgotten) VALUES (?, ?, ?, ?)"
            " ON CONFLICT (id) DO UPDATE SET name = excluded.name, name_key = excluded.name_key, contact = '',"
            " forgotten = 1 WHERE excluded.forgotten AND NOT person.forgotten",
            person,
        )
    after: int = connection.execute("SELECT count(*) FROM person").fetchone()[0]
    return after - before, cleaned


def _cleaned(connection: sqlite3.Connection, theirs: sqlite3.Connection) -> int:
    """Let names of several people hold who stands in both copies only, where one of them lost a part."""
    asked = "SELECT id, name FROM person WHERE NOT forgotten"
    ours = dict(connection.execute(asked))
    marks = redact.marked(connection) | redact.marked(theirs)
    count = 0
    for person, name in theirs.execute(asked):
        if person not in marks:
            continue
        left = register_names.left_of_both(ours.get(person, name), name)
        if person in ours and left != ours[person]:
            register_names.put(connection, person, left)
            count += 1
        else:
            redact.mark(connection, person)
    return count


def _differs(entry_id: str, other: str) -> Fault:
    return Fault(
        "entry-differs",
        "An entry is in both ledgers under one id, but does not say the same: one file was changed outside reedmace.",
        "look at both with  reedmace ledger audit  and merge from a backup; nothing was written",
        entry_id,
        Where(other),
    )
