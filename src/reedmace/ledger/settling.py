"""Where copies of a ledger said different things of one subject: the heads side by side, and one chosen to stand.

Of sightings and visits append.py knows more; here is what holds for every kind: sites, saved profiles, answers.
"""

from __future__ import annotations

import json
import sqlite3
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.ledger import append
from reedmace.ledger.append import NewId
from reedmace.ledger.entries import COLUMNS, INSERT, META, EntryMeta, Followed, Stamp, meta
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import damaged, told, writing


class Rival(NamedTuple):
    """One of several current entries of a subject, with its body."""

    meta: EntryMeta
    body: dict[str, Any]


def rivals(connection: sqlite3.Connection, path: str, subject: str, kind: str) -> tuple[Rival, ...]:
    """Give the current entries of a subject; the first is the one that stands until somebody decides."""
    sql = (
        f"SELECT {META}, body FROM head WHERE subject = ? AND kind = ?"  # noqa: S608  (constants)
        " ORDER BY written_at DESC, entry_id DESC"
    )
    with told(path):
        rows = connection.execute(sql, (subject, kind)).fetchall()
    found = []
    for *columns, body in rows:
        read = json.loads(body)
        if not isinstance(read, dict):
            raise damaged(path, f"the entry {columns[0]} cannot be read")
        found.append(Rival(meta(columns, diverged=len(rows) > 1), read))
    return tuple(found)


def ended(connection: sqlite3.Connection, path: str, subject: str) -> dict[str, tuple[str, ...]]:
    """Give the entries of a subject that end further heads beside their parents, each with those heads."""
    sql = "SELECT entry_id, joins FROM entry WHERE subject = ? AND joins IS NOT NULL ORDER BY seq"
    with told(path):
        return {entry: tuple(json.loads(joins)) for entry, joins in connection.execute(sql, (subject,))}


def settle(connection: sqlite3.Connection, path: str, keep: str, stamp: Stamp, new_id: NewId) -> Followed:
    """Let the head `keep` stand, by an entry that says the same, follows it and ends the others.

    Where the words were in the reason, as in an answer to a query, they are kept.
    """
    with told(path):
        row = connection.execute("SELECT kind, subject FROM head WHERE entry_id = ?", (keep,)).fetchone()
    if row is None or row[0] in ("visit", "sighting"):
        return append.settle(connection, path, keep, stamp, new_id)
    kind, subject = row
    with writing(connection, path):
        must_know(connection, [stamp.by])
        heads = [one.meta.entry_id for one in rivals(connection, path, subject, kind)]
        if len(heads) < 2 or keep not in heads:
            hint = "leave it; nothing was written"
            raise Refused(Fault("not-diverged", "Here is nothing to decide.", hint, subject))
        sql = f"SELECT {', '.join(COLUMNS)} FROM entry WHERE entry_id = ?"  # noqa: S608  (constants)
        entry = dict(zip(COLUMNS, connection.execute(sql, (keep,)).fetchone(), strict=True))
        new = new_id()
        entry |= {
            "entry_id": new,
            "parent": keep,
            "act": "amended" if entry["act"] == "recorded" else entry["act"],
            "reason": entry["reason"] if entry["act"] == "answered" else stamp.reason,
            '"by"': stamp.by,
            "written_at": stamp.written_at,
            "joins": json.dumps([head for head in heads if head != keep], separators=(",", ":")),
        }
        connection.execute(INSERT, tuple(entry[column] for column in COLUMNS))
        return Followed(subject, new)
