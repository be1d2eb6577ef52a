"""The append-only SQLite ledger; the only room that imports sqlite3."""
