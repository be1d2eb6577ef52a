"""From a choice of sightings to the one question that finds them soonest.

A page of a million sightings has to come at once. Walking the days in order gives one quickly where much of
what is met is wanted; where little is, going through the few that meet the rarest condition and sorting them
is quicker. Which it is, is counted by index, up to a limit.
"""

from __future__ import annotations

import sqlite3
import unicodedata
from typing import Any

from reedmace.ledger.wanted import Condition, Wanted, conditions

# Up to so many are fetched and sorted; a walk through the days meets a page's worth of more sooner.
FEW = 10_000

_ASKED = (
    's.entry_id, s.parent, s.kind, s.subject, s.act, s.reason, s."by", s.written_at,'
    " l.diverged, max(s.written_at, v.written_at), s.body, v.entry_id, v.body"
)


def question(connection: sqlite3.Connection, wanted: Wanted, most: int | None = None) -> tuple[str, list[Any]]:
    """Give the whole SQL question and its parameters; with `most`, for no more than so many rows.

    The order is the date's, then visit, name and id: free of `seq`, the same in every copy of the ledger.
    """
    terms = conditions(wanted)
    text = _text(wanted)
    drivers = [term for term in terms if term.driver]
    best, count = _rarest(connection, drivers)
    if text is not None and _matches(connection, text) <= min(FEW, count):
        best, count = text, 0
    rest = [term for term in terms if term is not best]
    if text is not None and text is not best:
        # Asked of one sighting after another, so that the walk can stop at the end of the page.
        exists = "EXISTS (SELECT 1 FROM listed_words WHERE listed_words MATCH ? AND rowid = l.id)"
        rest.append(Condition(exists, text.values))
    source, values, order = _from(best, ordered=count > FEW or best is None)
    order += ", l.taxon, l.subject"
    where = " AND ".join([source.partition(" WHERE ")[2] or "true", *(f"({term.term})" for term in rest)])
    values += [value for term in rest for value in term.values]
    table = source.partition(" WHERE ")[0]
    if most is None:
        joined = f"{table} CROSS JOIN entry AS s ON s.seq = l.seq CROSS JOIN entry AS v ON v.seq = l.visit_seq"
        return f"SELECT {_ASKED} FROM {joined} WHERE {where} ORDER BY {order}", values  # noqa: S608  (values are bound)
    # The page is found by what is listed alone; whole entries are read for its few rows only.
    page = f"SELECT l.* FROM {table} WHERE l.visit_seq IS NOT NULL AND {where} ORDER BY {order} LIMIT ?"  # noqa: S608
    joined = f"({page}) AS l CROSS JOIN entry AS s ON s.seq = l.seq CROSS JOIN entry AS v ON v.seq = l.visit_seq"
    return f"SELECT {_ASKED} FROM {joined} ORDER BY l.day, l.visit_id, l.taxon, l.subject", [*values, most]  # noqa: S608


def _from(best: Condition | None, *, ordered: bool) -> tuple[str, list[Any], str]:
    """Give FROM and WHERE, their values, and by what the rows come in the order of days and visits."""
    if best is None:
        return "listed AS l INDEXED BY listed_day", [], "l.day, l.visit_id"
    if ordered and "INDEXED BY" not in best.driver and not best.order.startswith("w."):
        # Too many to sort, and no index that has them in order: walk the days.
        return f"listed AS l INDEXED BY listed_day WHERE ({best.term})", list(best.values), best.order
    return best.driver, list(best.values), best.order


def _rarest(connection: sqlite3.Connection, drivers: list[Condition]) -> tuple[Condition | None, int]:
    """Give the condition that the fewest sightings meet, and how many, counted up to just over `FEW`."""
    counted = []
    for place, driver in enumerate(drivers):
        sql = f"SELECT count(*) FROM (SELECT 1 FROM {driver.driver} LIMIT {FEW + 1})"  # noqa: S608
        counted.append((connection.execute(sql, driver.values).fetchone()[0], place, driver))
    if not counted:
        return None, FEW + 1
    count, _, best = min(counted, key=lambda one: one[:2])
    return best, count


def _matches(connection: sqlite3.Connection, text: Condition) -> int:
    sql = f"SELECT count(*) FROM (SELECT 1 FROM listed_words WHERE listed_words MATCH ? LIMIT {FEW + 1})"  # noqa: S608
    count: int = connection.execute(sql, text.values).fetchone()[0]
    return count


def _text(wanted: Wanted) -> Condition | None:
    """Give the condition for words, searched for as beginnings of words."""
    if wanted.text is None:
        return None
    words = words_of(wanted.text)
    if not words:
        return Condition("false", (), "listed AS l WHERE false")
    match = " AND ".join(f'"{word}"*' for word in words)
    term = "l.id IN (SELECT rowid FROM listed_words WHERE listed_words MATCH ?)"
    return Condition(term, (match,), f"listed AS l WHERE {term}")


def words_of(text: str) -> list[str]:
    """Cut a text into words as the index does: letters and digits, everything else parts them."""
    kept = "".join(sign if unicodedata.category(sign)[0] in "LNM" or sign == "\u200d" else " " for sign in text)
    return list(dict.fromkeys(kept.split()))
