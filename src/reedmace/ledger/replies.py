"""The county recorder's answers: entries of their own, so that none overwrites what was said in the field."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.ledger.append import NewId
from reedmace.ledger.entries import Stamp
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import damaged, told, writing
from reedmace.records.verification import STATUSES, Verification


class Reply(NamedTuple):
    """One answer about one sighting, and what it offers to correct.

    `said` is status, verifier, date, remark and names. `offers` gives the corrections as the county recorder wrote
    them, by field (name, date, place, count, stage). `by` wrote it down at `written_at` (UTC); `id` is the entry's.
    """

    sighting: str
    said: Verification
    offers: Mapping[str, str] = {}
    by: str = ""
    written_at: str = ""
    id: str = ""


def put(
    connection: sqlite3.Connection, path: str, replies: Iterable[Reply], stamp: Stamp, new_id: NewId
) -> tuple[str, ...]:
    """Write answers, all or none; gives the entries' ids. Raises `Refused` for a sighting that is not there."""
    written = []
    with writing(connection, path):
        for reply in replies:
            if reply.said.status not in STATUSES:
                raise ValueError(f"{reply.said.status!r} is no status")
            must_know(connection, [stamp.by, reply.said.verifier])
            there = "SELECT EXISTS (SELECT 1 FROM entry WHERE subject = ? AND kind = 'sighting')"
            if not connection.execute(there, (reply.sighting,)).fetchone()[0]:
                hint = "list the ledger to see the ids"
                raise Refused(Fault("not-recorded", "There is nothing with this id.", hint, reply.sighting))
            entry_id = new_id()
            body = {"sighting": reply.sighting, **_filled(reply.said._asdict()), **_filled({"offers": reply.offers})}
            connection.execute(
                'INSERT INTO entry (entry_id, kind, subject, act, reason, "by", written_at, body)'
                " VALUES (?, 'reply', ?, ?, ?, ?, ?, ?)",
                (
                    *(entry_id, f"{reply.sighting}#{entry_id}", stamp.act, stamp.reason, stamp.by, stamp.written_at),
                    json.dumps(body, ensure_ascii=False, separators=(",", ":")),
                ),
            )
            written.append(entry_id)
    return tuple(written)


def of(connection: sqlite3.Connection, path: str, sighting: str) -> list[Reply]:
    """Give every answer about one sighting, in the order in which they were written down."""
    sql = """SELECT entry_id, "by", written_at, body FROM entry INDEXED BY entry_reply
             WHERE kind = 'reply' AND subject >= ? AND subject < ? ORDER BY written_at, entry_id"""
    with told(path):
        rows = connection.execute(sql, (f"{sighting}#", f"{sighting}$")).fetchall()
    found = [_reply(path, *row) for row in rows]
    return [reply for reply in found if reply.sighting == sighting]


def every(connection: sqlite3.Connection, path: str) -> list[Reply]:
    """Give every answer about any sighting, in the order in which they were written down."""
    sql = """SELECT entry_id, "by", written_at, body FROM entry INDEXED BY entry_reply
             WHERE kind = 'reply' ORDER BY written_at, entry_id"""
    with told(path):
        rows = connection.execute(sql).fetchall()
    return [_reply(path, *row) for row in rows]


def counts(connection: sqlite3.Connection, path: str, sighting: str) -> Verification | None:
    """Give the answer that counts for a sighting, the latest by the verifier's date; None where there is none."""
    sql = """SELECT e.entry_id, e."by", e.written_at, e.body
             FROM replied AS r JOIN entry AS e ON e.entry_id = r.entry_id WHERE r.subject = ?"""
    with told(path):
        row = connection.execute(sql, (sighting,)).fetchone()
    return None if row is None else _reply(path, *row).said


def counted(connection: sqlite3.Connection, path: str, sighting: str, until: str) -> Verification | None:
    """As `counts`, of what had been written down by a moment (UTC)."""
    found = [one for one in of(connection, path, sighting) if one.written_at <= until]
    last = max(found, key=lambda one: (one.said.date or one.written_at[:10], one.written_at, one.id), default=None)
    return last and last.said


def none(connection: sqlite3.Connection, path: str) -> bool:
    """Say whether nobody has answered anything yet, so that nothing need be looked up."""
    with told(path):
        return not connection.execute("SELECT EXISTS (SELECT 1 FROM replied)").fetchone()[0]


def _filled(fields: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value}


def _reply(path: str, entry_id: str, by: str, written_at: str, body: str) -> Reply:
    try:
        kept = json.loads(body)
        sighting, offers = kept.pop("sighting"), kept.pop("offers", {})
        return Reply(sighting, Verification(**kept), dict(offers), by, written_at, entry_id)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise damaged(path, f"the entry {entry_id} cannot be read") from error
