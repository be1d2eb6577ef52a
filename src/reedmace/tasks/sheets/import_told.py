"""What became of the rows of an imported file, counted while it is read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from typing import NamedTuple

from reedmace.records import Sighting, Visit
from reedmace.tasks.sheets.corrected import Corrected
from reedmace.tasks.sheets.faults_file import FaultKind, FaultsFile
from reedmace.tasks.sheets.made import Made

_COMPARED = 200  # names for which the key is looked through for one that is like them


class ReadAs(NamedTuple):
    """A name as typed that is no name of the key, what it was taken for, and in how many rows."""

    typed: str
    taken_for: str
    rows: int


class NotInKey(NamedTuple):
    """A scientific name that the key does not have, kept as it is, the key's that looks most like it, how many rows."""

    name: str
    nearest: str
    rows: int


class Imported(NamedTuple):
    """What became of the rows: new sightings and visits, sightings that were there, rows left out, faulty ones.

    `faults` are the kinds of fault by code; `faults_file` is where they went, None where there were none (or dry).
    `nobody` of the rows brought in named nobody who observed; they are credited to `observer`. `read_as` are their
    names that had to be read into something, the most frequent first. `withdrawals` are rows that ask that a record
    be taken out, `to_withdraw` the ids of those that stand in this ledger. `corrected` are new records that look like
    corrections of others. `not_in_key` are names that were kept as they are, the most frequent first. `timeless`
    rows have a time of another zone in a year for which that is not reckoned with; they came in without it.
    `repeated` are the lines of a file of faults whose rows say just what a record says that is there: read before, or
    another of the same. `new_people` are those who came into the register, in the order of their rows,
    and `may_be` those of them whose name may be short for another's, each with the others.
    """

    rows: int
    sightings: int
    visits: int
    there: int
    left_out: int
    faulty: int
    faults: dict[str, FaultKind]
    faults_file: str | None
    nobody: int = 0
    observer: str = ""
    read_as: tuple[ReadAs, ...] = ()
    withdrawals: int = 0
    to_withdraw: tuple[str, ...] = ()
    corrected: tuple[Corrected, ...] = ()
    not_in_key: tuple[NotInKey, ...] = ()
    timeless: int = 0
    new_people: tuple[str, ...] = ()
    repeated: tuple[int, ...] = ()
    may_be: tuple[tuple[str, tuple[str, ...]], ...] = ()


class Tally:
    """The counts of one import under way. `observer` is credited with the rows that name nobody."""

    def __init__(self, observer: str) -> None:
        self.rows = self.sightings = self.visits = self.there = self.left_out = self.nobody = self.withdrawals = 0
        self.timeless = 0
        self.repeated: dict[int, None] = {}
        self._observer = observer
        self._read_as: Counter[tuple[str, str]] = Counter()
        self._unknown: Counter[str] = Counter()
        self._to_withdraw: dict[str, None] = {}

    def asked(self, record: str, *, stands: bool) -> None:
        """Count a row that asks that a record be taken out, which `stands` in this ledger or does not."""
        self.withdrawals += 1
        if stands:
            self._to_withdraw[record] = None

    def wrote(self, records: list[Visit | Sighting], rows: list[Made]) -> None:
        """Count what was written, and of these rows those of which a sighting was."""
        written = {record.id for record in records if isinstance(record, Sighting)}
        self.sightings += len(written)
        self.visits += len(records) - len(written)
        for made in rows:
            if not written.isdisjoint(one.id for one in made.sightings):
                self.nobody += made.nobody
                self.timeless += made.timeless
                if made.named is not None and made.named.unknown:
                    self._unknown[made.named.taxon.scientific_name] += 1
                elif made.named is not None:
                    self._read_as[made.named.taxon.typed, made.named.told] += 1

    def told(
        self,
        faults: FaultsFile,
        corrected: tuple[Corrected, ...],
        nearest: Callable[[str], str],
        new_people: Iterable[str] = (),
    ) -> Imported:
        """Give what became of the rows; `nearest` gives the name of the key that looks most like another."""
        unknown = sorted(self._unknown.items(), key=lambda one: (-one[1], one[0]))
        return Imported(
            self.rows,
            self.sightings,
            self.visits,
            self.there,
            self.left_out,
            faults.rows,
            faults.kinds,
            faults.name,
            self.nobody,
            self._observer if self.nobody else "",
            tuple(ReadAs(*names, rows) for names, rows in self._names()),
            self.withdrawals,
            tuple(self._to_withdraw),
            corrected,
            tuple(
                NotInKey(name, nearest(name) if place < _COMPARED else "", rows)
                for place, (name, rows) in enumerate(unknown)
            ),
            self.timeless,
            tuple(new_people),
            tuple(self.repeated),
        )

    def _names(self) -> list[tuple[tuple[str, str], int]]:
        return sorted(self._read_as.items(), key=lambda one: (-one[1], one[0]))
