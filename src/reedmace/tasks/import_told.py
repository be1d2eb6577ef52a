"""What became of the rows of an imported file, counted while it is read."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.records import Sighting, Visit
from reedmace.tasks.faults_file import FaultKind, FaultsFile
from reedmace.tasks.sheet_records import Made


class Imported(NamedTuple):
    """What became of the rows: new sightings and visits, sightings that were there, rows left out, faulty ones.

    `faults` are the kinds of fault by code; `faults_file` is where they went, None where there were none (or dry).
    `nobody` of the rows brought in named nobody who observed; they are credited to `observer`.
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


class Tally:
    """The counts of one import under way. `observer` is credited with the rows that name nobody."""

    def __init__(self, observer: str) -> None:
        self.rows = self.sightings = self.visits = self.there = self.left_out = self.nobody = 0
        self._observer = observer

    def wrote(self, records: list[Visit | Sighting], rows: list[Made]) -> None:
        """Count what was written, and of these rows those of which a sighting was."""
        written = {record.id for record in records if isinstance(record, Sighting)}
        self.sightings += len(written)
        self.visits += len(records) - len(written)
        for made in rows:
            if not written.isdisjoint(one.id for one in made.sightings):
                self.nobody += made.nobody

    def told(self, faults: FaultsFile) -> Imported:
        """Give what became of the rows."""
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
        )
