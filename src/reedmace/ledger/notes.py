"""Notes: entries that are neither a visit nor a sighting, such as a column mapping kept under a name.

Like every entry a note is never changed; a later one of the same subject stands in its place.
"""

from __future__ import annotations

import json
import sqlite3
from typing import Any, NamedTuple

from reedmace.ledger.append import NewId
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import told, writing


class Note(NamedTuple):
    """One note: `kind` is the ledger's word (`profile`, `query`), `reason` is needed where one stands already."""

    kind: str
    subject: str
    body: dict[str, Any]
    reason: str = ""


def write(connection: sqlite3.Connection, path: str, note: Note, by: str, written_at: str, new_id: NewId) -> None:
    """Write a note. One that says what stands already is not written again.

    The names of its fields come in the order of the alphabet; what is within them stays in its own order, which may
    mean something: of the columns of a sheet it is the order in which they are sent.
    """
    body = json.dumps(dict(sorted(note.body.items())), ensure_ascii=False, separators=(",", ":"))
    heads = "SELECT entry_id, body FROM head WHERE kind = ? AND subject = ? ORDER BY written_at DESC, entry_id DESC"
    with writing(connection, path):
        must_know(connection, [by])
        there = connection.execute(heads, (note.kind, note.subject)).fetchall()
        if len(there) == 1 and there[0][1] == body:
            return
        parent = there[0][0] if there else None
        joins = json.dumps([entry_id for entry_id, _ in there[1:]]) if len(there) > 1 else None
        act = "amended" if there else "recorded"
        if there and note.kind == "query":
            act = "answered"
        connection.execute(
            'INSERT INTO entry (entry_id, parent, kind, subject, act, reason, "by", written_at, body, joins)'
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (new_id(), parent, note.kind, note.subject, act, note.reason, by, written_at, body, joins),
        )


def standing(connection: sqlite3.Connection, path: str, kind: str) -> dict[str, Note]:
    """Give the notes of one kind as they stand, by subject; raises `Refused` where one cannot be read."""
    sql = "SELECT subject, body, reason FROM standing WHERE kind = ? AND act <> 'withdrawn' ORDER BY subject"
    with told(path):
        rows = connection.execute(sql, (kind,)).fetchall()
    return {subject: Note(kind, subject, json.loads(body), reason) for subject, body, reason in rows}
