"""Step 2 of the schema: what is listed, ready to be searched; and entries that join two heads again.

`listed` holds one row for each sighting as it stands, with the day and place that count for it, in indexes
that give a page of any list without sorting or counting a million rows. It is worked out from the entries by
triggers, whatever program writes them, and could be thrown away and made again: it is no part of the ledger
in the sense that entries are. `listed_words` is its index of words, `listed_person` says who saw or named it.

`joins` names the further heads that an entry ends, beside its parent: where two copies had diverged, one entry
settles it. `joined` holds those ids, so that a head is found by a look-up.
"""

from __future__ import annotations

# A head is followed by nothing, neither as a parent nor as one of the heads that a settling entry joins.
_HEAD = """
CREATE VIEW head AS SELECT * FROM entry AS this
WHERE NOT EXISTS (SELECT 1 FROM entry AS next WHERE next.parent = this.entry_id)
  AND NOT EXISTS (SELECT 1 FROM joined WHERE joined.entry_id = this.entry_id)
"""

# Two heads that say the same (one import into two copies, say) have not diverged: they stand as one.
_STANDING = """
CREATE VIEW standing AS SELECT this.*, EXISTS (
  SELECT 1 FROM head AS rival
  WHERE rival.subject = this.subject AND rival.kind = this.kind AND rival.entry_id <> this.entry_id
    AND (rival.body <> this.body OR (rival.act = 'withdrawn') <> (this.act = 'withdrawn'))
) AS diverged
FROM head AS this
WHERE NOT EXISTS (
  SELECT 1 FROM head AS rival
  WHERE rival.subject = this.subject AND rival.kind = this.kind
    AND (rival.written_at, rival.entry_id) > (this.written_at, this.entry_id))
"""

LISTED = """subject, seq, visit_seq, visit_id, day, last_day, year, status, diverged,
  taxon, vernacular, stage, sex, square, site, locality, words"""

LISTED_VISIT = "subject, seq, day, last_day, year, diverged, square, site, locality, words"

# A sighting's own place, where it has one, stands instead of the visit's.
_OWN = "({s}.square IS NOT NULL OR {s}.site IS NOT NULL OR {s}.locality IS NOT NULL)"
_SIGHTING_WORDS = (
    "typed",
    "taxon.typed",
    "taxon.family",
    "remarks",
    "qualifier",
    "behaviour",
    "evidence",
    "place.typed",
)
_VISIT_WORDS = ("date_typed", "place.typed", "party", "habitat", "weather", "method", "remarks")


def _words(row: str, columns: tuple[str, ...], paths: tuple[str, ...]) -> str:
    """Give the SQL of all words of columns and parts of a body; `||` with a part that is missing would be NULL."""
    parts = [f"{row}.{column}" for column in columns]
    parts += [f"json_extract({row}.body, '$.{path}')" for path in paths]
    return " || ' ' || ".join(f"coalesce({part}, '')" for part in parts)


def _visit_row(v: str, diverged: str) -> str:
    """Give the select list of one row of `listed_visit`, from a standing visit `v`."""
    return f"""{v}.subject, {v}.seq, coalesce({v}.first_day, ''), {v}.last_day, {v}.year, {diverged},
      {v}.square, {v}.site, {v}.locality, {_words(v, ("locality",), _VISIT_WORDS)}"""


def _row(s: str, diverged: str) -> str:
    """Give the select list of one row of `listed`, from a standing sighting `s` and its listed visit `v`, or none."""
    own = _OWN.format(s=s)
    words = _words(s, ("taxon", "vernacular", "stage", "sex", "locality"), _SIGHTING_WORDS)
    return f"""{s}.subject, {s}.seq, v.seq, {s}.visit_id, coalesce(v.day, ''), v.last_day, v.year,
      CASE {s}.act WHEN 'withdrawn' THEN 'withdrawn' WHEN 'recorded' THEN 'recorded' ELSE 'amended' END,
      {diverged} OR coalesce(v.diverged, 0), {s}.taxon, {s}.vernacular, {s}.stage, {s}.sex,
      iif({own}, {s}.square, v.square), iif({own}, {s}.site, v.site), iif({own}, {s}.locality, v.locality),
      {words} || ' ' || coalesce(v.words, '')"""


_LISTING_VISIT = f"""
CREATE VIEW listing_visit AS SELECT {_visit_row("v", "v.diverged")} FROM standing AS v WHERE v.kind = 'visit'
"""  # noqa: S608  (constants)

_LISTING = f"""
CREATE VIEW listing AS SELECT {_row("s", "s.diverged")}
FROM standing AS s LEFT JOIN listed_visit AS v ON v.subject = s.visit_id
WHERE s.kind = 'sighting'
"""  # noqa: S608  (constants)

_LISTED_WHO = """
CREATE VIEW listed_who AS
SELECT one.id, who.value AS person, one.day, one.visit_id
FROM listed AS one JOIN entry AS s ON s.seq = one.seq LEFT JOIN entry AS v ON v.seq = one.visit_seq,
  json_each(coalesce(json_extract(s.body, '$.observers'), json_extract(v.body, '$.observers'), '[]')) AS who
UNION
SELECT one.id, json_extract(s.body, '$.determiner'), one.day, one.visit_id
FROM listed AS one JOIN entry AS s ON s.seq = one.seq
WHERE json_extract(s.body, '$.determiner') IS NOT NULL
"""

# Whose sighting it is, by look-ups: the view over all of them would be worked out whole.
_WHO = """SELECT value AS person FROM json_each(coalesce(
        (SELECT json_extract(body, '$.observers') FROM entry WHERE seq = {row}.seq),
        (SELECT json_extract(body, '$.observers') FROM entry WHERE seq = {row}.visit_seq), '[]'))
      UNION SELECT json_extract(body, '$.determiner') FROM entry
      WHERE seq = {row}.seq AND json_extract(body, '$.determiner') IS NOT NULL"""

_BEGINS = f"""CREATE TRIGGER listed_begins AFTER INSERT ON listed BEGIN
      INSERT INTO listed_words (rowid, words) VALUES (NEW.id, NEW.words);
      INSERT INTO listed_person (person, day, visit_id, id)
        SELECT person, NEW.day, NEW.visit_id, NEW.id FROM ({_WHO.format(row="NEW")});
    END"""  # noqa: S608  (constants)

_ENDS = f"""CREATE TRIGGER listed_ends BEFORE DELETE ON listed BEGIN
      INSERT INTO listed_words (listed_words, rowid, words) VALUES ('delete', OLD.id, OLD.words);
      DELETE FROM listed_person WHERE day = OLD.day AND visit_id = OLD.visit_id AND id = OLD.id
        AND person IN ({_WHO.format(row="OLD")});
    END"""  # noqa: S608  (constants)

# The sightings that are of a visit now, out of those that ever were, which an index finds.
_OF_VISIT = f"""DELETE FROM listed WHERE visit_id = NEW.subject AND subject IN (
        SELECT subject FROM entry WHERE kind = 'sighting' AND visit_id = NEW.subject);
      INSERT INTO listed ({LISTED}) SELECT * FROM listing WHERE visit_id = NEW.subject AND subject IN (
        SELECT subject FROM entry WHERE kind = 'sighting' AND visit_id = NEW.subject);"""  # noqa: S608  (constants)

_FILL = (
    f"INSERT INTO listed_visit ({LISTED_VISIT}) SELECT * FROM listing_visit",  # noqa: S608  (constants)
    f"INSERT INTO listed ({LISTED}) SELECT * FROM listing ORDER BY seq",  # noqa: S608  (constants)
    "INSERT INTO listed_words (listed_words) VALUES ('rebuild')",
    "INSERT INTO listed_person (person, day, visit_id, id) SELECT person, day, visit_id, id FROM listed_who",
)

LISTING: tuple[str, ...] = (
    "ALTER TABLE entry ADD COLUMN joins TEXT CHECK (joins IS NULL OR json_valid(joins))",
    # What is left of somebody who asked to be forgotten: the id, which the entries hold, and that it was so.
    "ALTER TABLE person ADD COLUMN forgotten INTEGER NOT NULL DEFAULT 0",
    "CREATE TABLE joined (entry_id TEXT NOT NULL PRIMARY KEY) STRICT, WITHOUT ROWID",
    "DROP VIEW standing",
    "DROP VIEW head",
    _HEAD,
    _STANDING,
    """CREATE TRIGGER entry_joins BEFORE INSERT ON entry
    WHEN NEW.joins IS NOT NULL AND (json_type(NEW.joins) <> 'array' OR NEW.parent IS NULL OR EXISTS (
      SELECT 1 FROM json_each(NEW.joins) AS one WHERE NOT EXISTS (
        SELECT 1 FROM entry WHERE entry_id = one.value AND kind = NEW.kind AND subject = NEW.subject)))
    BEGIN SELECT RAISE(ABORT, 'an entry this one joins is not there'); END""",
    # Before what is listed is worked out: among triggers of one kind the order is not promised, so this one
    # comes before the row itself.
    """CREATE TRIGGER entry_joined BEFORE INSERT ON entry WHEN NEW.joins IS NOT NULL
    BEGIN INSERT OR IGNORE INTO joined SELECT value FROM json_each(NEW.joins); END""",
    """CREATE TABLE listed (
      id INTEGER PRIMARY KEY,
      subject TEXT NOT NULL UNIQUE,
      seq INTEGER NOT NULL,
      visit_seq INTEGER,
      visit_id TEXT NOT NULL,
      day TEXT NOT NULL,
      last_day TEXT,
      year INTEGER,
      status TEXT NOT NULL,
      diverged INTEGER NOT NULL,
      taxon TEXT NOT NULL COLLATE NOCASE,
      vernacular TEXT COLLATE NOCASE,
      stage TEXT,
      sex TEXT,
      square TEXT,
      site TEXT,
      locality TEXT COLLATE NOCASE,
      words TEXT NOT NULL
    ) STRICT""",
    # A visit is looked up once for each of its sightings: ready made, that is a fifth of the work.
    """CREATE TABLE listed_visit (
      subject TEXT NOT NULL PRIMARY KEY, seq INTEGER NOT NULL, day TEXT NOT NULL, last_day TEXT, year INTEGER,
      diverged INTEGER NOT NULL, square TEXT, site TEXT, locality TEXT, words TEXT NOT NULL
    ) STRICT, WITHOUT ROWID""",
    """CREATE TABLE listed_person (
      person TEXT NOT NULL, day TEXT NOT NULL, visit_id TEXT NOT NULL, id INTEGER NOT NULL,
      PRIMARY KEY (person, day, visit_id, id)
    ) STRICT, WITHOUT ROWID""",
    # Whole words and beginnings of words, accents aside. No positions are kept: they would double its size.
    """CREATE VIRTUAL TABLE listed_words USING fts5 (
      words, content = 'listed', content_rowid = 'id', detail = 'none', tokenize = 'unicode61 remove_diacritics 2')""",
    _LISTING_VISIT,
    _LISTING,
    _LISTED_WHO,
    *_FILL,
    "CREATE INDEX listed_day ON listed (day, visit_id)",
    # Nothing asks for a name among all entries any more.
    "DROP INDEX sighting_taxon",
    "CREATE INDEX listed_taxon ON listed (taxon, day, visit_id)",
    "CREATE INDEX listed_stage ON listed (stage, day, visit_id) WHERE stage IS NOT NULL",
    "CREATE INDEX listed_square ON listed (square, day, visit_id) WHERE square IS NOT NULL",
    "CREATE INDEX listed_status ON listed (status, day, visit_id) WHERE status <> 'recorded'",
    "CREATE INDEX listed_diverged ON listed (day, visit_id) WHERE diverged",
    "CREATE INDEX listed_vague ON listed (last_day, day) WHERE last_day <> day",
    _BEGINS,
    _ENDS,
    f"""CREATE TRIGGER list_new AFTER INSERT ON entry
    WHEN NEW.kind = 'sighting' AND NEW.parent IS NULL AND NOT EXISTS (
      SELECT 1 FROM listed WHERE subject = NEW.subject)
    BEGIN
      INSERT INTO listed ({LISTED}) SELECT {_row("NEW", "0")}
      FROM (SELECT 1) LEFT JOIN listed_visit AS v ON v.subject = NEW.visit_id;
    END""",  # noqa: S608  (constants)
    f"""CREATE TRIGGER list_changed AFTER INSERT ON entry
    WHEN NEW.kind = 'sighting' AND (NEW.parent IS NOT NULL OR EXISTS (
      SELECT 1 FROM listed WHERE subject = NEW.subject AND seq <> NEW.seq))
    BEGIN
      DELETE FROM listed WHERE subject = NEW.subject;
      INSERT INTO listed ({LISTED}) SELECT * FROM listing WHERE subject = NEW.subject;
    END""",  # noqa: S608  (constants)
    f"""CREATE TRIGGER list_new_visit AFTER INSERT ON entry
    WHEN NEW.kind = 'visit' AND NEW.parent IS NULL AND NOT EXISTS (
      SELECT 1 FROM listed_visit WHERE subject = NEW.subject)
    BEGIN
      INSERT INTO listed_visit ({LISTED_VISIT}) SELECT {_visit_row("NEW", "0")};
      {_OF_VISIT}
    END""",  # noqa: S608  (constants)
    f"""CREATE TRIGGER list_changed_visit AFTER INSERT ON entry
    WHEN NEW.kind = 'visit' AND (NEW.parent IS NOT NULL OR EXISTS (
      SELECT 1 FROM listed_visit WHERE subject = NEW.subject AND seq <> NEW.seq))
    BEGIN
      DELETE FROM listed_visit WHERE subject = NEW.subject;
      INSERT INTO listed_visit ({LISTED_VISIT}) SELECT * FROM listing_visit WHERE subject = NEW.subject;
      {_OF_VISIT}
    END""",  # noqa: S608  (constants)
)

# All of it thrown away and made again. The triggers that keep the indexes in step stand aside meanwhile.
RELIST: tuple[str, ...] = (
    "DROP TRIGGER listed_begins",
    "DROP TRIGGER listed_ends",
    "DELETE FROM listed",
    "DELETE FROM listed_person",
    "DELETE FROM listed_visit",
    "DELETE FROM joined",
    "INSERT OR IGNORE INTO joined SELECT one.value FROM entry, json_each(entry.joins) AS one WHERE joins IS NOT NULL",
    *_FILL,
    _BEGINS,
    _ENDS,
)
