"""The ledger's tables, as numbered steps.

Each step is a tuple of single statements, run in one transaction together with the version number that
says it ran (`executescript` would commit first and leave half a step behind). Steps only ever add: columns,
indexes, views, or a trigger in place of an older one. They never rewrite an entry. A searched column that
comes later can be a virtual generated column over `body`: it needs no rewriting and holds for old entries.

Kinds and acts are checked by a trigger, not by a CHECK: a later step can replace a trigger, a CHECK never.
"""

from __future__ import annotations

import sqlite3

from reedmace.ledger import listing_steps
from reedmace.ledger.finding_steps import FINDING
from reedmace.ledger.listing_steps import LISTED, LISTED_VISIT, LISTING
from reedmace.ledger.reply_steps import REPLIED, REPLY_AGAIN, REPLYING

__all__ = ["APPLICATION_ID", "LISTED", "LISTED_VISIT", "RELIST", "REPLIED", "STEPS", "upgrade", "version"]

RELIST = (*listing_steps.RELIST, *REPLY_AGAIN)

# "Reed" in ASCII, at byte 68 of the file: this SQLite file is a ledger.
APPLICATION_ID = 0x52656564

_ENTRY = """
CREATE TABLE entry (
  seq        INTEGER PRIMARY KEY CHECK (seq > 0),
  entry_id   TEXT NOT NULL UNIQUE CHECK (entry_id <> ''),
  parent     TEXT,
  kind       TEXT NOT NULL,
  subject    TEXT NOT NULL CHECK (subject <> ''),
  act        TEXT NOT NULL,
  reason     TEXT NOT NULL DEFAULT '',
  "by"       TEXT NOT NULL CHECK ("by" <> ''),
  written_at TEXT NOT NULL CHECK (written_at GLOB
    '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
  visit_id   TEXT,
  line_id    TEXT,
  date       TEXT,
  first_day  TEXT,
  last_day   TEXT,
  year       INTEGER,
  taxon      TEXT COLLATE NOCASE,
  vernacular TEXT COLLATE NOCASE,
  stage      TEXT,
  sex        TEXT,
  square     TEXT,
  site       TEXT,
  locality   TEXT COLLATE NOCASE,
  body       TEXT NOT NULL CHECK (json_valid(body)),
  CHECK (act = 'recorded' OR trim(reason) <> '')
) STRICT
"""

# INSERT OR REPLACE deletes without firing delete triggers, so taking the place of an entry is stopped here.
_ONLY_NEW = """
CREATE TRIGGER entry_only_new BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE seq = NEW.seq)
  OR EXISTS (SELECT 1 FROM entry WHERE entry_id = NEW.entry_id)
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: this entry is there already'); END
"""

_PARENT = """
CREATE TRIGGER entry_parent BEFORE INSERT ON entry
WHEN NEW.parent IS NOT NULL AND NOT EXISTS (
  SELECT 1 FROM entry WHERE entry_id = NEW.parent AND kind = NEW.kind AND subject = NEW.subject)
BEGIN SELECT RAISE(ABORT, 'the entry this one follows is not there'); END
"""

_WORDS = """
CREATE TRIGGER entry_words BEFORE INSERT ON entry
WHEN NEW.kind NOT IN ('visit', 'sighting', 'site', 'person', 'profile', 'submission', 'query')
  OR NEW.act NOT IN ('recorded', 'amended', 'redetermined', 'withdrawn', 'replied', 'answered')
  OR (NEW.act = 'recorded' AND NEW.parent IS NOT NULL)
  OR (NEW.kind = 'sighting' AND (NEW.visit_id IS NULL OR NEW.line_id IS NULL OR NEW.taxon IS NULL))
BEGIN SELECT RAISE(ABORT, 'the ledger does not know this kind of entry'); END
"""

_NO_UPDATE = """
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: entries are never changed'); END
"""

_NO_DELETE = """
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: entries are never deleted'); END
"""

_HEAD = """
CREATE VIEW head AS SELECT * FROM entry AS this
WHERE NOT EXISTS (SELECT 1 FROM entry AS next WHERE next.parent = this.entry_id)
"""

# Where one subject has two heads (they diverged, by a merge), the later one stands, the id breaking ties:
# the same choice in every copy of the ledger, whatever the order of merging. `diverged` says that it was one.
_STANDING = """
CREATE VIEW standing AS SELECT this.*, EXISTS (
  SELECT 1 FROM head AS rival
  WHERE rival.subject = this.subject AND rival.kind = this.kind AND rival.entry_id <> this.entry_id
) AS diverged
FROM head AS this
WHERE NOT EXISTS (
  SELECT 1 FROM head AS rival
  WHERE rival.subject = this.subject AND rival.kind = this.kind
    AND (rival.written_at, rival.entry_id) > (this.written_at, this.entry_id))
"""

STEPS: tuple[tuple[str, ...], ...] = (
    (
        f"PRAGMA application_id = {APPLICATION_ID}",
        _ENTRY,
        _ONLY_NEW,
        _PARENT,
        _WORDS,
        _NO_UPDATE,
        _NO_DELETE,
        "CREATE INDEX entry_parent_id ON entry (parent) WHERE parent IS NOT NULL",
        "CREATE INDEX entry_subject ON entry (subject)",
        "CREATE INDEX visit_day ON entry (first_day, subject) WHERE kind = 'visit'",
        "CREATE INDEX sighting_visit ON entry (visit_id, taxon, subject) WHERE kind = 'sighting'",
        "CREATE INDEX sighting_line ON entry (line_id) WHERE kind = 'sighting'",
        "CREATE INDEX sighting_taxon ON entry (taxon) WHERE kind = 'sighting'",
        "CREATE INDEX sighting_vernacular ON entry (vernacular) WHERE kind = 'sighting'",
        _HEAD,
        _STANDING,
        # Names can be rewritten: entries hold ids only.
        """CREATE TABLE person (
          id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
          name TEXT NOT NULL, name_key TEXT NOT NULL, contact TEXT NOT NULL DEFAULT ''
        ) STRICT, WITHOUT ROWID""",
        "CREATE INDEX person_name ON person (name_key)",
        """CREATE TABLE setting (
          name TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL
        ) STRICT, WITHOUT ROWID""",
    ),
    LISTING,
    REPLYING,
    FINDING,
)


def version(connection: sqlite3.Connection) -> int:
    """Give the number of steps this file has been through; 0 for an empty one."""
    number: int = connection.execute("PRAGMA user_version").fetchone()[0]
    return number


def upgrade(connection: sqlite3.Connection, steps: tuple[tuple[str, ...], ...]) -> None:
    """Run the steps that are missing, each with its version number in one transaction, or nothing of it.

    Two processes may do this at once: the number is read again once the file is ours to write.
    """
    while version(connection) < len(steps):
        connection.execute("BEGIN IMMEDIATE")
        try:
            done = version(connection)
            if done < len(steps):
                for statement in steps[done]:
                    connection.execute(statement)
                connection.execute(f"PRAGMA user_version = {done + 1}")
            connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            raise
