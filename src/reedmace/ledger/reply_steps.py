"""Step 3 of the schema: the county recorder's answers, and what was said last of each sighting.

An answer is an entry of kind `reply`, of a subject of its own (the sighting's id, `#`, its own id): two copies of
the ledger may each take answers, and there is nothing to decide when they are merged. `replied` holds for each
sighting the answer that counts, the latest by the verifier's date. Like `listed` it is worked out by triggers and
could be made again.

`redacted` names the entries from whose words somebody's name was taken out.
"""

from __future__ import annotations

_WORDS = """
CREATE TRIGGER entry_words BEFORE INSERT ON entry
WHEN NEW.kind NOT IN ('visit', 'sighting', 'site', 'person', 'profile', 'submission', 'query', 'reply')
  OR NEW.act NOT IN ('recorded', 'amended', 'redetermined', 'withdrawn', 'replied', 'answered')
  OR (NEW.act = 'recorded' AND NEW.parent IS NOT NULL)
  OR (NEW.kind = 'sighting' AND (NEW.visit_id IS NULL OR NEW.line_id IS NULL OR NEW.taxon IS NULL))
  OR (NEW.kind = 'reply' AND (NEW.act <> 'replied' OR NEW.parent IS NOT NULL
    OR json_extract(NEW.body, '$.sighting') IS NULL OR json_extract(NEW.body, '$.status') IS NULL))
BEGIN SELECT RAISE(ABORT, 'the ledger does not know this kind of entry'); END
"""

REPLIED = "subject, status, said, about, name, said_on, written_at, entry_id"


def _row(e: str) -> str:
    """Give the select list of one row of `replied`, from an entry `e`."""
    name = f"coalesce(json_extract({e}.body, '$.name'), '')"
    status = f"json_extract({e}.body, '$.status')"
    return f"""json_extract({e}.body, '$.sighting'), {status}, iif({name} = '', {status}, 'named anew'),
      coalesce(json_extract({e}.body, '$.about'), ''), {name},
      coalesce(nullif(json_extract({e}.body, '$.date'), ''), substr({e}.written_at, 1, 10)),
      {e}.written_at, {e}.entry_id"""


_PUT = f"INSERT INTO replied ({REPLIED})"
_LATER = """ON CONFLICT (subject) DO UPDATE SET status = excluded.status, said = excluded.said, about = excluded.about,
  name = excluded.name, said_on = excluded.said_on, written_at = excluded.written_at, entry_id = excluded.entry_id
  WHERE (excluded.said_on, excluded.written_at, excluded.entry_id)
    > (replied.said_on, replied.written_at, replied.entry_id)"""
_FILL = f"{_PUT} SELECT {_row('e')} FROM entry AS e WHERE e.kind = 'reply' {_LATER}"  # noqa: S608  (constants)

REPLYING: tuple[str, ...] = (
    "DROP TRIGGER entry_words",
    _WORDS,
    """CREATE TABLE replied (
      subject TEXT NOT NULL PRIMARY KEY, status TEXT NOT NULL, said TEXT NOT NULL,
      about TEXT NOT NULL COLLATE NOCASE, name TEXT NOT NULL COLLATE NOCASE,
      said_on TEXT NOT NULL, written_at TEXT NOT NULL, entry_id TEXT NOT NULL
    ) STRICT, WITHOUT ROWID""",
    "CREATE INDEX replied_said ON replied (said)",
    # Few among very many: found without a walk through all entries.
    "CREATE INDEX entry_reply ON entry (subject) WHERE kind = 'reply'",
    "CREATE INDEX entry_submission ON entry (written_at) WHERE kind = 'submission'",
    # Entries from whose words the name of somebody who asked to be forgotten was taken out (redact.py).
    "CREATE TABLE redacted (entry_id TEXT NOT NULL PRIMARY KEY) STRICT, WITHOUT ROWID",
    f"""CREATE TRIGGER reply_new AFTER INSERT ON entry WHEN NEW.kind = 'reply'
    BEGIN {_PUT} SELECT {_row("NEW")} WHERE true {_LATER}; END""",
)

# All of it thrown away and made again.
REPLY_AGAIN: tuple[str, ...] = ("DELETE FROM replied", _FILL)
