"""What the ledger says now: the standing entries, one or many; and what it said before."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

from reedmace.ledger.entries import META, EntryMeta, meta, read_sighting, read_visit
from reedmace.ledger.trouble import told
from reedmace.records import Sighting, Visit, span, spellings_of

_MANY = 4  # spellings of an id that are asked for at once


def visits(
    connection: sqlite3.Connection, path: str, year: int | None, withdrawn: bool
) -> Iterator[tuple[Visit, EntryMeta]]:
    """Stream the visits in order of their days."""
    sql = (
        f"SELECT {META}, diverged, body FROM standing WHERE kind = 'visit'"  # noqa: S608  (constants)
        " AND (:year IS NULL OR year = :year) AND (:withdrawn OR act <> 'withdrawn')"
        " ORDER BY first_day, subject"
    )
    with told(path):
        for *columns, differs, body in connection.execute(sql, {"year": year, "withdrawn": withdrawn}):
            yield read_visit(body, columns[0], path), meta(columns, differs)


def visits_of_date(connection: sqlite3.Connection, path: str, date: str | None) -> Iterator[Visit]:
    """Stream the visits that stand and have this very date, vague or not; None for those that have none."""
    days = span(date) if date else None
    sql = (
        "SELECT entry_id, body FROM standing WHERE kind = 'visit' AND first_day IS ? AND date IS ?"
        " AND act <> 'withdrawn' ORDER BY subject"
    )
    with told(path):
        for entry_id, body in connection.execute(sql, (days and days.first, date)):
            yield read_visit(body, entry_id, path)


def without_visit(connection: sqlite3.Connection, path: str) -> int:
    """Count the sightings that stand and whose visit is not there, so that no stream of sightings gives them."""
    # What has no visit has no day, and is found by that.
    sql = "SELECT count(*) FROM listed INDEXED BY listed_day WHERE day = '' AND visit_seq IS NULL AND status <> ?"
    with told(path):
        return int(connection.execute(sql, ("withdrawn",)).fetchone()[0])


def numbers_of_visits(connection: sqlite3.Connection, path: str) -> dict[str, int]:
    """Count the sightings that stand, by visit; a visit without any is left out."""
    sql = "SELECT visit_id, count(*) FROM listed WHERE status <> 'withdrawn' GROUP BY visit_id"
    with told(path):
        return dict(connection.execute(sql).fetchall())


def standing(connection: sqlite3.Connection, path: str, subject: str) -> tuple[Sighting | Visit, EntryMeta] | None:
    """Give what stands now for one visit or sighting, withdrawn or not; None where it is not there."""
    sql = (
        f"SELECT {META}, diverged, body FROM standing"  # noqa: S608  (constants)
        " WHERE subject = ? AND kind IN ('visit', 'sighting')"
    )
    with told(path):
        row = connection.execute(sql, (subject,)).fetchone()
    if row is None:
        return None
    *columns, differs, body = row
    found = meta(columns, differs)
    return _record(found, body, path), found


def kept_as(connection: sqlite3.Connection, path: str, typed: str) -> str:
    """Give the id under which the ledger has what is called so, however it is spelt; its one reading if it has nothing.

    An id that was kept before spellings were read is found under the one that it came in.
    """
    plain, *others = spellings_of(typed)
    # Of a UUID there are many spellings, and nearly always it stands under the first.
    at_once = len(others) < _MANY
    with told(path):
        for forms in ((plain, *others),) if at_once else ((plain,), tuple(others)):
            sql = f"SELECT DISTINCT subject FROM entry WHERE subject IN ({', '.join('?' * len(forms))})"  # noqa: S608
            if found := {subject for (subject,) in connection.execute(sql, forms)}:
                return next(form for form in forms if form in found)
    return plain


def head(connection: sqlite3.Connection, path: str, entry_id: str) -> tuple[Sighting | Visit, EntryMeta] | None:
    """Give the visit or sighting of one current entry; None where it is none."""
    sql = f"SELECT {META}, body FROM head WHERE entry_id = ? AND kind IN ('visit', 'sighting')"  # noqa: S608  (constants)
    with told(path):
        row = connection.execute(sql, (entry_id,)).fetchone()
    if row is None:
        return None
    found = meta(row[:-1])
    return _record(found, row[-1], path), found


def subjects_ending(connection: sqlite3.Connection, path: str, ending: str, most: int) -> tuple[str, ...]:
    """Give the ids of visits and sightings that are, or else end in, this text; at most so many.

    An id given whole, in whatever spelling, is found by index; the end of one takes a walk through all of them.
    """
    whole = "SELECT 1 FROM entry WHERE subject = ? AND kind IN ('visit', 'sighting') LIMIT 1"
    ends = """SELECT subject FROM (
                SELECT subject FROM listed UNION ALL SELECT subject FROM entry WHERE kind = 'visit' AND parent IS NULL)
              WHERE substr(subject, -length(?1)) = ?1 COLLATE NOCASE GROUP BY subject LIMIT ?2"""
    if not ending:
        return ()
    kept = kept_as(connection, path, ending)
    with told(path):
        if connection.execute(whole, (kept,)).fetchone() is not None:
            return (kept,)
        return tuple(subject for (subject,) in connection.execute(ends, (ending, most)))


def history(connection: sqlite3.Connection, path: str, subject: str) -> list[tuple[EntryMeta, Sighting | Visit]]:
    """Give every entry of one visit or sighting, each after the one it follows; may be empty."""
    sql = (
        f"SELECT {META}, body FROM entry WHERE subject = ?"  # noqa: S608  (constants)
        " AND kind IN ('visit', 'sighting') ORDER BY seq"
    )
    with told(path):
        rows = connection.execute(sql, (subject,)).fetchall()
    entries = [(meta(columns), body) for *columns, body in rows]
    return [(entry, _record(entry, body, path)) for entry, body in entries]


def diverged(connection: sqlite3.Connection, path: str) -> list[tuple[str, tuple[EntryMeta, ...]]]:
    """Give every subject with more than one current entry, and those entries, latest first."""
    # Only a subject with two first entries, or an entry followed twice, can diverge.
    sql = (
        f"SELECT {META} FROM head WHERE subject IN ("  # noqa: S608  (constants)
        " SELECT subject FROM entry WHERE parent IS NULL GROUP BY subject, kind HAVING count(*) > 1"
        " UNION SELECT subject FROM entry WHERE parent IS NOT NULL GROUP BY parent HAVING count(*) > 1)"
        " AND EXISTS (SELECT 1 FROM standing WHERE subject = head.subject AND kind = head.kind AND diverged)"
        " ORDER BY subject, written_at DESC, entry_id DESC"
    )
    found: dict[str, list[EntryMeta]] = {}
    with told(path):
        for columns in connection.execute(sql):
            entry = meta(columns, diverged=True)
            found.setdefault(entry.subject, []).append(entry)
    return [(subject, tuple(heads)) for subject, heads in found.items() if len(heads) > 1]


def last_line(connection: sqlite3.Connection, path: str, by: str | None) -> tuple[str, ...]:
    """Give those sightings of the last line typed (by one person, if given) that still stand."""
    sql = """
        SELECT subject FROM standing
        WHERE kind = 'sighting' AND act <> 'withdrawn' AND line_id = (
          SELECT first.line_id FROM entry AS first
          WHERE first.kind = 'sighting' AND first.act = 'recorded' AND (:by IS NULL OR first."by" = :by)
            AND EXISTS (SELECT 1 FROM standing AS now
              WHERE now.subject = first.subject AND now.kind = 'sighting' AND now.act <> 'withdrawn')
          ORDER BY first.seq DESC LIMIT 1)
        ORDER BY (SELECT min(seq) FROM entry WHERE subject = standing.subject)
    """
    with told(path):
        return tuple(subject for (subject,) in connection.execute(sql, {"by": by}))


def last_act(connection: sqlite3.Connection, path: str, by: str) -> tuple[str, str] | None:
    """Give act and subject of the last entry that a person wrote about a sighting or a visit; None where none is."""
    sql = """
        SELECT act, subject FROM entry WHERE "by" = ? AND kind IN ('sighting', 'visit') ORDER BY seq DESC LIMIT 1
    """
    with told(path):
        row = connection.execute(sql, (by,)).fetchone()
    return None if row is None else (row[0], row[1])


def _record(entry: EntryMeta, body: str, path: str) -> Sighting | Visit:
    read = read_visit if entry.kind == "visit" else read_sighting
    return read(body, entry.entry_id, path)
