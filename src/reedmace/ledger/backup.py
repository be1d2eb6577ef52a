"""A copy of a ledger while it is in use, whole and in one file."""

from __future__ import annotations

import os
import sqlite3
from contextlib import suppress
from pathlib import Path

from reedmace.files import give_name
from reedmace.ledger.trouble import fault, told


def copy(connection: sqlite3.Connection, target_path: str) -> None:
    """Copy the ledger as it stands at this moment to a new file; an existing file is never overwritten.

    Copying the main file by hand would miss what is still in the -wal file beside it.
    """
    to = Path(target_path)
    if not to.name or to.is_dir():
        hint = "name the file to write, such as  sightings.ledger"
        raise fault("backup-cannot-write", "This is the name of no file.", hint, target_path)
    part = to.with_name(f".{to.name}.part")
    try:
        handle = os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
    except OSError as error:
        raise fault(
            "backup-cannot-write",
            f"The copy cannot be written: {error.strerror}.",
            f"choose a folder you may write to; if an interrupted copy is left there, delete {part.name}",
            target_path,
        ) from error
    os.close(handle)
    try:
        with told(target_path):
            target = sqlite3.connect(part, isolation_level=None)
            try:
                connection.backup(target)
                # One file that stands by itself: opening it as a ledger goes back to WAL.
                target.execute("PRAGMA journal_mode = DELETE")
            finally:
                target.close()
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        try:
            give_name(part, to)
        except FileExistsError as error:
            raise fault(
                "backup-exists", "There is a file here already.", "choose another name for the copy", target_path
            ) from error
        except OSError as error:
            said, hint = f"The copy cannot be written: {error.strerror}.", "choose a folder you may write to"
            raise fault("backup-cannot-write", said, hint, target_path) from error
    finally:
        with suppress(FileNotFoundError):
            part.unlink()
