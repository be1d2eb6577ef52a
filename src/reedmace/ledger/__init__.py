"""The append-only SQLite ledger; the only room that imports sqlite3.

Entries are written once and never changed; people's names live apart, where they can be rewritten.
What is in the file and what it promises: docs/ledger.md.
"""
