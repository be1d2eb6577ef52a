"""A ledger `pond` into which sheets are imported, for tests of what becomes of their rows."""

from __future__ import annotations

import csv
from collections.abc import Callable
from datetime import date
from pathlib import Path

from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit
from reedmace.tasks.sheets.import_told import Imported

TODAY = date(2026, 7, 20)
NOW = "2026-07-20T18:00:00Z"
HEADS = "Date,Site,Grid Ref,Species,No.,Sex,Stage,Recorder,Comments\n"
ROW = '12/07/2026,"Harrowmere, Sallow Farm",SU 431 118,pale rushlet,{},,,Ada Marsh,\n'

Import = Callable[..., Imported]


def kept(tmp_path: Path, ledger: str = "pond") -> list[tuple[Sighting, Visit]]:
    """Give what stands in the ledger."""
    with open_ledger(tmp_path / ledger) as pond:
        return [(sighting, visit) for sighting, visit, _ in pond.current_sightings(Wanted(withdrawn=True))]


def faulty(done: Imported) -> list[dict[str, str]]:
    """Give the rows of the file of faults."""
    assert done.faults_file is not None
    with Path(done.faults_file).open(encoding="utf-8-sig", newline="") as text:
        return list(csv.DictReader(text))
