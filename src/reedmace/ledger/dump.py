"""A ledger as plain text, one JSON object a line, and back: for keeping in a version control, and for ever.

The order is that of writing (time, then id), free of `seq`: copies that hold the same entries give the same
bytes. The first line says what it is, the last how many entries there are, so that a text cut short is noticed.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Generator, Iterable, Iterator
from typing import Any

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger import redact, schema
from reedmace.ledger.dump_entries import look_through, refusal
from reedmace.ledger.entries import COLUMNS, INSERT, NAMES, compact
from reedmace.ledger.trouble import told, writing
from reedmace.records import unreadable

FORMAT = 1
_lined = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode
_EVERY = 1000


def lines(connection: sqlite3.Connection, path: str, *, contacts: bool) -> Generator[str, None, None]:
    """Give the lines, without line ends; contact details only where asked for."""
    with told(path):
        connection.execute("BEGIN")  # all of one moment
        try:
            yield _lined({"reedmace ledger": FORMAT, "schema": schema.version(connection)})
            for person in connection.execute("SELECT id, name, contact, forgotten FROM person ORDER BY id"):
                yield _lined(_person(*person, contacts=contacts))
            for name, value in connection.execute("SELECT name, value FROM setting ORDER BY name"):
                yield _lined({"setting": name, "value": value})
            for entry_id in sorted(redact.marked(connection)):
                yield _lined({"redacted": entry_id})
            count = 0
            sql = f"SELECT {', '.join(COLUMNS)} FROM entry ORDER BY written_at, entry_id"  # noqa: S608  (constants)
            for entry in connection.execute(sql):
                yield _lined(_entry(entry))
                count += 1
            yield _lined({"entries": count})
        finally:
            connection.execute("COMMIT")


def _person(person: str, name: str, contact: str, forgotten: int, *, contacts: bool) -> dict[str, Any]:
    line: dict[str, Any] = {"person": person, "name": name}
    if contact and contacts:
        line["contact"] = contact
    return line | ({"forgotten": True} if forgotten else {})


def _entry(entry: tuple[Any, ...]) -> dict[str, Any]:
    """Give one entry's columns; the body as JSON, or as its text where that would not come back the same."""
    values = {name: value for name, value in zip(NAMES, entry, strict=True) if value not in (None, "")}
    for column in ("body", "joins"):
        text = values.pop(column, None)
        if text is not None:
            read = json.loads(text)
            values |= {column: read} if compact(read) == text else {f"{column}_text": text}
    return values


def restore(
    connection: sqlite3.Connection, path: str, dump: Iterable[str], name: str, progress: Callable[[int], None]
) -> int:
    """Read a dump into an empty ledger, all or nothing; gives the number of entries.

    Raises `Refused` with the line where it is no dump, cut short, or holds what a ledger refuses.
    """
    numbered = enumerate(dump, 1)
    _head(next(numbered, (1, "")), name)
    count = 0
    said: int | None = None
    waiting: dict[str, list[tuple[int, tuple[Any, ...]]]] = {}
    with writing(connection, path):
        for number, text in numbered:
            line = _read(text, number, name)
            if "entry_id" in line:
                read = _columns(line, number, name)
                look_through(read, number, name)
                for at, entry in _ready(connection, number, read, waiting):
                    _put(connection, entry, at, name)
                    count += 1
                    if count % _EVERY == 0:
                        progress(count)
            elif "person" in line:
                _text(line, ("person", "name"), number, name)
                _register(connection, line, number, name)
            elif "setting" in line:
                _text(line, ("setting", "value"), number, name)
                connection.execute(
                    "INSERT OR REPLACE INTO setting (name, value) VALUES (?, ?)", (line["setting"], line["value"])
                )
            elif "redacted" in line:
                _text(line, ("redacted",), number, name)
                redact.mark(connection, line["redacted"])
            elif "entries" in line:
                said = line["entries"]
            else:
                raise Refused(_no_dump(number, name))
        if waiting or said != count:
            raise Refused(_cut_short(count, said, name))
    return count


def _head(first: tuple[int, str], name: str) -> None:
    number, text = first
    line = _read(text, number, name)
    if "reedmace ledger" not in line:
        raise Refused(_no_dump(number, name))
    if not isinstance(line.get("schema", 0), int):
        raise Refused(_no_dump(number, name))
    if line["reedmace ledger"] != FORMAT or line.get("schema", 0) > len(schema.STEPS):
        raise Refused(
            Fault(
                "dump-too-new",
                "A newer reedmace wrote this dump.",
                "upgrade reedmace; nothing was written",
                where=Where(name, number),
            )
        )


def _read(text: str, number: int, name: str) -> dict[str, Any]:
    try:
        line = json.loads(text)
    except (ValueError, RecursionError):
        line = None
    if not isinstance(line, dict):
        raise Refused(_no_dump(number, name))
    return line


def _columns(line: dict[str, Any], number: int, name: str) -> tuple[Any, ...]:
    for column in ("body", "joins"):
        if column in line:
            try:
                line[column] = compact(line[column])
            except ValueError:
                raise Refused(_no_dump(number, name)) from None  # no number, which JSON does not have either
        elif f"{column}_text" in line:
            line[column] = line.pop(f"{column}_text")
    line.setdefault("reason", "")
    if not line.keys() <= set(NAMES):
        raise Refused(_no_dump(number, name))
    return tuple(line.get(column) for column in NAMES)


def _ready(
    connection: sqlite3.Connection,
    number: int,
    entry: tuple[Any, ...],
    waiting: dict[str, list[tuple[int, tuple[Any, ...]]]],
) -> Iterator[tuple[int, tuple[Any, ...]]]:
    """Give the entry and those that waited for it; a clock that went wrong can put one before its parent."""
    needed = [entry[1], *json.loads(entry[-1] or "[]")] if entry[1] is not None else []
    for parent in needed:
        if connection.execute("SELECT 1 FROM entry WHERE entry_id = ?", (parent,)).fetchone() is None:
            waiting.setdefault(parent, []).append((number, entry))
            return
    yield number, entry
    for at, later in waiting.pop(entry[0], ()):
        yield from _ready(connection, at, later, waiting)


def _put(connection: sqlite3.Connection, entry: tuple[Any, ...], number: int, name: str) -> None:
    try:
        connection.execute(INSERT, entry)
    except (sqlite3.IntegrityError, sqlite3.ProgrammingError, sqlite3.InterfaceError) as error:
        raise refusal(entry, number, name, str(error)) from error


def _text(line: dict[str, Any], fields: Iterable[str], number: int, name: str) -> None:
    """Look whether these are there, and text that can be kept."""
    for value in (line.get(field) for field in fields):
        if not isinstance(value, str) or unreadable(value):
            raise Refused(_no_dump(number, name))


def _register(connection: sqlite3.Connection, line: dict[str, Any], number: int, name: str) -> None:
    from reedmace.ledger.people import name_key

    line.setdefault("contact", "")
    _text(line, ("contact",), number, name)
    forgotten = bool(line.get("forgotten"))
    key = "" if forgotten else name_key(line["name"])
    try:
        connection.execute(
            "INSERT INTO person (id, name, name_key, contact, forgotten) VALUES (?, ?, ?, ?, ?)",
            (line["person"], line["name"], key, line["contact"], forgotten),
        )
    except sqlite3.IntegrityError as error:
        raise refusal((line["person"],), number, name, str(error)) from error


def _no_dump(number: int, name: str) -> Fault:
    return Fault(
        "not-a-dump",
        "This line is none of a ledger's dump.",
        "give a file that  reedmace ledger dump  wrote, or a backup; nothing was written",
        where=Where(name, number),
    )


def _cut_short(count: int, said: int | None, name: str) -> Fault:
    how = "its last line is missing" if said is None else f"of {said} entries it holds {count}"
    return Fault(
        "dump-cut-short",
        f"This dump is not whole: {how}.",
        "copy it again from where it came; nothing was written",
        where=Where(name),
    )
