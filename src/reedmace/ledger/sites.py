"""The register of sites: named places, as entries like any other, so that a correction keeps what was there."""

from __future__ import annotations

import json
import sqlite3

from reedmace.faults import Fault, Refused
from reedmace.ledger.append import NewId
from reedmace.ledger.entries import Stamp, insert
from reedmace.ledger.people import known
from reedmace.ledger.trouble import damaged, told, writing
from reedmace.records import Site, from_body


def put(connection: sqlite3.Connection, path: str, site: Site, stamp: Stamp, new_id: NewId) -> str:
    """Write a site, or let one stand as given from now on; gives the new entry's id."""
    with writing(connection, path):
        if not known(connection, stamp.by):
            raise Refused(
                Fault(
                    "unknown-person",
                    "Nobody with this id is registered in this ledger.",
                    "register the person by name first",
                    stamp.by,
                )
            )
        sql = "SELECT entry_id FROM standing WHERE subject = ? AND kind = 'site'"
        row = connection.execute(sql, (site.id,)).fetchone()
        entry_id = new_id()
        insert(connection, entry_id, row and row[0], site, stamp)
        return entry_id


def standing(connection: sqlite3.Connection, path: str) -> list[Site]:
    """Give every site as it stands, by name."""
    sql = "SELECT entry_id, body FROM standing WHERE kind = 'site' AND act <> 'withdrawn' ORDER BY locality, subject"
    with told(path):
        rows = connection.execute(sql).fetchall()
    found = []
    for entry_id, body in rows:
        try:
            found.append(from_body(Site, json.loads(body)))
        except (Refused, ValueError, RecursionError) as error:
            if isinstance(error, Refused):
                raise
            raise damaged(path, f"the entry {entry_id} cannot be read") from error
    return found
