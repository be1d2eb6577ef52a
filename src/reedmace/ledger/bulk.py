"""Writing a great many records that come with ids of their own, as from a file.

Each portion is written whole, so that a stop in the middle leaves whole visits' worth behind, other programs can
write in between, and doing it again goes on where it stopped: what is there already is not written twice.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from reedmace.faults import Refused
from reedmace.ledger import current
from reedmace.ledger.append import NewId, Record
from reedmace.ledger.entries import Stamp, insert
from reedmace.ledger.trouble import writing
from reedmace.records import Sighting, Visit

_FEW = 3  # records that may be untold of however few are told
_WORKED_OUT = "5"  # the version of such a UUID, its fifteenth sign


class Portion(NamedTuple):
    """What became of a portion: how many records were new, and the faults of those refused, by place in it."""

    new: int
    refused: dict[int, Refused]


class _LoneError(Exception):
    """What was written is to be taken back, for these visits would stand without the sightings they came with."""

    def __init__(self, visits: frozenset[str]) -> None:
        super().__init__(len(visits))
        self.visits = visits


def lone_visits(records: Sequence[Record], refused: Collection[int]) -> frozenset[str]:
    """Give the visits among records all of whose sightings were refused, by their places; not those without any."""
    if not refused:
        return frozenset()
    sightings = [(place, record) for place, record in enumerate(records) if isinstance(record, Sighting)]
    with_some = {record.visit_id for place, record in sightings if place not in refused}
    return frozenset(record.visit_id for _, record in sightings) - with_some


class Bulk:
    """One import into an open ledger."""

    __slots__ = ("_connection", "_path")

    def __init__(self, connection: sqlite3.Connection, path: str) -> None:
        self._connection = connection
        self._path = path

    def there(self, subject: str) -> Record | None:
        """Give the visit or sighting of this id as it stands, withdrawn or not; None where there is none."""
        found = "SELECT 1 FROM entry WHERE subject = ? LIMIT 1"
        if self._connection.execute(found, (subject,)).fetchone() is None:
            return None
        standing = current.standing(self._connection, self._path, subject)
        return standing and standing[0]

    def kept(self, typed: str) -> str:
        """Give the id under which a record stands here, however it is spelt; its one reading where there is none."""
        return current.kept_as(self._connection, self._path, typed)

    def stands(self, subject: str) -> bool:
        """Say whether there is a record of this id that is not withdrawn."""
        standing = current.standing(self._connection, self._path, subject)
        return standing is not None and standing[1].act != "withdrawn"

    def of_visit(self, visit_id: str) -> list[Sighting]:
        """Give the sightings that stand in a visit."""
        ever = "SELECT DISTINCT subject FROM entry WHERE kind = 'sighting' AND visit_id = ?"
        standing = [
            current.standing(self._connection, self._path, subject)
            for (subject,) in self._connection.execute(ever, (visit_id,)).fetchall()
        ]
        return [
            one[0]
            for one in standing
            if one is not None
            and isinstance(one[0], Sighting)
            and one[0].visit_id == visit_id
            and one[1].act != "withdrawn"
        ]

    def untold(self, told: Callable[[str], bool]) -> Iterator[tuple[Sighting, Visit]]:
        """Give what stands of ids worked out from rows, written with records that are told of, and not told of itself.

        Of what was written together most has to be told of: else these are other rows, and not some of them changed.
        Goes through all entries, twice: an import asks for it at its end, and only where it matters.
        """
        begun = """SELECT subject, written_at FROM entry
                   WHERE kind = 'sighting' AND act = 'recorded' AND parent IS NULL"""
        together: dict[str, list[int]] = {}
        for subject, written in self._connection.execute(begun):
            together.setdefault(written, [0, 0])[told(subject)] += 1
        for subject, written in self._connection.execute(begun):
            left, there = together[written]
            if not there or left > max(_FEW, there // 4) or subject[14:15] != _WORKED_OUT or told(subject):
                continue
            standing = current.standing(self._connection, self._path, subject)
            if standing is None or standing[1].act == "withdrawn" or not isinstance(standing[0], Sighting):
                continue
            visit = self.there(standing[0].visit_id)
            if isinstance(visit, Visit):
                yield standing[0], visit

    def write(
        self,
        records: Sequence[tuple[Record, Stamp]],
        new_id: NewId,
        before: Mapping[str, Sequence[tuple[Record, Stamp]]] | None = None,
    ) -> Portion:
        """Write records with what their entries say, visits before their sightings, all that can be or nothing.

        `before` gives, by a record's id, how it stood earlier: entries that come before its own, the oldest first.
        A record that does not fit (`Refused`) is left out; one that has come meanwhile is not written again. A visit
        of which no sighting fits is left out with them: alone it would say that nothing was seen.
        """
        lone = frozenset[str]()
        while True:
            try:
                with writing(self._connection, self._path):
                    portion = self._write(records, new_id, before or {}, lone)
                    found = lone_visits([record for record, _ in records], portion.refused)
                    if found - lone:
                        raise _LoneError(found)
                return portion
            except _LoneError as problem:
                lone = problem.visits

    def _write(
        self,
        records: Sequence[tuple[Record, Stamp]],
        new_id: NewId,
        before: Mapping[str, Sequence[tuple[Record, Stamp]]],
        lone: Collection[str],
    ) -> Portion:
        """Write what fits, but for the visits that would stay alone."""
        new = 0
        refused: dict[int, Refused] = {}
        absent: dict[str, Refused] = {}
        for place, (record, stamp) in enumerate(records):
            if record.id in lone or self._there(record.id):
                continue
            if isinstance(record, Sighting) and record.visit_id in absent:
                refused[place] = absent[record.visit_id]
                continue
            try:
                parent = None
                for one, mark in [*before.get(record.id, ()), (record, stamp)]:
                    entry_id = new_id()
                    insert(self._connection, entry_id, parent, one, mark)
                    parent = entry_id
                new += 1
            except Refused as problem:
                refused[place] = problem
                if isinstance(record, Visit):
                    absent[record.id] = problem
        return Portion(new, refused)

    def _there(self, subject: str) -> bool:
        found = "SELECT 1 FROM entry WHERE subject = ? LIMIT 1"
        return self._connection.execute(found, (subject,)).fetchone() is not None
