"""Other ledgers, looked into without touching them."""

# ruff: noqa: PTH118

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager

from reedmace.faults import Refused, Where
from reedmace.ledger.at_rest import copied_at_rest
from reedmace.ledger.opening import connect, look_only
from reedmace.ledger.trouble import told


@contextmanager
def looked_into(path: str) -> Iterator[sqlite3.Connection]:
    """Give a connection to a copy of a ledger, as it stands at this moment, brought up to our format.

    The ledger itself is only read, so an older one, or one on a stick that is write-protected, stays as it is.
    Raises `Refused` where it is no ledger, a newer one, or not there.
    """
    with tempfile.TemporaryDirectory(prefix="ledger-") as folder:
        copy = os.path.join(folder, "copy")
        if not copied_at_rest(path, copy):
            with look_only(path) as theirs, told(path):
                target = sqlite3.connect(copy, isolation_level=None)
                try:
                    theirs.backup(target)
                    target.execute("PRAGMA journal_mode = DELETE")
                finally:
                    target.close()
        try:
            connection = connect(copy, create=False, patience_s=1)
        except Refused as refused:
            raise Refused(*(fault._replace(where=Where(path)) for fault in refused.faults)) from None
        try:
            yield connection
        finally:
            connection.close()
