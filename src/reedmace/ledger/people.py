"""People and settings: the part of the file that can be rewritten. Entries hold ids only."""

from __future__ import annotations

import re
import sqlite3
import unicodedata
from collections.abc import Callable, Iterable
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.ledger.trouble import told, writing
from reedmace.records import unreadable

_BEHIND = frozenset(("jr", "jnr", "junior", "sr", "snr", "senior", "esq"))  # these stand behind a whole name


class Person(NamedTuple):
    """Somebody who saw, named or wrote something."""

    id: str
    name: str
    contact: str = ""
    forgotten: bool = False


def known(connection: sqlite3.Connection, person_id: str) -> bool:
    """Say whether a person is registered."""
    found = connection.execute("SELECT EXISTS (SELECT 1 FROM person WHERE id = ?)", (person_id,)).fetchone()[0]
    return bool(found)


def must_know(connection: sqlite3.Connection, people: Iterable[str]) -> None:
    """Refuse entries that name somebody who is not registered."""
    unknown = [person for person in dict.fromkeys(people) if not known(connection, person)]
    if unknown:
        raise Refused(*map(_unknown, unknown))


class People:
    """The register of people of one open ledger."""

    __slots__ = ("_connection", "_path")

    def __init__(self, connection: sqlite3.Connection, path: str) -> None:
        self._connection = connection
        self._path = path

    def register(self, name: str, new_id: Callable[[], str]) -> str:
        """Give the id of the person with this name, registering it with a new id where it is not there.

        Names that differ only in case, spacing, Unicode composition or the place of the surname are one; the first
        writing stays.
        """
        shown, key = _name(name)
        with writing(self._connection, self._path):
            found = self._connection.execute(
                "SELECT id FROM person WHERE name_key IN (?, ?, ?, ?, ?) ORDER BY id LIMIT 1", _keys(name)
            ).fetchone()
            if found is not None:
                return str(found[0])
            person_id = new_id()
            self._connection.execute(
                "INSERT INTO person (id, name, name_key) VALUES (?, ?, ?)", (person_id, shown, key)
            )
            return person_id

    def add(self, person_id: str, name: str) -> None:
        """Register somebody new under an id that was given before, with records that name it.

        Somebody else may have registered the name meanwhile: then it has two ids, as after a merge.
        """
        shown, key = _name(name)
        with writing(self._connection, self._path):
            self._connection.execute(
                "INSERT INTO person (id, name, name_key) VALUES (?, ?, ?)", (person_id, shown, key)
            )

    def find(self, name: str) -> str | None:
        """Give the id of the person with this name, or None."""
        with told(self._path):
            found = self._connection.execute(
                "SELECT id FROM person WHERE name_key IN (?, ?, ?, ?, ?) ORDER BY id LIMIT 1", _keys(name)
            ).fetchone()
        return None if found is None else str(found[0])

    def ids_of(self, name: str) -> tuple[str, ...]:
        """Give the ids of everybody with this name: after a merge, one person can have several."""
        with told(self._path):
            found = self._connection.execute(
                "SELECT id FROM person WHERE name_key IN (?, ?, ?, ?, ?) ORDER BY id", _keys(name)
            )
            return tuple(person for (person,) in found)

    def twice(self) -> dict[str, str]:
        """Give the ids of people whose name has another id as well, after a merge, each with the first id of that name.

        Whoever counts or compares people takes that for them: one name is one person.
        """
        with told(self._path):
            rows = self._connection.execute(
                "SELECT one.id, first.id FROM person AS one JOIN"
                " (SELECT name_key, min(id) AS id FROM person WHERE name_key <> '' GROUP BY name_key) AS first"
                " ON one.name_key = first.name_key WHERE one.id <> first.id"
            )
            return {str(person): str(first) for person, first in rows}

    def name_of(self, person_id: str) -> str:
        """Give a person's name; raises `Refused` where nobody with this id is registered."""
        with told(self._path):
            found = self._connection.execute("SELECT name FROM person WHERE id = ?", (person_id,)).fetchone()
        if found is None:
            raise Refused(_unknown(person_id))
        return str(found[0])

    def all(self) -> list[Person]:
        """Give everybody, by name."""
        with told(self._path):
            rows = self._connection.execute("SELECT id, name, contact, forgotten FROM person ORDER BY name_key, id")
            return [Person(person, name, contact, bool(gone)) for person, name, contact, gone in rows]

    def set_contact(self, person_id: str, contact: str) -> None:
        """Keep how a person can be reached: in this file only, in no export and no dump that does not ask for it."""
        why = unreadable(contact)
        if why is not None:
            hint = "type it again"
            raise Refused(Fault("text-unreadable", f"This cannot be kept: {why}.", hint, repr(contact), typed=True))
        with writing(self._connection, self._path):
            must_know(self._connection, [person_id])
            self._connection.execute("UPDATE person SET contact = ? WHERE id = ?", (contact, person_id))

    def me(self) -> str | None:
        """Give the id of the person who keeps this ledger, or None where nobody has said."""
        with told(self._path):
            found = self._connection.execute("SELECT value FROM setting WHERE name = 'me'").fetchone()
        return None if found is None else str(found[0])

    def set_me(self, person_id: str) -> None:
        """Say who keeps this ledger; raises `Refused` where nobody with this id is registered."""
        with writing(self._connection, self._path):
            must_know(self._connection, [person_id])
            self._connection.execute(
                "INSERT INTO setting (name, value) VALUES ('me', ?)"
                " ON CONFLICT (name) DO UPDATE SET value = excluded.value",
                (person_id,),
            )

    def kept(self, setting: str) -> str | None:
        """Give what this keyboard keeps under a name, such as the visit under way; None where there is nothing."""
        with told(self._path):
            found = self._connection.execute("SELECT value FROM setting WHERE name = ?", (setting,)).fetchone()
        return None if found is None else str(found[0])

    def keep(self, setting: str, value: str | None) -> None:
        """Keep something under a name in place of what was there, or nothing more (None)."""
        with writing(self._connection, self._path):
            self._connection.execute("DELETE FROM setting WHERE name = ?", (setting,))
            if value is not None:
                self._connection.execute("INSERT INTO setting (name, value) VALUES (?, ?)", (setting, value))


def _name(name: str) -> tuple[str, str]:
    """Give a name as shown and as compared; raises `Refused` where it is no name."""
    shown = unicodedata.normalize("NFC", " ".join(name.split()))
    why = unreadable(shown)
    if why is None and not shown:
        why = "it is empty"
    elif why is None and "|" in shown:
        why = "the sign | parts names from each other in exported files"
    elif why is None and any(unicodedata.category(sign) == "Cc" for sign in shown):
        why = "it holds a control character"
    if why is not None:
        raise Refused(
            Fault(
                "name-unfit",
                f"This cannot be a person's name: {why}.",
                "give the name as it should stand in the records, such as: Ada Marsh",
                shown.encode("utf-8", "backslashreplace").decode(),
                typed=True,
            )
        )
    return shown, name_key(shown)


def name_key(name: str) -> str:
    """Give a name as names are compared.

    In any case and composition, surname first or last, with a stop behind an initial or without: `Fenn, A.`, `A Fenn`.
    """
    plain = " ".join(re.sub(r"(?<![^\W\d_])([^\W\d_])\.", r"\1 ", _cased(name)).split())
    surname, comma, before = (part.strip() for part in plain.partition(","))
    one = comma and surname and before and "," not in before and before.rstrip(".") not in _BEHIND
    two = " " in surname and re.search(r"[^\W\d_]{2} *[^\W\d_]* [^\W\d_]{2}", before)  # Ada Marsh, Ben Sallow
    return f"{before} {surname}" if one and not two else plain


def _cased(name: str) -> str:
    return unicodedata.normalize("NFC", name.casefold())


def _keys(name: str) -> tuple[str, ...]:
    """What a name may stand under: in a register of earlier days the surname stayed first, and stops were kept."""
    shown, key = _name(name)
    stopped = re.sub(r"(?<![^\W\d_])([^\W\d_])(?![^\W\d_])", r"\1.", key)
    turned = [f"{surname}, {before}" for before, _, surname in (one.rpartition(" ") for one in (key, stopped))]
    return key, stopped, *turned, _cased(shown)


def _unknown(person_id: str) -> Fault:
    return Fault(
        "unknown-person",
        "Nobody with this id is registered in this ledger.",
        "register the person by name first",
        person_id,
    )
