"""The sightings that somebody wants to see, streamed, and the taxa that their words mean."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from reedmace.ledger import finding
from reedmace.ledger.entries import EntryMeta, meta, read_sighting, read_visit
from reedmace.ledger.trouble import told
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit


def sightings(
    connection: sqlite3.Connection, path: str, wanted: Wanted | None, most: int | None = None
) -> Iterator[tuple[Sighting, Visit, EntryMeta]]:
    """Stream the wanted sightings (None: all) with their visits, in a stable order; with `most`, the first so many.

    All rows are of one moment, whatever is written meanwhile. Finish or drop the stream before writing.
    """
    visit_entry, visit = "", None
    with told(path):
        sql, values = finding.question(connection, wanted or Wanted(), most)
        for *columns, differs, modified, body, entry, of_visit in connection.execute(sql, values):
            if visit is None or entry != visit_entry:
                visit_entry, visit = entry, read_visit(of_visit, entry, path)
            yield read_sighting(body, columns[0], path), visit, meta(columns, differs, modified, entry)


class Body(NamedTuple):
    """A sighting as the text of its body, and what is known of its entry: `first` where it follows no other."""

    text: str
    subject: str
    modified: str
    first: bool
    row: Sequence[Any]

    def meta(self) -> EntryMeta:
        """Give the meta of its entry."""
        *columns, differs, modified, _, entry, _ = self.row
        return meta(columns, differs, modified, entry)


def bodies(connection: sqlite3.Connection, path: str, wanted: Wanted) -> Iterator[tuple[Body, Visit]]:
    """As `sightings`, each as the text of its body, for those who read a million of them in a way of their own."""
    visit_seq, visit = None, None
    make = Body._make  # the quickest way there is
    with told(path):
        sql, values = finding.question(connection, wanted, visit_body=False)
        of_visit = "SELECT body FROM entry WHERE seq = ?"
        for row in connection.execute(sql, values):
            if visit is None or row[-1] != visit_seq:
                visit_seq = row[-1]
                visit = read_visit(connection.execute(of_visit, (visit_seq,)).fetchone()[0], row[-2], path)
            yield make((row[-3], row[3], row[-4], row[1] is None, row)), visit


def taxa_called(connection: sqlite3.Connection, path: str, name: str) -> tuple[str, ...]:
    """The scientific names listed that are called so."""
    with told(path):
        return finding.taxa_called(connection, name)


def taxa_with_words(connection: sqlite3.Connection, path: str, text: str) -> tuple[str, ...]:
    """The scientific names with words that begin so, in them or in their English name."""
    with told(path):
        return finding.taxa_with_words(connection, text)
