"""From a path to a connection: look before touching, begin a new ledger whole or not at all.

Paths are plain text here: importing pathlib would cost every command some 5 ms to start.
"""

# ruff: noqa: PTH100, PTH103, PTH110, PTH116, PTH118, PTH120, PTH123

from __future__ import annotations

import contextlib
import os
import sqlite3
import stat
import time
from collections.abc import Iterator

from reedmace.faults import Refused
from reedmace.ledger import schema
from reedmace.ledger.trouble import fault, read_only, told

_CACHE_KB = 65536  # taken only as far as it is used; a large ledger is several times faster for it
MAGIC = b"SQLite format 3\x00"
_TRIES = 5  # to open a ledger beside which we can put nothing while others write
_OLDEST_SQLITE = (3, 37, 0)  # the first with STRICT tables


def connect(path: str, create: bool, patience_s: float) -> sqlite3.Connection:
    """Open the ledger at `path`, waiting up to `patience_s` seconds for other writers.

    With `create`, a ledger is begun where there is none, with its folders. Raises `Refused` with a remedy
    where the path is a folder, no ledger, a newer one, unreadable, locked or damaged; that is left untouched.
    """
    if sqlite3.sqlite_version_info < _OLDEST_SQLITE:
        raise fault(
            "sqlite-too-old",
            f"This Python brings SQLite {sqlite3.sqlite_version}, but a ledger needs 3.37 or later.",
            "use a newer Python; nothing was written",
            path,
        )
    found = _look(path)
    if not found and not create:
        raise _no_ledger(path)
    missing = [] if found else _make_folders(path)
    with told(path):
        connection = _connection(path, "rw" if found else "rwc", patience_s, writing=create)
        try:
            version = _identify(connection, path, create)
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute(f"PRAGMA cache_size = -{_CACHE_KB}")
            _use_wal(connection, patience_s)
            if version < len(schema.STEPS):
                _can_search(connection, path)
                schema.upgrade(connection, schema.STEPS)
                for folder in (os.path.dirname(os.path.abspath(path)), *missing):
                    _sync_folder(folder)
        except BaseException:
            connection.close()
            raise
    return connection


@contextlib.contextmanager
def look_only(path: str) -> Iterator[sqlite3.Connection]:
    """Give a connection to a ledger that can only read it; raises `Refused` as `connect` does."""
    if not _look(path):
        raise _no_ledger(path)
    with told(path):
        connection = _connection(path, "ro", 30, writing=False)
        try:
            _identify(connection, path, create=False)
        except BaseException:
            connection.close()
            raise
    try:
        yield connection
    finally:
        connection.close()


def _connection(path: str, mode: str, patience_s: float, *, writing: bool) -> sqlite3.Connection:
    """Open the file; where nothing may be written beside it, a copy of it as it stands.

    A ledger needs files beside it, even to be read: without this, one on a write-protected stick, or in a folder that
    one may only look into, could not be read at all. Whoever is to write there learns at once that it cannot be.
    """
    tries = 0
    while True:
        connection = sqlite3.connect(_uri(path, mode), uri=True, isolation_level=None, timeout=patience_s)
        try:
            connection.execute("PRAGMA schema_version").fetchone()
        except sqlite3.OperationalError as error:
            connection.close()
            copy = _instead(path, error, writing=writing)
            if copy is not None:
                return copy
            tries += 1
            if tries == _TRIES:
                raise
            # Somebody is at it: in a moment it can be opened with what stands beside it, or is at rest again.
            time.sleep(0.1)
        except BaseException:
            connection.close()
            raise
        else:
            return connection


def _instead(path: str, error: sqlite3.OperationalError, *, writing: bool) -> sqlite3.Connection | None:
    """Give a connection to a copy of a file that could not be opened; None where it is not at rest.

    Raises what it was that could not be, where another reason than the folder is behind it.
    """
    from reedmace.ledger.at_rest import read_from_copy, something_beside  # hardly ever needed

    folder = os.path.dirname(os.path.realpath(path))
    if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY) or os.access(
        folder, os.W_OK
    ):
        raise error
    if writing and not something_beside(path):
        raise read_only(path) from error
    return None if writing else read_from_copy(path, lambda copy: f"{_uri(copy, 'ro')}&immutable=1")


def _look(path: str) -> bool:
    """Say whether there is a file to open; refuse what cannot be a ledger."""
    try:
        about = os.stat(path)
        if stat.S_ISDIR(about.st_mode):
            raise fault(
                "ledger-is-a-folder",
                "This path is a folder, not a ledger.",
                f"name a file in it, such as {os.path.join(path, 'sightings.reedmace')}",
                path,
            )
        if not stat.S_ISREG(about.st_mode):
            raise _not_a_ledger(path)
        if about.st_size == 0:
            return True
        with open(path, "rb") as file:
            if file.read(len(MAGIC)) != MAGIC:
                raise _not_a_ledger(path)
    except FileNotFoundError:
        return False
    except (OSError, ValueError) as error:
        raise _cannot_open(path, error) from error
    return True


def _uri(path: str, mode: str) -> str:
    """Give the URI of a file, with the signs escaped that mean something in one (SQLite's URI Filenames)."""
    plain = os.path.abspath(path).replace(os.sep, "/")
    for sign, escaped in (("%", "%25"), ("?", "%3f"), ("#", "%23")):
        plain = plain.replace(sign, escaped)
    return f"file://{'' if plain.startswith('/') else '/'}{plain}?mode={mode}"


def _make_folders(path: str) -> list[str]:
    """Make the folders above a new ledger; gives the folders that gained an entry by it."""
    gained = []
    wanted = folder = os.path.dirname(os.path.abspath(path))
    while not os.path.exists(folder) and folder != os.path.dirname(folder):
        folder = os.path.dirname(folder)
        gained.append(folder)
    try:
        os.makedirs(wanted, exist_ok=True)
    except OSError as error:
        raise _cannot_open(path, error) from error
    return gained


def _identify(connection: sqlite3.Connection, path: str, create: bool) -> int:
    """Give the version of a ledger; refuse what is none, or a newer one, before anything is set."""
    # One transaction, so that all three are of one moment while another process begins the ledger.
    connection.execute("BEGIN")
    application: int = connection.execute("PRAGMA application_id").fetchone()[0]
    version = schema.version(connection)
    empty = connection.execute("SELECT NOT EXISTS (SELECT 1 FROM sqlite_schema)").fetchone()[0]
    connection.execute("COMMIT")
    if application == schema.APPLICATION_ID:
        if version > len(schema.STEPS):
            raise fault(
                "ledger-too-new",
                f"This ledger has format {version}; this reedmace reads up to {len(schema.STEPS)}.",
                "upgrade reedmace; the ledger was left as it is",
                path,
            )
        return version
    # A file without a single table is what is left when the machine stops while a ledger is begun.
    if application or version or not empty:
        raise _not_a_ledger(path)
    if not create:
        raise _no_ledger(path)
    return version


def _use_wal(connection: sqlite3.Connection, patience_s: float) -> None:
    """See that the file is in WAL mode; a new ledger and a backup are not yet.

    Where that cannot be had (no right to write, some network disks), the older journal is as safe.
    """
    if connection.execute("PRAGMA journal_mode").fetchone()[0] == "wal":
        return
    # Changing the mode does not wait for other connections by itself, so waiting is done here.
    for _ in range(max(1, int(patience_s / 0.02))):
        try:
            connection.execute("PRAGMA journal_mode = WAL").fetchone()
            return
        except sqlite3.OperationalError as error:
            primary = error.sqlite_errorcode & 0xFF
            if primary == sqlite3.SQLITE_READONLY:
                return
            if primary != sqlite3.SQLITE_BUSY:
                raise
            time.sleep(0.02)


def _can_search(connection: sqlite3.Connection, path: str) -> None:
    """Refuse to set up the index of words where this SQLite was built without it."""
    if connection.execute("SELECT 1 FROM pragma_module_list WHERE name = 'fts5'").fetchone() is None:
        raise fault(
            "sqlite-without-search",
            "This Python's SQLite was built without the search of words (FTS5), which a ledger needs.",
            "use a Python from python.org or from your system's packages; nothing was written",
            path,
        )


def _sync_folder(folder: str) -> None:
    """Make the file's name in its folder durable, where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _not_a_ledger(path: str) -> Refused:
    return fault(
        "not-a-ledger",
        "This file is not a ledger.",
        "give the path of a ledger, or of a new file to begin one; this file was left as it is",
        path,
    )


def _no_ledger(path: str) -> Refused:
    return fault(
        "no-ledger",
        "There is no ledger here yet.",
        "begin one with  reedmace log  , or name another:  --ledger FILE",
        path,
    )


def _cannot_open(path: str, error: Exception) -> Refused:
    why = getattr(error, "strerror", None) or str(error)
    return fault(
        "ledger-cannot-open",
        f"This ledger cannot be opened: {why}.",
        "look whether the path is right, and whether its folders and the file may be read and written by you",
        path,
    )
