"""Submissions: what went to whom, when, and what they said of having received it.

A submission is one entry, written once. A receipt ("loaded 40 of 41") is an entry of a subject of its own, so that
two copies of the ledger may each take one without anything to decide when they are merged; it says nothing about
whether a record is right, which is verification.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Mapping
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.ledger.append import NewId
from reedmace.ledger.entries import Stamp
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import damaged, told, writing

WITHDRAWN = ""
"""What `sent` holds for a sighting whose withdrawal was told."""
BLURRED = "~"
"""What stands in `sent` behind the mark of a sighting of which the place was not told, as nobody else may see it."""


class Submission(NamedTuple):
    """One file that was made for a recipient.

    `recipient` is a person's id: the name stays where it can be forgotten. `profile` is the name of the export
    profile ("" for none) and `how` that profile as it was. `made_at` is UTC, `digest` the SHA-256 of the file,
    `rows` the number of its rows. `previous` is the id of the submission that this one goes on from, "" where it is
    complete in itself. `sent` gives for each sighting told of what was told: see `mark`.
    """

    id: str
    recipient: str
    profile: str
    made_at: str
    file_name: str
    format: str
    digest: str
    rows: int
    previous: str = ""
    sent: Mapping[str, str] = {}
    how: Mapping[str, Any] = {}


class Receipt(NamedTuple):
    """What a recipient said of having received a submission: how many of its rows were loaded, and a remark.

    `by` is the person who wrote it down, `written_at` when (UTC); `id` is the entry's.
    """

    submission: str
    loaded: int
    of: int
    note: str = ""
    by: str = ""
    written_at: str = ""
    id: str = ""


def mark(entry_id: str, visit_entry_id: str) -> str:
    """Give what stands in `sent` for a sighting as it stood: its entry and its visit's, as 16 hex digits."""
    return hashlib.sha256(f"{entry_id}\n{visit_entry_id}".encode()).hexdigest()[:16]


def put(connection: sqlite3.Connection, path: str, submission: Submission, by: str, new_id: NewId) -> None:
    """Write a submission; raises `Refused` where the recipient is not registered, or the id is there already."""
    body = {name: value for name, value in submission._asdict().items() if name not in ("id", "made_at")}
    with writing(connection, path):
        must_know(connection, [by, submission.recipient])
        there = "SELECT EXISTS (SELECT 1 FROM entry WHERE subject = ?)"
        if connection.execute(there, (submission.id,)).fetchone()[0]:
            said, hint = "A submission with this id is in the ledger.", "give the new one an id of its own"
            raise Refused(Fault("already-recorded", said, hint, submission.id))
        _insert(connection, submission.id, body, Stamp("recorded", "", by, submission.made_at), new_id())


def acknowledge(connection: sqlite3.Connection, path: str, receipt: Receipt, stamp: Stamp, new_id: NewId) -> str:
    """Keep a receipt beside its submission; gives the entry's id. The same one twice is written once.

    Raises `Refused` where there is no such submission, or more was loaded than was sent.
    """
    if not 0 <= receipt.loaded <= receipt.of:
        said, hint = f"{receipt.loaded} of {receipt.of} cannot be.", "give how many of how many rows were loaded"
        raise Refused(Fault("receipt-unfit", said, hint, f"{receipt.loaded} of {receipt.of}", typed=True))
    body = {"receipt": {"loaded": receipt.loaded, "of": receipt.of, "note": receipt.note}}
    with writing(connection, path):
        must_know(connection, [stamp.by])
        if not any(one.id == receipt.submission for one in standing(connection, path)):
            said, hint = "There is no submission with this id.", "see  reedmace export log  for what was sent"
            raise Refused(Fault("unknown-submission", said, hint, receipt.submission, typed=True))
        for one in receipts(connection, path, receipt.submission):
            if (one.loaded, one.of, one.note) == (receipt.loaded, receipt.of, receipt.note):
                return one.id
        entry_id = new_id()
        _insert(connection, f"{receipt.submission}#{entry_id}", body, stamp, entry_id)
        return entry_id


def standing(connection: sqlite3.Connection, path: str) -> list[Submission]:
    """Give every submission, the oldest first."""
    return [
        _submission(path, *row)
        for row in _rows(connection, path, "act = 'recorded' ORDER BY written_at, subject, entry_id")
    ]


def receipts(connection: sqlite3.Connection, path: str, submission: str | None = None) -> list[Receipt]:
    """Give the receipts of one submission, or all, the oldest first."""
    found = []
    for subject, entry_id, by, written_at, body in _rows(
        connection, path, "act = 'replied' ORDER BY written_at, entry_id"
    ):
        of = subject.partition("#")[0]
        if submission in (None, of):
            said = _body(path, entry_id, body).get("receipt")
            if not isinstance(said, dict) or not {"loaded", "of"} <= said.keys():
                raise damaged(path, f"the entry {entry_id} cannot be read")
            found.append(Receipt(of, said["loaded"], said["of"], said.get("note", ""), by, written_at, entry_id))
    return found


def _rows(connection: sqlite3.Connection, path: str, which: str) -> list[tuple[str, str, str, str, str]]:
    sql = f"""SELECT subject, entry_id, "by", written_at, body FROM entry WHERE kind = 'submission' AND {which}"""  # noqa: S608  (constants)
    with told(path):
        return connection.execute(sql).fetchall()


def _submission(path: str, subject: str, entry_id: str, _: str, written_at: str, body: str) -> Submission:
    kept = _body(path, entry_id, body)
    try:
        return Submission(subject, made_at=written_at, **kept)
    except TypeError as error:
        raise damaged(path, f"the entry {entry_id} cannot be read") from error


def _body(path: str, entry_id: str, body: str) -> dict[str, Any]:
    read = json.loads(body)
    if not isinstance(read, dict):
        raise damaged(path, f"the entry {entry_id} cannot be read")
    return read


def _insert(connection: sqlite3.Connection, subject: str, body: Mapping[str, Any], stamp: Stamp, entry_id: str) -> None:
    connection.execute(
        'INSERT INTO entry (entry_id, kind, subject, act, reason, "by", written_at, body)'
        " VALUES (?, 'submission', ?, ?, ?, ?, ?, ?)",
        (
            *(entry_id, subject, stamp.act, stamp.reason, stamp.by, stamp.written_at),
            json.dumps(body, ensure_ascii=False, separators=(",", ":")),
        ),
    )
