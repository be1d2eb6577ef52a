"""Whether an entry of a dump is one that a ledger would have taken: by the rules by which entries are written."""

from __future__ import annotations

import json
import re
from typing import Any

from reedmace.faults import Fault, Refused, Where
from reedmace.ledger.entries import NAMES, searched, stamp
from reedmace.records import Sighting, Site, Visit, as_body, from_body, unreadable

_FIRST_SEARCHED, _BODY, _JOINS = (NAMES.index(name) for name in ("visit_id", "body", "joins"))
_EARLIER = "the dump was changed since it was written: take an earlier one; nothing was written"


def refusal(entry: tuple[Any, ...], number: int, name: str, why: str, hint: str = _EARLIER) -> Refused:
    """Make the refusal of an entry, which stands in this line of the dump."""
    said = str(entry[0]).encode("utf-8", "backslashreplace").decode()
    return Refused(Fault("dump-refused", f"A ledger takes no such entry: {why}.", hint, said, Where(name, number)))


def look_through(entry: tuple[Any, ...], number: int, name: str) -> None:
    """Raise `Refused` where a ledger would not have taken an entry (in the order of COLUMNS)."""
    _plain(entry, number, name)
    _, _, kind, subject, act, reason, by, written_at = entry[:_FIRST_SEARCHED]
    try:
        stamp(act or "", reason or "", by or "", written_at or "")
        if entry[_JOINS] is not None:
            joins = json.loads(entry[_JOINS])
            if not isinstance(joins, list) or not all(isinstance(one, str) for one in joins):
                raise refusal(entry, number, name, "what it ends is no list of entries")
        body = json.loads(entry[_BODY] or "")
        if not isinstance(body, dict):
            raise refusal(entry, number, name, "its body says nothing")
        record = _record(kind, body)
        if record is None:
            return
        as_body(record)
    except Refused as refused:
        fault = refused.faults[0]
        if fault.code == "dump-refused":
            raise
        newer = fault.code == "record-too-new"
        why = re.sub(r"\.+$", "", fault.message) + (f' ("{fault.said}")' if fault.said else "")
        raise refusal(entry, number, name, why, *([fault.hint] if newer else [])) from refused
    except (ValueError, RecursionError) as error:
        raise refusal(entry, number, name, "it cannot be read") from error
    if record.id != subject:
        raise refusal(entry, number, name, f"its body is of another {kind}")
    if not isinstance(record, Site) and entry[_FIRST_SEARCHED:_BODY] != searched(record):
        raise refusal(entry, number, name, "what is searched for is not what it says")


def _record(kind: str, body: dict[str, Any]) -> Visit | Sighting | Site | None:
    if kind == "sighting":
        return from_body(Sighting, body)
    if kind == "visit":
        return from_body(Visit, body)
    return from_body(Site, body) if kind == "site" else None


def _plain(entry: tuple[Any, ...], number: int, name: str) -> None:
    """Look whether every column is text or a whole number that can be kept."""
    for column, value in zip(NAMES, entry, strict=True):
        whole = isinstance(value, int) and not isinstance(value, bool) and column == "year"
        if value is None or whole:
            continue
        if not isinstance(value, str):
            raise refusal(entry, number, name, f"{column} is no text")
        if why := unreadable(value):
            raise refusal(entry, number, name, f"{column}: {why}")
