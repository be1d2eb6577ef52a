"""A new ledger from a dump or a backup: made beside its place, looked over, and given its name when it is whole."""

# ruff: noqa: PTH118, PTH120, PTH123

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from typing import NamedTuple

from reedmace.faults import Fault, Refused, Where, cannot_read
from reedmace.ledger import backup
from reedmace.ledger.copies import looked_into
from reedmace.ledger.opening import MAGIC
from reedmace.ledger.store import open_ledger
from reedmace.ledger.trouble import fault

_BESIDE = ".restore-"  # begins the name of the folder in which a new ledger is made


class Restored(NamedTuple):
    """How many entries there are, and people whom they name and the dump does not: ids, with numbers of sightings."""

    entries: int
    missing: tuple[tuple[str, int], ...] = ()


def restore(source: str, target: str, progress: Callable[[int], None]) -> Restored:
    """Make a new ledger at `target` from a dump or a backup.

    Raises `Refused` where there is a file at `target` already, or `source` is neither, or not whole.
    """
    if os.path.lexists(target):
        raise fault(
            "restore-exists",
            "There is a file here already.",
            "choose another name with  --ledger FILE , or bring it in with  reedmace ledger merge FILE",
            target,
        )
    try:
        with open(source, "rb") as file:
            is_backup = file.read(len(MAGIC)) == MAGIC
    except OSError as error:
        raise cannot_read(source, error) from error
    try:
        os.makedirs(os.path.dirname(os.path.abspath(target)), exist_ok=True)  # noqa: PTH100, PTH103
    except OSError as error:
        said = f"The folder for the new ledger cannot be made: {error.strerror}."
        raise fault("restore-cannot-write", said, "choose another place with  --ledger FILE", target) from error
    if is_backup:
        with looked_into(source) as theirs:
            backup.copy(theirs, target)
            count: int = theirs.execute("SELECT count(*) FROM entry").fetchone()[0]
            return Restored(count)
    try:
        return _from_dump(source, target, progress)
    except Refused as refused:
        # The new ledger is made in a folder of its own that is gone again: what was asked for is the target.
        raise Refused(*(_of_target(one, target) for one in refused.faults)) from refused


def _from_dump(source: str, target: str, progress: Callable[[int], None]) -> Restored:
    folder = tempfile.TemporaryDirectory(prefix=_BESIDE, dir=os.path.dirname(os.path.abspath(target)))  # noqa: PTH100
    with folder as place, open_ledger(os.path.join(place, "new")) as ledger:
        try:
            with open(source, encoding="utf-8", newline="\n") as text:
                count = ledger.restore(text, source, progress)
        except OSError as error:
            raise cannot_read(source, error) from error
        except UnicodeDecodeError as error:
            said, hint = "This file is no UTF-8 text.", "give a dump or a backup; nothing was written"
            raise Refused(Fault("not-a-dump", said, hint, where=Where(source))) from error
        missing = tuple(ledger.people_missing())
        ledger.backup(target)
    return Restored(count, missing)


def _of_target(one: Fault, target: str) -> Fault:
    if one.where is None or _BESIDE not in one.where.file:
        return one
    return one._replace(where=one.where._replace(file=target))
