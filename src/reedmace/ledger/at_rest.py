"""A ledger beside which nothing can be put, read from a copy of it as it stood at one moment.

SQLite would read such a file as one that cannot change. But it may be written to by somebody else, who has the right
to: whoever is reading then would be given parts of two states, or be told that a sound ledger is damaged.
"""

# ruff: noqa: PTH110, PTH116, PTH118

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
import tempfile
import time
from collections.abc import Callable

_TICK_NS = 50_000_000  # two changes within so little may leave the same time on a file


class _OfCopy(sqlite3.Connection):
    """A connection to a copy, which goes when it is closed, where it could not go before."""

    folder = ""

    def close(self) -> None:
        super().close()
        shutil.rmtree(self.folder, ignore_errors=True)


def read_from_copy(path: str, uri_of: Callable[[str], str]) -> sqlite3.Connection | None:
    """Give a connection that can only read a copy of a ledger; None where the ledger was not at rest.

    `uri_of` gives the URI by which a copy is opened.
    """
    folder = tempfile.mkdtemp(prefix="ledger-")
    connection: _OfCopy | None = None
    try:
        copy = os.path.join(folder, "copy")
        if not copied_at_rest(path, copy):
            return None
        connection = sqlite3.connect(uri_of(copy), uri=True, isolation_level=None, factory=_OfCopy)
        connection.folder = folder
        connection.execute("PRAGMA schema_version").fetchone()
        return connection
    finally:
        # Where the system lets a file go that is still read, nothing is left even by whoever is killed.
        if connection is None or os.name == "posix":
            shutil.rmtree(folder, ignore_errors=True)


def something_beside(path: str) -> bool:
    """Say whether something stands beside a ledger that belongs to it.

    Beside the file itself, where the path is a link to it: there others put what they write first.
    """
    file = os.path.realpath(path)
    return any(os.path.exists(f"{file}{end}") for end in ("-wal", "-journal"))


def copied_at_rest(path: str, copy: str) -> bool:
    """Copy the bytes of a ledger that nobody has open: reading it by SQLite would leave files beside it.

    False where something stands beside it, or where the file changed meanwhile.
    """
    try:
        before = os.stat(path)
        if not stat.S_ISREG(before.st_mode) or something_beside(path):
            return False
        if 0 <= time.time_ns() - before.st_mtime_ns < _TICK_NS:
            time.sleep(_TICK_NS / 1e9)
        shutil.copyfile(path, copy)
        after = os.stat(path)
    except OSError:
        return False  # said better by who opens it
    same = (before.st_ino, before.st_mtime_ns, before.st_size) == (after.st_ino, after.st_mtime_ns, after.st_size)
    return same and before.st_size > 0 and not something_beside(path)
