"""The determinations of a sighting: who called it what, one after the other, out of its entries."""

from __future__ import annotations

from typing import Any

from reedmace.darwincore import Earlier
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting


def determinations(ledger: Ledger, meta: EntryMeta) -> tuple[tuple[Earlier, ...], str]:
    """Give the determinations before the one that stands in an entry, the oldest first, and why that came.

    Entries that left the name, its doubt and its determiner as they were are no determinations.
    """
    if meta.parent is None:
        return (), ""
    entries = {one.entry_id: (one, record) for one, record in ledger.history(meta.subject)}
    found: list[Earlier] = []
    at: str | None = meta.entry_id
    while at is not None and at in entries:
        entry, record = entries[at]
        if isinstance(record, Sighting):
            one = Earlier(record, entry.written_at, entry.act, entry.reason)
            if found and _named(found[-1].sighting) == _named(record):
                found[-1] = one  # the oldest entry of one determination says when and why it came
            else:
                found.append(one)
        at = entry.parent
    now, *before = found
    return tuple(reversed(before)), now.reason if before else ""


def _named(sighting: Sighting) -> tuple[Any, ...]:
    taxon = sighting.taxon
    names = (taxon.scientific_name, taxon.one_of)
    return (*names, sighting.certainty, sighting.qualifier, sighting.determiner, sighting.determined_on)
