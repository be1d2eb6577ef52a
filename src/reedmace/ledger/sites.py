"""The register of sites: named places, as entries like any other, so that a correction keeps what was there."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from typing import get_args

from reedmace.ledger.append import NewId
from reedmace.ledger.entries import Stamp, insert
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import damaged, told, writing
from reedmace.records import Site, from_body
from reedmace.records.site import MaySee

_CAREFUL: tuple[MaySee, ...] = get_args(MaySee)


def put(
    connection: sqlite3.Connection, path: str, site: Site, stamp: Stamp, new_id: NewId, same: Sequence[str] = ()
) -> str:
    """Write a site, or let one stand as given from now on; gives the new entry's id.

    Where copies of the ledger had changed it in different ways, that is settled by this. `same` are ids of other
    sites that are the same place, registered in another copy: they are withdrawn.
    """
    with writing(connection, path):
        must_know(connection, [stamp.by])
        for other in same:
            there = _heads(connection, other)
            if there and there[0][1] != "withdrawn":
                again = from_body(Site, json.loads(there[0][2]))
                gone = Stamp("withdrawn", f"the same site as {site.id}", stamp.by, stamp.written_at)
                insert(connection, new_id(), there[0][0], again, gone, [one[0] for one in there[1:]])
        heads = _heads(connection, site.id)
        entry_id = new_id()
        insert(connection, entry_id, heads[0][0] if heads else None, site, stamp, [one[0] for one in heads[1:]])
        return entry_id


def _heads(connection: sqlite3.Connection, subject: str) -> list[tuple[str, str, str]]:
    """Give the heads of a site, entry id, act and body, the one that stands first."""
    sql = """SELECT entry_id, act, body FROM head WHERE subject = ? AND kind = 'site'
             ORDER BY written_at DESC, entry_id DESC"""
    return connection.execute(sql, (subject,)).fetchall()


def standing(connection: sqlite3.Connection, path: str) -> list[Site]:
    """Give every site as it stands, by name.

    Where two copies of the ledger changed it in different ways, fewest may see it until that is settled.
    """
    sql = """SELECT entry_id, body, diverged FROM standing WHERE kind = 'site' AND act <> 'withdrawn'
             ORDER BY locality, subject"""
    found = []
    with told(path):
        for entry_id, body, diverged in connection.execute(sql).fetchall():
            site = _read(path, entry_id, body)
            if diverged:
                rivals = [
                    _read(path, head, other) for head, act, other in _heads(connection, site.id) if act != "withdrawn"
                ]
                site = site._replace(may_see=max((one.may_see for one in rivals), key=_CAREFUL.index))
            found.append(site)
    return found


def _read(path: str, entry_id: str, body: str) -> Site:
    try:
        return from_body(Site, json.loads(body))
    except (ValueError, RecursionError) as error:
        raise damaged(path, f"the entry {entry_id} cannot be read") from error
