"""Names in the words of entries: found in every spelling we can tell, and taken out where that is asked for.

An entry is never changed, with this one exception: somebody has the right to be forgotten. What is taken out is
the name alone, out of remarks, lines as typed, parties and reasons; ids, photographs and figures stay. The entry is
marked in `redacted`, so that a copy that still holds the name takes it out too when the two are merged.
"""

from __future__ import annotations

import json
import re
import sqlite3
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from functools import partial
from typing import Any

from reedmace.faults import Refused
from reedmace.ledger import schema
from reedmace.ledger.entries import compact, searched
from reedmace.records import Sighting, Site, Visit, from_body

REMOVED = "(name removed)"
# Ids, what a file elsewhere is found by, and names of animals with those of their authors.
KEPT = frozenset(
    ("id", "visit_id", "line_id", "site", "sighting", "observers", "determiner", "recipient", "verifier", "photos")
) | {"scientific_name", "authorship", "vernacular", "one_of", "family", "genus", "ranking", "verdict_name"}
# Blanks as they stand in JSON, and what parts words in names of files and ids.
_GAP = r"(?:\s|\\[nrt]|\u00a0|[-_])+"
_READ: dict[str, Callable[[Any], Visit | Sighting | Site]] = {
    "visit": partial(from_body, Visit),
    "sighting": partial(from_body, Sighting),
    "site": partial(from_body, Site),
}


def spellings(name: str) -> list[str]:
    """Give a name as people write it: in full, and with initials (`A. Marsh`, `A Marsh`, `Marsh, A.`)."""
    words = in_order(name).split()
    if len(words) < 2:
        return words
    initials = [word[0] for word in words[:-1]]
    return [
        *in_full(name),
        f"{'. '.join(initials)}. {words[-1]}",
        f"{' '.join(initials)} {words[-1]}",
        f"{''.join(initials)} {words[-1]}",
        f"{words[-1]}, {'. '.join(initials)}.",
    ]


def in_full(name: str) -> list[str]:
    """Give a name with all its words: as it is, and with the last part first (`Marsh, Ada`)."""
    words = in_order(name).split()
    if len(words) < 2:
        return words
    return list(dict.fromkeys((name, " ".join(words), f"{words[-1]}, {' '.join(words[:-1])}")))


def in_order(name: str) -> str:
    """Give a name with its last part last, however it was written: `Marsh, Ada` is `Ada Marsh`."""
    last, comma, first = name.partition(",")
    if comma and last.strip() and first.strip() and "," not in first:
        return f"{first.strip()} {last.strip()}"
    return name


def first_alone(name: str) -> tuple[str, ...]:
    """Give the first name as it stands alone where somebody is meant, with a capital; none of an initial."""
    first, *others = in_order(name).split() or [""]
    if not others or len(first.rstrip(".")) < 2 or first.endswith("."):
        return ()
    return first[0].upper() + first[1:], first.upper()


def pattern(texts: Iterable[str], *, cased: bool = False) -> re.Pattern[str]:
    """Give what finds any of these texts as whole words, in any case, spacing and composition; with hyphens too.

    `cased` takes them as they are written: in small letters Will, May and Mark are words.
    """
    forms = {unicodedata.normalize(form, text) for text in texts for form in ("NFC", "NFD") if text.strip()}
    parts = [_GAP.join(map(re.escape, form.split())) for form in sorted(forms, key=lambda form: (-len(form), form))]
    return re.compile(rf"(?<![^\W_])(?:{'|'.join(parts) or '(?!)'})(?![^\W_])", re.NOFLAG if cased else re.IGNORECASE)


def saying(connection: sqlite3.Connection, wanted: re.Pattern[str]) -> Iterator[str]:
    """Give the ids of entries whose own words, or whose ids, hold what is wanted."""
    # What saved mappings are called is looked at by itself (register_names.py).
    sql = "SELECT entry_id, body, reason, iif(kind = 'profile', '', subject) FROM entry ORDER BY seq"
    for entry_id, *texts in connection.execute(sql):
        if any(wanted.search(text) for text in (entry_id, *texts)):
            yield entry_id


def take_out(connection: sqlite3.Connection, wanted: re.Pattern[str]) -> int:
    """Take a name out of the words of entries, in a transaction that is open; gives how many were changed."""
    changed = 0
    ids = list(saying(connection, wanted))
    with unguarded(connection):
        for entry_id in ids:
            sql = "SELECT kind, reason, body FROM entry WHERE entry_id = ?"
            kind, reason, body = connection.execute(sql, (entry_id,)).fetchone()
            new_reason = wanted.sub(REMOVED, reason)
            new_body = body
            if wanted.search(body):
                new_body = compact(_without(json.loads(body), wanted))
            if (new_reason, new_body) == (reason, body):
                continue
            _put(connection, entry_id, kind, new_reason, new_body)
            changed += 1
    if changed:
        for statement in schema.RELIST:
            connection.execute(statement)
    return changed


def rewrite(connection: sqlite3.Connection, entry_id: str, kind: str, reason: str, body: str) -> None:
    """Put words without the names that were taken out of another copy, in a transaction that is open."""
    with unguarded(connection):
        _put(connection, entry_id, kind, reason, body)


def mark(connection: sqlite3.Connection, entry_id: str) -> None:
    """Remember that a name was taken out of an entry."""
    connection.execute("INSERT OR IGNORE INTO redacted (entry_id) VALUES (?)", (entry_id,))


def marked(connection: sqlite3.Connection) -> frozenset[str]:
    """Give the ids of entries from which a name was taken out."""
    return frozenset(entry_id for (entry_id,) in connection.execute("SELECT entry_id FROM redacted"))


def _put(connection: sqlite3.Connection, entry_id: str, kind: str, reason: str, body: str) -> None:
    columns = ["reason", "body"]
    values: list[str | None] = [reason, body]
    if kind in _READ:
        with suppress(Refused):  # damaged, or too new: its words go all the same
            # Of what is searched for only the name of a place can hold a person's.
            values.append(searched(_READ[kind](json.loads(body)))[-1])
            columns.append("locality")
    assignments = ", ".join(f"{column} = ?" for column in columns)
    connection.execute(f"UPDATE entry SET {assignments} WHERE entry_id = ?", (*values, entry_id))  # noqa: S608
    mark(connection, entry_id)


class unguarded:  # noqa: N801  (used like a function)
    """Within one transaction, without the trigger that refuses changes; it stands again before anybody can look."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        asked = "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = 'entry_no_update'"
        row = connection.execute(asked).fetchone()
        self._guard: str | None = row and row[0]

    def __enter__(self) -> None:
        assert self._connection.in_transaction
        if self._guard is not None:
            self._connection.execute("DROP TRIGGER entry_no_update")

    def __exit__(self, *error: object) -> None:
        if self._guard is not None and self._connection.in_transaction:
            self._connection.execute(self._guard)


def _without(value: Any, wanted: re.Pattern[str]) -> Any:
    """Give a JSON value with the name taken out of its words."""
    if isinstance(value, str):
        return wanted.sub(REMOVED, value)
    if isinstance(value, list):
        return [_without(one, wanted) for one in value]
    if isinstance(value, dict):
        return {key: one if key in KEPT else _without(one, wanted) for key, one in value.items()}
    return value
