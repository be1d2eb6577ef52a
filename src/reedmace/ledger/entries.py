"""What the ledger says about its entries, and how a record becomes one."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Sequence
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger.trouble import damaged
from reedmace.records import Sighting, Site, Visit, as_body, from_body, span, unreadable

META = 'entry_id, parent, kind, subject, act, reason, "by", written_at'
# Patterns are compiled where they are used: at start-up they would cost every command a millisecond each.
_WRITTEN_AT = r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z"
COLUMNS = (
    *("entry_id", "parent", "kind", "subject", "act", "reason", '"by"', "written_at"),
    *("visit_id", "line_id", "date", "first_day", "last_day", "year", "taxon", "vernacular"),
    *("stage", "sex", "square", "site", "locality", "body", "joins"),
)
INSERT = f"INSERT INTO entry ({', '.join(COLUMNS)}) VALUES ({', '.join('?' * len(COLUMNS))})"  # noqa: S608  (names above)
NAMES = tuple(column.strip('"') for column in COLUMNS)

# A body as it is kept.
compact = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode


_scan = json.JSONDecoder().scan_once  # type: ignore[attr-defined]  # not in the types, but in every release


def from_json(text: str) -> Any:
    """As `json.loads`, for what we wrote ourselves: nothing stands before or behind it."""
    try:
        found, end = _scan(text, 0)
    except StopIteration as error:
        raise ValueError("no JSON") from error
    if end != len(text):
        return json.loads(text)
    return found


class EntryMeta(NamedTuple):
    """One entry without its body.

    `by` is a person id; `written_at` is UTC, `YYYY-MM-DDTHH:MM:SSZ`. `diverged` says that its subject has
    two current entries, of which this is the later. `modified` is when the sighting as read, with its visit,
    last changed: it is later than `written_at` where the visit was amended after the sighting. `visit_entry` is
    the entry of the visit that was read with a sighting.
    """

    entry_id: str
    parent: str | None
    kind: str
    subject: str
    act: str
    reason: str
    by: str
    written_at: str
    diverged: bool = False
    modified: str = ""
    visit_entry: str = ""


def meta(columns: Sequence[Any], diverged: object = False, modified: str = "", visit_entry: str = "") -> EntryMeta:
    """Make the meta of an entry from the columns of `META`, in their order."""
    entry_id, parent, kind, subject, act, reason, by, written_at = columns
    return EntryMeta(
        *(entry_id, parent, kind, subject, act, reason, by, written_at),
        bool(diverged),
        modified or written_at,
        visit_entry,
    )


class Written(NamedTuple):
    """What was written: the visit's id, whether it is new, the sightings' ids, and all entry ids in order."""

    visit_id: str
    visit_is_new: bool
    sighting_ids: tuple[str, ...]
    entry_ids: tuple[str, ...]


class Followed(NamedTuple):
    """One subject that got a further entry: subject id and the new entry's id."""

    subject: str
    entry_id: str


class Stamp(NamedTuple):
    """What an entry says about its writing: act, reason, person id, UTC time."""

    act: str
    reason: str
    by: str
    written_at: str


def stamp(act: str, reason: str, by: str, written_at: str) -> Stamp:
    """Check what an entry is to say about its writing."""
    if act != "recorded" and not reason.strip():
        raise Refused(
            Fault(
                "reason-missing",
                "A change needs a reason.",
                "say in a few words why, for whoever reads it later",
            )
        )
    why = unreadable(reason)
    if why is not None:
        raise Refused(
            Fault(
                "text-unreadable",
                f"This reason cannot be kept: {why}.",
                "type the reason again",
                repr(reason),
            )
        )
    # Entries are put in order by this text, so there is one way to write it.
    if re.fullmatch(_WRITTEN_AT, written_at) is None:
        raise ValueError(f"written_at should be UTC like 2026-06-14T10:30:00Z, not {written_at!r}")
    return Stamp(act, reason, by, written_at)


def insert(
    connection: sqlite3.Connection,
    entry_id: str,
    parent: str | None,
    record: Visit | Sighting | Site,
    stamp: Stamp,
    joins: Sequence[str] = (),
) -> None:
    """Write one entry: the whole record as it stands from now on. It ends its parent and the heads it `joins`."""
    kind = type(record).__name__.casefold()
    body = compact(as_body(record))
    connection.execute(
        INSERT,
        (
            *(entry_id, parent, kind, record.id, stamp.act, stamp.reason, stamp.by, stamp.written_at),
            *searched(record),
            body,
            compact(joins) if joins else None,
        ),
    )


def searched(record: Visit | Sighting | Site) -> tuple[Any, ...]:
    """Give the searched columns, `visit_id` to `locality`.

    A sighting's date and place stay with its visit, so they never go stale.
    """
    if isinstance(record, Site):
        return (*[None] * 10, record.place.square, record.id, record.name)
    if isinstance(record, Visit):
        days = span(record.date) if record.date else None
        place = record.place
        return (
            *(None, None, record.date, days and days.first, days and days.last, days and days.year),
            *(None, None, None, None, place.square, place.site, place.locality or None),
        )
    own = record.place
    return (
        *(record.visit_id, record.line_id, None, None, None, None),
        *(record.taxon.scientific_name, record.taxon.vernacular or None, record.stage, record.sex),
        *((own.square, own.site, own.locality or None) if own else (None, None, None)),
    )


def read_visit(body: str, entry_id: str, path: str) -> Visit:
    """Read the visit of an entry; raises `Refused` where it is damaged or too new."""
    try:
        return from_body(Visit, from_json(body))
    except (Refused, ValueError, RecursionError) as error:
        raise _unread(error, entry_id, path) from error


def read_sighting(body: str, entry_id: str, path: str) -> Sighting:
    """Read the sighting of an entry; raises `Refused` where it is damaged or too new."""
    try:
        return from_body(Sighting, from_json(body))
    except (Refused, ValueError, RecursionError) as error:
        raise _unread(error, entry_id, path) from error


def _unread(error: Exception, entry_id: str, path: str) -> Refused:
    """Say which entry of which file could not be read."""
    if isinstance(error, Refused):
        return Refused(*(fault._replace(where=Where(path), said=entry_id) for fault in error.faults))
    return damaged(path, f"the entry {entry_id} cannot be read")
