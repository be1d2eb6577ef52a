"""From a choice of sightings to the one question that finds them soonest.

A page of a million sightings has to come at once. Walking an index in the order of days gives one quickly where
much of what is met is wanted; where little is, going through the few that meet the rarest condition and sorting
them is quicker. Which it is, is counted by index, up to a limit.
"""

from __future__ import annotations

import json
import re
import sqlite3
import unicodedata
from typing import Any

from reedmace.ledger.wanted import Condition, Wanted, at_places, conditions, gathered, part_of_name

# Up to so many are fetched and sorted. To sort K costs as much as to walk to a page's worth of K among N where
# K is about three times the root of N: this is right for a million, and not far off for less.
FEW = 2500
# The same for places, where a walk reads only an index; and more visits than these are more sightings, uncounted.
FEW_AT_PLACES = 1000
# Visits at such places from which a page is full before they would all have been looked up.
COMMON = 5000

_ASKED = (
    's.entry_id, s.parent, s.kind, s.subject, s.act, s.reason, s."by", s.written_at,'
    " l.diverged, max(s.written_at, v.written_at), s.body, v.entry_id, "
)
# At a place by its own name, or else by that of its visit.
_AT_PLACES = """
  SELECT l.id FROM listed AS l INDEXED BY listed_place
    WHERE l.locality IS NOT NULL AND l.locality IN (SELECT value FROM json_each(?))
  UNION ALL
  SELECT l.id FROM listed_visit AS w INDEXED BY listed_visit_place
    CROSS JOIN listed AS l INDEXED BY listed_day ON l.day = w.day AND l.visit_id = w.subject
    WHERE w.locality IS NOT NULL AND w.locality COLLATE NOCASE IN (SELECT value FROM json_each(?))
      AND coalesce(l.locality NOT IN (SELECT value FROM json_each(?)), true)"""
_BODY_OF_VISIT, _SEQ_OF_VISIT = "v.body", "l.visit_seq"
_IN_DAYS = "l.day, l.visit_id"


def question(
    connection: sqlite3.Connection, wanted: Wanted, most: int | None = None, *, visit_body: bool = True
) -> tuple[str, list[Any]]:
    """Give the whole SQL question and its parameters; with `most`, for no more than so many rows.

    The last column is the body of the visit, or else only the `seq` of its entry, for a million rows of a few visits.
    The order is the date's, then visit, name and id: free of `seq`, the same in every copy of the ledger.
    """
    terms = conditions(wanted, wanted.taxa or _names(connection, wanted.taxon))
    if wanted.locality is not None:
        terms.append(_place(connection, wanted.locality))
    if wanted.text is not None:
        terms.append(_text(connection, wanted.text))
    best = _driver(connection, terms)
    rest = [term for term in terms if term is not best]
    source, first_values = _bounded(best, terms) if best is not None else ("listed AS l INDEXED BY listed_day", ())
    table, _, first = source.partition(" WHERE ")
    order = f"{(best and best.order) or _IN_DAYS}, l.taxon, l.subject"
    where = " AND ".join([first or "true", *(f"({term.term})" for term in rest)])
    values = [*first_values, *(value for term in rest for value in term.values)]
    asked = _ASKED + (_BODY_OF_VISIT if visit_body else _SEQ_OF_VISIT)
    if most is None:
        joined = f"{table} CROSS JOIN entry AS s ON s.seq = l.seq CROSS JOIN entry AS v ON v.seq = l.visit_seq"
        return f"SELECT {asked} FROM {joined} WHERE {where} ORDER BY {order}", values  # noqa: S608  (values are bound)
    # The page is found by what is listed alone; whole entries are read for its few rows only.
    listed = "l.seq, l.visit_seq, l.diverged, l.day, l.visit_id, l.taxon, l.subject"
    page = f"SELECT {listed} FROM {table} WHERE l.visit_seq IS NOT NULL AND {where} ORDER BY {order} LIMIT ?"  # noqa: S608
    joined = f"({page}) AS l CROSS JOIN entry AS s ON s.seq = l.seq CROSS JOIN entry AS v ON v.seq = l.visit_seq"
    sorted_again = f"SELECT {asked} FROM {joined} ORDER BY {_IN_DAYS}, l.taxon, l.subject"  # noqa: S608
    return sorted_again, [*values, most]


def _driver(connection: sqlite3.Connection, terms: list[Condition]) -> Condition | None:
    """Choose what to begin with: what few sightings meet, else the rarest of what comes in the order of days."""
    drivers = [term for term in terms if term.driver]
    if len(drivers) == 1 and drivers[0].order:
        return drivers[0]
    counted: list[tuple[int, int]] = []
    for place, driver in enumerate(drivers):
        # Once one is known to be rare, the others need not be counted any further than that.
        most = min([FEW, *(count for count, _ in counted)])
        counted.append((_count(connection, *_bounded(driver, terms), most), place))
    if not counted:
        return None
    least, place = min(counted)
    if least <= FEW:
        return drivers[place]
    in_order = [one for one in counted if drivers[one[1]].order]
    if in_order:
        return drivers[min(in_order)[1]]
    return next((driver for driver in drivers if driver.few), None)


def _bounded(driver: Condition, terms: list[Condition]) -> tuple[str, tuple[Any, ...]]:
    """Give FROM and WHERE of a driver and its values, with what is asked of the days where its index has them."""
    source = driver.driver
    values = driver.values if driver.driver_values is None else driver.driver_values
    day = driver.order.partition(",")[0]
    for term in terms:
        if day and term.bound and term is not driver:
            source, values = f"{source} AND {term.bound.format(day=day)}", (*values, *term.bound_values)
    return source, values


def _count(connection: sqlite3.Connection, source: str, values: tuple[Any, ...], most: int) -> int:
    sql = f"SELECT count(*) FROM (SELECT 1 FROM {source} LIMIT {most + 1})"  # noqa: S608  (values are bound)
    count: int = connection.execute(sql, values).fetchone()[0]
    return count


def _names(connection: sqlite3.Connection, name: str | None) -> tuple[str, ...] | None:
    """Give the scientific names that one means: itself, those of an English name, and the species of a genus."""
    if name is None:
        return None
    found = _beside(connection, name)
    return tuple(dict.fromkeys([name, *found])) if found != [name] else (name,)


def taxa_called(connection: sqlite3.Connection, name: str) -> tuple[str, ...]:
    """Give the scientific names that are listed and called so, as `Wanted.taxon` means it; empty where none is."""
    itself = connection.execute("SELECT taxon FROM listed INDEXED BY listed_taxon WHERE taxon = ? LIMIT 1", (name,))
    return tuple(dict.fromkeys([*(taxon for (taxon,) in itself), *_beside(connection, name)]))


def taxa_with_words(connection: sqlite3.Connection, text: str) -> tuple[str, ...]:
    """Give the scientific names in the ledger of which, or of the English name of which, these words begin words."""
    wanted = " ".join(words_of(text))
    asked = "SELECT DISTINCT taxon, vernacular FROM entry WHERE kind = 'sighting' AND taxon IS NOT NULL"
    rows = connection.execute(asked).fetchall()
    found = (row[0] for row in rows if wanted and any(_begins_words(name or "", wanted) for name in row))
    return tuple(dict.fromkeys(found))


def _beside(connection: sqlite3.Connection, name: str) -> list[str]:
    """The species of a genus of this name, and the one of this English name."""
    # The names from "Genus " up to the sign after the blank; each is found by one jump through the index.
    asked = """
      WITH RECURSIVE next (taxon) AS (
        SELECT min(taxon) FROM listed INDEXED BY listed_taxon WHERE taxon > ?1 || ' ' AND taxon < ?1 || '!'
        UNION ALL
        SELECT (SELECT min(taxon) FROM listed INDEXED BY listed_taxon WHERE taxon > next.taxon AND taxon < ?1 || '!')
        FROM next WHERE next.taxon IS NOT NULL)
      SELECT taxon FROM next WHERE taxon IS NOT NULL
      UNION SELECT (SELECT taxon FROM entry WHERE kind = 'sighting' AND vernacular = ?1 LIMIT 1)"""
    return [taxon for (taxon,) in connection.execute(asked, (name,)) if taxon is not None]


def _place(connection: sqlite3.Connection, part: str) -> Condition:
    """Give the condition for a part of the name of a place: the sightings there where they are few, else the names."""
    names = json.dumps(_place_names(connection, part))
    asked = """SELECT count(*) FROM (SELECT 1 FROM listed_visit INDEXED BY listed_visit_place
      WHERE locality IS NOT NULL AND locality COLLATE NOCASE IN (SELECT value FROM json_each(?)) LIMIT ?)"""
    [visits] = connection.execute(asked, (names, COMMON)).fetchone()
    if visits <= FEW_AT_PLACES:
        asked = f"SELECT json_group_array(id), count(*) FROM ({_AT_PLACES} LIMIT ?)"  # noqa: S608  (values are bound)
        ids, count = connection.execute(asked, (names, names, names, FEW_AT_PLACES + 1)).fetchone()
        if count <= FEW_AT_PLACES:
            return gathered(ids)
    return at_places(names, common=visits >= COMMON)


def _place_names(connection: sqlite3.Connection, part: str) -> list[str]:
    """Give the names of places, of sightings and of visits, that have this in them; capitals or not are all one."""
    # Each name is found by one jump through the index, however many are there.
    asked = r"""
      WITH RECURSIVE next (name) AS (
        SELECT (SELECT locality FROM {0} WHERE locality IS NOT NULL ORDER BY locality COLLATE NOCASE LIMIT 1)
        UNION ALL
        SELECT (SELECT locality FROM {0} WHERE locality IS NOT NULL AND locality COLLATE NOCASE > next.name
          ORDER BY locality COLLATE NOCASE LIMIT 1)
        FROM next WHERE next.name IS NOT NULL)
      SELECT name FROM next WHERE name LIKE ? ESCAPE '\'"""
    found: list[str] = []
    for index in ("listed INDEXED BY listed_place", "listed_visit INDEXED BY listed_visit_place"):
        found += (name for (name,) in connection.execute(asked.format(index), (part_of_name(part),)))
    return found


def _text(connection: sqlite3.Connection, text: str) -> Condition:
    """Give the condition for words, each of which has to begin a word of the sighting or its visit.

    Where one word is rare, the index of words finds what has it, and the others are looked for there. Where none
    is, but all together are, the index is asked for all. Else the words themselves are looked at, one sighting
    after another: the index would take all that match together before the first is shown.
    """
    words = words_of(text)
    if not words:
        return Condition("false", (), "listed AS l WHERE false")
    connection.create_function("begins_words", 2, _begins_words, deterministic=True)
    # The quick look first: it knows no accents, so it is for plain ASCII only, and leaves little for the slow one.
    plain = [word for word in words if word.isascii() and len(word) > 2]
    quick = "".join("(l.words LIKE ? OR l.words GLOB '*[^ -~]*') AND " for _ in plain)
    term = f"{quick}begins_words(l.words, ?)"
    values = (*(f"%{word}%" for word in plain), " ".join(words))
    among = "l.id IN (SELECT value FROM json_each(?))"
    found, whole = _found(connection, words)
    if found is None:
        return Condition(term, values)
    if whole:
        return gathered(found)
    return Condition(f"{among} AND {term}", (found, *values), f"listed AS l WHERE {among} AND {term}")


def _found(connection: sqlite3.Connection, words: list[str]) -> tuple[str | None, bool]:
    """Give the ids of what holds one of the words, or all, as a JSON list, and whether it was asked for all.

    None where that is many. Words as short as two letters are taken to be in many, without counting.
    """
    long = [word for word in words if len(word) > 2]
    for word in sorted(long, key=len, reverse=True):
        found = _holding(connection, [word])
        if found is not None:
            return found, len(words) == 1
    return (_holding(connection, long) if len(long) > 1 else None), len(long) == len(words)


def _holding(connection: sqlite3.Connection, words: list[str]) -> str | None:
    """Give the ids of what holds all these words, or None where more than `FEW` do."""
    # Whole words first: they are counted one by one, beginnings only all together.
    for sign, asked in (("", "count(*)"), ("*", "json_group_array(rowid)")):
        match = " AND ".join(f'"{word}"{sign}' for word in words)
        sql = f"""SELECT {asked}, count(*) FROM (
                    SELECT rowid FROM listed_words WHERE listed_words MATCH ? LIMIT {FEW + 1})"""  # noqa: S608
        found, count = connection.execute(sql, (match,)).fetchone()
        if count > FEW:
            return None
    return str(found)


def words_of(text: str) -> list[str]:
    """Cut a text into words as the index does: letters and digits, without case and accents; the rest parts them."""
    if text.isascii():
        return list(dict.fromkeys(re.findall("[a-z0-9]+", text.lower())))
    bare = (sign for sign in unicodedata.normalize("NFD", text) if unicodedata.category(sign) != "Mn")
    kept = "".join(sign.lower() if unicodedata.category(sign)[0] in "LN" else " " for sign in bare)
    return list(dict.fromkeys(kept.split()))


def _begins_words(text: str, wanted: str) -> bool:
    words = f" {' '.join(words_of(text))}"
    return all(f" {word}" in words for word in wanted.split())
