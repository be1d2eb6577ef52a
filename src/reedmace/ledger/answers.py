"""Queries that were answered: entries like any other, so that an answer is dated, signed and never lost."""

from __future__ import annotations

import json
import sqlite3
from typing import NamedTuple

from reedmace.ledger.append import NewId
from reedmace.ledger.entries import Stamp
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import damaged, told, writing

# A county recorder's offer is a question about a record too; declining it is an answer under this code.
_OFFER = "offer-declined:"


class Answer(NamedTuple):
    """One query answered: the sighting's id, the query's code, the record's digest on that day, and the answer.

    `by` is a person id, `written_at` UTC.
    """

    sighting: str
    code: str
    digest: str
    reason: str
    by: str
    written_at: str


def put(
    connection: sqlite3.Connection, path: str, sighting: str, code: str, digest: str, stamp: Stamp, new_id: NewId
) -> str:
    """Write an answer after the one there may be already; gives the new entry's id."""
    subject = f"{sighting}#{code}"
    body = json.dumps({"sighting": sighting, "code": code, "digest": digest}, ensure_ascii=False)
    with writing(connection, path):
        must_know(connection, [stamp.by])
        row = connection.execute(
            "SELECT entry_id FROM standing WHERE subject = ? AND kind = 'query'", (subject,)
        ).fetchone()
        entry_id = new_id()
        connection.execute(
            'INSERT INTO entry (entry_id, parent, kind, subject, act, reason, "by", written_at, body)'
            " VALUES (?, ?, 'query', ?, ?, ?, ?, ?, ?)",
            (entry_id, row and row[0], subject, stamp.act, stamp.reason, stamp.by, stamp.written_at, body),
        )
        return entry_id


def of_offer(reply: str) -> str:
    """Give the code under which it stands that what a county recorder's answer offered was declined."""
    return f"{_OFFER}{reply}"


def standing(connection: sqlite3.Connection, path: str) -> list[Answer]:
    """Give every answer to a query as it stands, the oldest first."""
    return [one for one in _standing(connection, path) if not one.code.startswith(_OFFER)]


def declined(connection: sqlite3.Connection, path: str) -> dict[str, Answer]:
    """Give every offer that was declined, by the entry id of the county recorder's answer."""
    return {one.code.removeprefix(_OFFER): one for one in _standing(connection, path) if one.code.startswith(_OFFER)}


def _standing(connection: sqlite3.Connection, path: str) -> list[Answer]:
    sql = """SELECT entry_id, body, reason, "by", written_at FROM standing
             WHERE kind = 'query' AND act = 'answered' ORDER BY written_at, entry_id"""
    with told(path):
        rows = connection.execute(sql).fetchall()
    found = []
    for entry_id, body, *rest in rows:
        try:
            kept = json.loads(body)
            found.append(Answer(str(kept["sighting"]), str(kept["code"]), str(kept["digest"]), *rest))
        except (ValueError, KeyError, TypeError) as error:
            raise damaged(path, f"the entry {entry_id} cannot be read") from error
    return found
