"""A new ledger from a dump or a backup: made beside its place, looked over, and given its name when it is whole."""

# ruff: noqa: PTH118, PTH120, PTH123

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger import backup
from reedmace.ledger.copies import looked_into
from reedmace.ledger.opening import MAGIC
from reedmace.ledger.store import open_ledger
from reedmace.ledger.trouble import fault


def restore(source: str, target: str, progress: Callable[[int], None]) -> int:
    """Make a new ledger at `target` from a dump or a backup; gives the number of entries.

    Raises `Refused` where there is a file at `target` already, or `source` is neither, or not whole.
    """
    if os.path.lexists(target):
        raise fault(
            "restore-exists",
            "There is a file here already.",
            "choose another name with  --ledger FILE , or bring it in with  reedmace ledger merge FILE",
            target,
        )
    os.makedirs(os.path.dirname(os.path.abspath(target)), exist_ok=True)  # noqa: PTH100, PTH103
    try:
        with open(source, "rb") as file:
            is_backup = file.read(len(MAGIC)) == MAGIC
    except OSError as error:
        raise _cannot_read(source, error) from error
    if is_backup:
        with looked_into(source) as theirs:
            backup.copy(theirs, target)
            count: int = theirs.execute("SELECT count(*) FROM entry").fetchone()[0]
            return count
    folder = tempfile.TemporaryDirectory(prefix=".restore-", dir=os.path.dirname(os.path.abspath(target)))  # noqa: PTH100
    with folder as place, open_ledger(os.path.join(place, "new")) as ledger:
        try:
            with open(source, encoding="utf-8", newline="\n") as text:
                count = ledger.restore(text, source, progress)
        except OSError as error:
            raise _cannot_read(source, error) from error
        except UnicodeDecodeError as error:
            said, hint = "This file is no UTF-8 text.", "give a dump or a backup; nothing was written"
            raise Refused(Fault("not-a-dump", said, hint, where=Where(source))) from error
        ledger.backup(target)
    return count


def _cannot_read(source: str, error: OSError) -> Refused:
    said = f"This file cannot be read: {error.strerror or error}."
    return fault("file-cannot-read", said, "look whether the path is right and may be read by you", source)
