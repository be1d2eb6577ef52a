"""Looking whether everything in a ledger's file is as it should be; changes nothing."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator
from typing import NamedTuple

from reedmace.faults import Refused
from reedmace.ledger import current, schema
from reedmace.ledger.entries import read_sighting, read_visit, searched
from reedmace.ledger.trouble import told
from reedmace.records import Sighting, Visit

KINDS = ("visit", "sighting", "site", "person", "profile", "submission", "query", "reply")
ACTS = ("recorded", "amended", "redetermined", "withdrawn", "replied", "answered")
_EVERY = 1000


class Finding(NamedTuple):
    """Something that is not as it should be: a code, what it is, what to do, and about which id or file.

    `grave` is damage; the rest is for the user to know or decide.
    """

    code: str
    said: str
    remedy: str
    about: str = ""
    grave: bool = True


class Photo(NamedTuple):
    """A photograph that a standing sighting names; `sha256` is empty where it was never read."""

    sighting_id: str
    path: str
    sha256: str


_BACKUP = "copy the file away untouched, then go back to your last backup"


def audit(connection: sqlite3.Connection, path: str, progress: Callable[[int], None]) -> Iterator[Finding]:
    """Give everything that is amiss, the gravest first."""
    with told(path):
        whole = [text for (text,) in connection.execute("PRAGMA integrity_check(20)")]
        if whole != ["ok"]:
            yield from (Finding("file-damaged", text, _BACKUP) for text in whole)
        yield from _guards(connection)
        yield from _chains(connection)
        yield from _bodies(connection, path, progress)
        yield from _people(connection)
        if whole == ["ok"]:
            yield from _listing(connection)
        yield from _orphans(connection)
        yield from _sites(connection)
        for subject, heads in current.diverged(connection, path):
            said = f"Two copies said different things ({len(heads)} entries to choose from)."
            remedy = f"choose:  reedmace ledger settle {subject}"
            if heads[0].kind == "site":
                remedy = "register the site again as it should be:  reedmace sites add NAME PLACE --reason ..."
            yield Finding("diverged", said, remedy, subject, grave=False)


def photos(connection: sqlite3.Connection, path: str) -> Iterator[Photo]:
    """Give the photographs of all standing sightings; a bare path is one whose checksum was not taken."""
    sql = """SELECT s.subject, photo.value FROM listed AS l JOIN entry AS s ON s.seq = l.seq,
             json_each(s.body, '$.photos') AS photo WHERE l.status <> 'withdrawn' ORDER BY s.subject"""
    with told(path):
        for subject, value in connection.execute(sql):
            parts = json.loads(value) if value.startswith("[") else [value, ""]
            yield Photo(subject, parts[0], parts[1])


def relist(connection: sqlite3.Connection) -> None:
    """Work out anew what is listed, inside a transaction that is open already."""
    for statement in schema.RELIST:
        connection.execute(statement)


def _guards(connection: sqlite3.Connection) -> Iterator[Finding]:
    """Compare tables, triggers, views and indexes with those a new ledger has."""
    new = sqlite3.connect(":memory:", isolation_level=None)
    try:
        schema.upgrade(new, schema.STEPS)
        asked = "SELECT name, type, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name"
        wanted = {name: (kind, sql) for name, kind, sql in new.execute(asked)}
    finally:
        new.close()
    there = {name: (kind, sql) for name, kind, sql in connection.execute(asked)}
    for name, (kind, sql) in wanted.items():
        if name not in there:
            yield Finding("guard-missing", f"The {kind} {name} is gone: someone dropped it.", _BACKUP, name)
        elif there[name][1] != sql:
            yield Finding("guard-changed", f"The {kind} {name} is not what reedmace made.", _BACKUP, name)
    for name in there.keys() - wanted.keys():
        remedy = "nothing of reedmace needs it: look who put it there"
        yield Finding("stranger", f"The {there[name][0]} {name} is none of reedmace's.", remedy, name, grave=False)


def _chains(connection: sqlite3.Connection) -> Iterator[Finding]:
    lost = """SELECT entry_id FROM entry AS e WHERE parent IS NOT NULL AND NOT EXISTS (
              SELECT 1 FROM entry WHERE entry_id = e.parent AND subject = e.subject AND kind = e.kind)"""
    for (entry_id,) in connection.execute(lost):
        yield Finding("parent-missing", "The entry that this one follows is not there.", _BACKUP, entry_id)
    kinds, acts = (", ".join(f"'{word}'" for word in words) for words in (KINDS, ACTS))
    unknown = f"SELECT entry_id, kind, act FROM entry WHERE kind NOT IN ({kinds}) OR act NOT IN ({acts})"  # noqa: S608
    for entry_id, kind, act in connection.execute(unknown):
        yield Finding("unknown-kind", f"This reedmace knows no {kind} that is {act}.", "upgrade reedmace", entry_id)
    stray = """SELECT entry_id FROM joined WHERE entry_id NOT IN (
               SELECT one.value FROM entry, json_each(entry.joins) AS one WHERE joins IS NOT NULL)"""
    for (entry_id,) in connection.execute(stray):
        yield Finding("end-without-entry", "This entry is marked as ended, and no entry ends it.", _BACKUP, entry_id)


def _bodies(connection: sqlite3.Connection, path: str, progress: Callable[[int], None]) -> Iterator[Finding]:
    """Read every visit and sighting, and compare what is searched for with what it says."""
    columns = """visit_id, line_id, date, first_day, last_day, year, taxon, vernacular, stage, sex, square, site,
      locality"""
    sql = f"""SELECT entry_id, kind, subject, body, {columns} FROM entry
              WHERE kind IN ('visit', 'sighting') ORDER BY seq"""  # noqa: S608  (constants)
    for number, (entry_id, kind, subject, body, *found) in enumerate(connection.execute(sql), 1):
        if number % _EVERY == 0:
            progress(number)
        try:
            record: Visit | Sighting = (read_visit if kind == "visit" else read_sighting)(body, entry_id, path)
        except Refused as refused:
            fault = refused.faults[0]
            yield Finding(fault.code, fault.message, fault.hint, entry_id)
            continue
        if record.id != subject or tuple(found) != searched(record):
            said = "What is searched for is not what the entry says."
            yield Finding("columns-differ", said, _BACKUP, entry_id)


def _people(connection: sqlite3.Connection) -> Iterator[Finding]:
    for person, _ in people_missing(connection):
        yield Finding("person-missing", "Entries name a person who is not in the register.", _BACKUP, person)


def people_missing(connection: sqlite3.Connection) -> list[tuple[str, int]]:
    """Give the ids that entries name and the register does not hold, each with the sightings seen or named by them."""
    sql = """SELECT person, (SELECT count(DISTINCT id) FROM listed_person AS l WHERE l.person = lost.person) FROM (
               SELECT DISTINCT person FROM listed_person UNION SELECT DISTINCT "by" FROM entry
               UNION SELECT json_extract(body, '$.verifier') FROM entry WHERE kind = 'reply') AS lost
             WHERE person NOT IN (SELECT id FROM person) ORDER BY person"""
    return list(connection.execute(sql))


def _listing(connection: sqlite3.Connection) -> Iterator[Finding]:
    """Compare what is listed with what it is worked out from."""
    count = 0
    for table, columns in (("listed_visit", schema.LISTED_VISIT), ("listed", schema.LISTED)):
        view = table.replace("listed", "listing")
        ours, wanted = f"SELECT {columns} FROM {table}", f"SELECT * FROM {view}"  # noqa: S608  (constants)
        differing = f"""SELECT count(*) FROM (SELECT * FROM ({ours} EXCEPT {wanted})
          UNION ALL SELECT * FROM ({wanted} EXCEPT {ours}))"""  # noqa: S608
        count += connection.execute(differing).fetchone()[0]
    unlisted = """SELECT count(*) FROM (
      SELECT id, person, day, visit_id FROM listed_who EXCEPT SELECT id, person, day, visit_id FROM listed_person)"""
    people = connection.execute(unlisted).fetchone()[0]
    count += _replied(connection)
    words = ""
    try:
        # Compares the index with the words it was made from; needs no change, but is asked like one.
        connection.execute("INSERT INTO listed_words (listed_words, rank) VALUES ('integrity-check', 1)")
    except sqlite3.DatabaseError as error:
        # A file that may only be read is not asked.
        words = "" if error.sqlite_errorcode & 0xFF == sqlite3.SQLITE_READONLY else str(error)
    if count or people or words:
        rows = "1 row" if count + people == 1 else f"{count + people} rows"
        said = f"What lists show is not what the entries say ({rows}{', words too' if words else ''})."
        remedy = "the entries themselves are whole: work it out anew with  reedmace ledger audit --relist"
        yield Finding("listing-differs", said, remedy)


def _replied(connection: sqlite3.Connection) -> int:
    """Count sightings whose latest answer is not the one that is looked up; those of no sighting at all too."""
    asked = """SELECT count(*) FROM (
      SELECT r.subject FROM replied AS r LEFT JOIN entry AS e ON e.entry_id = r.entry_id AND e.kind = 'reply'
      WHERE json_extract(e.body, '$.sighting') IS NOT r.subject OR json_extract(e.body, '$.status') IS NOT r.status
      UNION ALL
      SELECT e.entry_id FROM entry AS e LEFT JOIN replied AS r ON r.subject = json_extract(e.body, '$.sighting')
      WHERE e.kind = 'reply' AND (r.subject IS NULL OR (r.said_on, r.written_at, r.entry_id) < (
        coalesce(nullif(json_extract(e.body, '$.date'), ''), substr(e.written_at, 1, 10)),
        e.written_at, e.entry_id)))"""
    count: int = connection.execute(asked).fetchone()[0]
    return count


def _sites(connection: sqlite3.Connection) -> Iterator[Finding]:
    """Tell of a site that was registered under one name in two copies."""
    sql = """SELECT min(locality), count(*) FROM standing WHERE kind = 'site' AND act <> 'withdrawn'
             GROUP BY locality COLLATE NOCASE HAVING count(*) > 1 ORDER BY 1"""
    for name, count in connection.execute(sql):
        remedy = f'if they are one, register it again:  reedmace sites add "{name}" PLACE --reason ...'
        yield Finding("site-twice", f"{count} sites are registered under this name.", remedy, name, grave=False)


def _orphans(connection: sqlite3.Connection) -> Iterator[Finding]:
    lost = """SELECT l.subject, l.visit_id, v.act FROM listed AS l LEFT JOIN entry AS v ON v.seq = l.visit_seq
              WHERE l.status <> 'withdrawn' AND (v.seq IS NULL OR v.act = 'withdrawn') ORDER BY l.subject"""
    for subject, visit, act in connection.execute(lost):
        how = "was withdrawn" if act else "is not there, so the sighting is in no list and no export"
        back = f"reedmace ledger withdraw {subject} --reason ..."
        remedy = (
            f"bring in a copy that holds the visit:  reedmace ledger merge FILE  or take the sighting back:  {back}"
        )
        if act:
            again = f"reedmace ledger reinstate {visit} --reason ..."
            remedy = f"let the visit stand again:  {again}  or take the sighting back:  {back}"
        yield Finding("sighting-without-visit", f"The visit of this sighting {how}.", remedy, subject, grave=not act)
    empty = """SELECT subject, EXISTS (SELECT 1 FROM listed AS g WHERE g.visit_id = v.subject)
               FROM standing AS v WHERE kind = 'visit' AND act <> 'withdrawn'
               AND NOT coalesce(json_extract(body, '$.none_seen'), 0)
               AND NOT EXISTS (SELECT 1 FROM entry AS s JOIN listed AS l ON l.subject = s.subject
                 WHERE s.kind = 'sighting' AND s.visit_id = v.subject AND l.visit_id = v.subject
                   AND l.status <> 'withdrawn') ORDER BY subject"""
    for subject, had in connection.execute(empty):
        back = f"reedmace ledger withdraw {subject} --reason ..."
        if had:
            said = "All sightings of this visit were taken back."
            remedy = f"take it back too:  {back}  or log what was seen on it"
        else:
            said = "This visit holds no sighting, and does not say that none were seen."
            none = f"reedmace ledger amend {subject} none-seen=yes --reason ..."
            remedy = f"log what was seen on it, or take it back:  {back}  ; only if there was nothing to see:  {none}"
        yield Finding("visit-without-sighting", said, remedy, subject, grave=False)
