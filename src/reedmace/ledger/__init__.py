"""The append-only SQLite ledger; the only room that imports sqlite3.

Entries are written once and never changed; people's names live apart, where they can be rewritten.
What is in the file and what it promises: docs/ledger.md.
"""

from __future__ import annotations

from reedmace.ledger.entries import EntryMeta, Followed, Written
from reedmace.ledger.people import People, Person
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.wanted import Wanted

__all__ = ["EntryMeta", "Followed", "Ledger", "People", "Person", "Wanted", "Written", "open_ledger"]
