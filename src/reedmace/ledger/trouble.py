"""What SQLite complains of, told as faults with a remedy; and the transaction that writes all or nothing."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from reedmace.faults import Fault, Refused, Where

# The primary result codes of SQLite (the low byte of the extended ones).
_BUSY, _LOCKED, _READONLY, _IOERR, _CORRUPT, _FULL, _CANTOPEN, _NOTADB = 5, 6, 8, 10, 11, 13, 14, 26

_TOLD = {
    _BUSY: (
        "ledger-busy",
        "Another program has been writing to this ledger for too long.",
        "wait until it has finished, or close it, and try again; nothing was written",
    ),
    _READONLY: (
        "ledger-read-only",
        "This ledger, or the folder it is in, may not be written to.",
        "give yourself the right to write to both, or copy the ledger elsewhere; nothing was written",
    ),
    _IOERR: (
        "disk-trouble",
        "The disk would not read or write this ledger; it may be full, or not there any more.",
        "free some space, look after the disk, and try again; nothing was written",
    ),
    _FULL: (
        "disk-full",
        "There is no room left on the disk for this ledger.",
        "free some space and try again; nothing was written",
    ),
    _CORRUPT: (
        "ledger-damaged",
        "This ledger is damaged: parts of the file are not what was written.",
        "copy the file and those beside it (-wal, -shm) away untouched, then go back to your last backup",
    ),
    _CANTOPEN: (
        "ledger-cannot-open",
        "This ledger, or the files beside it, cannot be opened.",
        "look whether the file and its folder may be read and written by you",
    ),
    _NOTADB: (
        "not-a-ledger",
        "This file is not a ledger.",
        "give the path of a ledger, or of a new file to begin one; this file was left as it is",
    ),
}
_DAMAGE = (
    "no such",
    "Could not decode",
    "malformed",
    "error in tokenizer",
    "vtable constructor",
    "fts5:",
    "invalid fts5",
)
_TOLD[_LOCKED] = _TOLD[_BUSY]
# How a transaction begins, ends well and is undone; and a part of one.
_WHOLE = ("BEGIN IMMEDIATE", "COMMIT", ("ROLLBACK",))
_PART = ("SAVEPOINT part", "RELEASE part", ("ROLLBACK TO part", "RELEASE part"))


def fault(code: str, message: str, hint: str, path: str) -> Refused:
    """Make the refusal for a file."""
    return Refused(Fault(code, message, hint, where=Where(path)))


def read_only(path: str) -> Refused:
    """Make the refusal for a ledger that may not be written to."""
    return fault(*_TOLD[_READONLY], path)


def damaged(path: str, what: str) -> Refused:
    """Make the refusal for an entry whose body cannot be read."""
    code, _, hint = _TOLD[_CORRUPT]
    return fault(code, f"This ledger is damaged: {what}.", hint, path)


@contextmanager
def told(path: str) -> Iterator[None]:
    """Turn what SQLite complains of into a fault; our own bugs (constraints, bad SQL) pass through."""
    try:
        yield
    except sqlite3.Error as error:
        primary = getattr(error, "sqlite_errorcode", 0) & 0xFF
        # Our own questions are tested: a table that is gone, text that is no UTF-8, or an index of words that
        # cannot be set up, is damage to the file.
        if str(error).startswith(_DAMAGE):
            primary = _CORRUPT
        if primary not in _TOLD:
            raise
        raise fault(*_TOLD[primary], path) from error
    except UnicodeDecodeError as error:
        # SQLite quotes a broken schema in its complaint, and that may be no text at all.
        raise fault(*_TOLD[_CORRUPT], path) from error


@contextmanager
def writing(connection: sqlite3.Connection, path: str, *, keep: bool = True) -> Iterator[None]:
    """Write all of what happens inside, or nothing; nothing either way where it is not to be kept.

    On return the commit has been handed to the disk (WAL with synchronous=FULL syncs at every commit). Within
    another such writing it is a part of that, and on the disk when that is.
    """
    with told(path):
        begin, end, undo = _PART if connection.in_transaction else _WHOLE
        connection.execute(begin)
        try:
            yield
            for statement in (end,) if keep else undo:
                connection.execute(statement)
        except BaseException:
            # A failed write may have ended the transaction already.
            if connection.in_transaction:
                for statement in undo:
                    connection.execute(statement)
            raise
