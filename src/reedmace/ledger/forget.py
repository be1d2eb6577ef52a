"""Forgetting a person: name and contact leave the file, the records stay.

Entries hold ids only, so the name stands in one row of the register. The row is rewritten, and then the whole
file: SQLite leaves old text in free pages and in the -wal file otherwise. What people typed in their own words is
found, and taken out where that is asked for (redact.py).
"""

from __future__ import annotations

import sqlite3
from typing import NamedTuple

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger import redact as redacting
from reedmace.ledger import register_names as register
from reedmace.ledger.people import Person
from reedmace.ledger.register_names import REMOVED, Renamed
from reedmace.ledger.trouble import told, writing


class Forgotten(NamedTuple):
    """What forgetting did.

    `ids` are the person's ids, which stay; `saw` counts the sightings seen or named by them, `wrote` the entries
    written by them. `still_said` are ids of entries whose own words hold the name, in any spelling that we can tell;
    `redacted` counts those from which it was taken out. `perhaps` are further entries that hold the last part of the
    name alone, or the first: a person, a pond or a plant, only somebody who reads them can tell.

    `named` are further people whose names hold the name, `saved` the names of saved mappings that do: both as they
    still stand. `cleaned` and `renamed` are those from which it was taken out. `perhaps_named` are people whose names
    hold its initials or its last part, or are its first.
    """

    ids: tuple[str, ...]
    saw: int
    wrote: int
    still_said: tuple[str, ...]
    redacted: int = 0
    perhaps: tuple[str, ...] = ()
    named: tuple[Person, ...] = ()
    saved: tuple[str, ...] = ()
    cleaned: tuple[Person, ...] = ()
    renamed: tuple[Renamed, ...] = ()
    perhaps_named: tuple[Person, ...] = ()

    @property
    def left(self) -> bool:
        """Whether the name still stands somewhere in the file."""
        return bool(self.still_said or self.named or self.saved)


def forget(
    connection: sqlite3.Connection,
    path: str,
    ids: tuple[str, ...],
    names: tuple[str, ...],
    also: tuple[str, ...] = (),
    redact: bool = False,
) -> Forgotten:
    """Remove names and contact details of these ids; raises `Refused` where another program holds the file.

    `also` are further names, such as a nickname: each is looked for in every spelling, as the names are. With
    `redact` the names are taken out of the words of entries, of further rows of the register and of the names of
    saved mappings too; else those are only found.
    """
    marks = ", ".join("?" * len(ids))
    called = (*names, *also)
    wanted = redacting.pattern(form for name in called for form in redacting.spellings(name))
    whole = redacting.pattern(form for name in called for form in redacting.in_full(name))
    with told(path):
        saw = connection.execute(
            f"SELECT count(DISTINCT id) FROM listed_person WHERE person IN ({marks})",  # noqa: S608
            ids,
        ).fetchone()[0]
        wrote = connection.execute(f'SELECT count(*) FROM entry WHERE "by" IN ({marks})', ids).fetchone()[0]  # noqa: S608
        connection.execute("PRAGMA secure_delete = ON")
    redacted = 0
    cleaned: tuple[Person, ...] = ()
    renamed: tuple[Renamed, ...] = ()
    with writing(connection, path):
        connection.execute(
            f"UPDATE person SET name = ?, name_key = '', contact = '', forgotten = 1 WHERE id IN ({marks})",  # noqa: S608
            (REMOVED, *ids),
        )
        connection.execute(f"DELETE FROM setting WHERE name = 'me' AND value IN ({marks})", ids)  # noqa: S608
        if redact:
            cleaned = register.clean(connection, whole)
            renamed = register.rename(connection, wanted)
            redacted = redacting.take_out(connection, wanted)
    with told(path):
        rewrite(connection, path)
        still = set(redacting.saying(connection, wanted))
        ends = [words[-1] for name in called if len(words := redacting.in_order(name).split()) > 1]
        last = redacting.pattern(ends)
        perhaps = set(redacting.saying(connection, last)) if ends else set()
        firsts = [form for name in called for form in redacting.first_alone(name)]
        first = redacting.pattern(firsts, cased=True)
        perhaps = (perhaps | set(redacting.saying(connection, first)) if firsts else perhaps) - still
        named = register.holding(connection, whole)
        alike = {*register.holding(connection, wanted), *register.holding(connection, last)}
        alike |= {one for one in register.holding(connection, first) if first.fullmatch(one.name)}
        alike -= {*named}
        saved = register.mappings(connection, wanted)
    return Forgotten(
        *(ids, saw, wrote, tuple(sorted(still)), redacted, tuple(sorted(perhaps))),
        *(named, saved, cleaned, renamed),
        tuple(sorted(alike, key=lambda one: (one.name, one.id))),
    )


def rewrite(connection: sqlite3.Connection, path: str) -> None:
    """Write the file anew, and empty the -wal file beside it."""
    try:
        connection.execute("VACUUM")
        busy = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            raise
        busy = True
    if busy:
        raise Refused(
            Fault(
                "forget-unfinished",
                "The name is out of the register, but old pages with it cannot be cleared while another program"
                " has the ledger open.",
                "close the other program and do this again with the person's id",
                where=Where(path),
            )
        )
