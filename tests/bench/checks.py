"""Checks over a large ledger or file against a bare loop, in one run:  python tests/bench/checks.py [SIGHTINGS].

The bare loop reads the columns of the export from a plain SQLite table and writes them with csv.writer. Bound: all
checks, duplicates and history included, take at most 6 times as long, over the ledger and over the exported file. Exit
1 when it is broken. Not a test: CI runs no clocks. Each is run in turns, and the best of three counts, because machines
are busy; the processor's time is counted, for others work on the machine too.

    python tests/bench/checks.py --memory [ROWS]    what a file of a million rows in no order takes; bound 300 MB
"""

from __future__ import annotations

import csv
import itertools
import os
import random
import resource
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from reedmace.checks.query import grounds
from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.occurrence import occurrence
from reedmace.keys.cache import load_key
from reedmace.keys.model import Key
from reedmace.keys.names import find_name
from reedmace.keys.seasons import third_of
from reedmace.keys.shipped import find_key
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.places.place import read_place
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.tasks.checking.check_file import check_file
from reedmace.tasks.checking.check_records import check_ledger
from reedmace.tasks.shared.taxa import taxon_of

BOUND = 6.0
MOST_MB = 300
A_VISIT = 20


def fill(ledger: Ledger, key: Key, sightings: int) -> None:
    """Walks of twenty sightings each at two hundred invented ponds, over ten seasons."""
    dice = random.Random(1)
    number = itertools.count(1)
    new_id = lambda: f"{next(number):032x}"  # noqa: E731
    person = ledger.people.register("Ada Marsh", new_id)
    ponds = []
    for pond in range(200):
        place = read_place(f"SU {dice.randrange(1000):03} {dice.randrange(1000):03}")
        latitude, longitude = place.rounded()
        ponds.append(
            PlaceRecord(
                place.typed,
                "GB",
                place.square,
                100,
                latitude,
                longitude,
                76,
                None,
                "11",
                ("south-east",),
                f"Pond {pond}",
            )
        )
    taxa = {species.name: taxon_of(key, find_name(key, species.name)) for species in key.species}
    here = [
        species
        for species in key.species
        if species.more.levels.get("south-east", "absent") not in ("absent", "vagrant")
    ]

    def name(day: date) -> Taxon:
        """Mostly what flies there then, one in twenty anything."""
        third = third_of(day.month, day.day)
        out = [one for one in here if one.flight and one.flight[0] <= third <= one.flight[3]]
        return taxa[dice.choice(out if out and dice.random() < 0.95 else key.species).name]

    for _ in range(sightings // A_VISIT):
        day = date.fromordinal(date(2016, 1, 1).toordinal() + 365 * dice.randrange(10) + dice.randrange(120, 270))
        visit = Visit(new_id(), day.isoformat(), place=dice.choice(ponds), observers=(person,), habitat="lake")
        seen = [
            Sighting(
                new_id(), new_id(), visit.id, name(day), count=dice.randrange(1, 30), count_kind="exact",
                sex=dice.choice(("male", "female", None)), stage="adult", determiner=person, determined_on=visit.date,
                typed="12 of something m",
            )
            for _ in range(A_VISIT)
        ]  # fmt: skip
        ledger.record_walk(visit, seen, person, "2026-07-12T10:00:00Z", new_id)


def plain_table(ledger: Ledger, path: Path) -> sqlite3.Connection:
    """The rows of the export in a table of their own."""
    bare = sqlite3.connect(path)
    columns = ", ".join(f'"{column}" TEXT' for column in DEFAULT_COLUMNS)
    bare.execute(f"CREATE TABLE line ({columns})")
    rows = (
        tuple(occurrence(sighting, visit, meta.modified, ledger.people.name_of).values())
        for sighting, visit, meta in ledger.current_sightings()
    )
    bare.executemany(f"INSERT INTO line VALUES ({', '.join('?' * len(DEFAULT_COLUMNS))})", rows)
    bare.commit()
    return bare


def seconds(task: Callable[[], object]) -> float:
    """How long it takes."""
    begin = time.process_time()
    task()
    return time.process_time() - begin


def big_file(path: Path, rows: int) -> None:
    """A file of rows in no order: every day, pond, name and count drawn anew, ids and events of their own."""
    dice = random.Random(2)
    names = ("Aeshna cyanea", "Anax imperator", "Ischnura elegans", "Sympetrum striolatum", "Enallagma cyathigerum")
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        terms = [
            "occurrenceID",
            "basisOfRecord",
            "occurrenceStatus",
            "eventID",
            "eventDate",
            "recordedBy",
            "scientificName",
            "individualCount",
            "sex",
            "lifeStage",
            "verbatimCoordinates",
            "locality",
        ]
        writer.writerow(terms)
        for number in range(rows):
            day = date.fromordinal(date(1996, 1, 1).toordinal() + dice.randrange(10_000)).isoformat()
            square = f"SU {dice.randrange(1000):03} {dice.randrange(1000):03}"
            event = f"event-{dice.randrange(rows // 4)}"
            writer.writerow((f"0198c2a1-b3d4-7000-8000-{number:012}", "HumanObservation", "present", event, day,
                             "Ada Marsh", dice.choice(names), dice.randrange(1, 40), dice.choice(("male", "female")),
                             "adult", square, f"Pond {dice.randrange(2000)}"))  # fmt: skip


def memory(rows: int) -> int:
    """Check such a file in this process, and print what it took."""
    key = load_key(find_key(None), None)
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "big.csv"
        big_file(path, rows)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        queries = sum(len(one.queries) for one in check_file(grounds(key, date(2026, 7, 12)), path))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    good = peak <= MOST_MB
    print(f"{'ok  ' if good else 'OVER'}  {rows:,} rows in no order, {queries:,} queries: peak {peak:.0f} MB, of that")
    print(f"      {before:.0f} MB before the first row (bound {MOST_MB} MB)")
    return 0 if good else 1


def main() -> int:
    """Measure, print the ratios, say whether the bound holds."""
    if sys.argv[1:2] == ["--memory"]:
        return memory(int(sys.argv[2]) if len(sys.argv) > 2 else 1_000_000)
    sightings = int(sys.argv[1]) if len(sys.argv) > 1 else 50_000
    key = load_key(find_key(None), None)
    judged = grounds(key, date(2026, 7, 12))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ.setdefault("HOME", name)
        with open_ledger(folder / "walks.ledger") as ledger:
            fill(ledger, key, sightings)
            bare = plain_table(ledger, folder / "bare.db")
            out = folder / "bare.csv"

            def loop() -> None:
                with out.open("w", encoding="utf-8", newline="") as file:
                    writer = csv.writer(file, lineterminator="\n")
                    writer.writerow(DEFAULT_COLUMNS)
                    writer.writerows(bare.execute("SELECT * FROM line"))

            queries = 0

            def reading() -> None:
                for _ in ledger.current_sightings():
                    pass

            def checks() -> None:
                nonlocal queries
                queries = sum(len(one.queries) for one in check_ledger(judged, ledger))

            def raw() -> None:
                for _ in check_file(judged, out):
                    pass

            taken = [[seconds(task) for task in (loop, reading, checks, raw)] for _ in range(3)]
            bare_s, read_s, check_s, raw_s = (min(turn[at] for turn in taken) for at in range(4))
    each = 1e6 / sightings
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{sightings} sightings, {queries} queries, peak memory {peak:.0f} MB; microseconds a sighting:")
    print(f"  bare loop {bare_s * each:.1f}; reading the ledger {read_s * each:.1f}; checking it {check_s * each:.1f};")
    print(f"  checking the CSV {raw_s * each:.1f}")
    ratio = check_s / bare_s
    print(f"{'ok  ' if ratio <= BOUND else 'OVER'}  checks over the ledger / bare loop: {ratio:.2f} (bound {BOUND:g})")
    print(f"      of that reading the ledger: {read_s / bare_s:.2f}")
    raw_ratio = raw_s / bare_s
    good = raw_ratio <= BOUND
    print(f"{'ok  ' if good else 'OVER'}  checks over the exported CSV / bare loop: {raw_ratio:.2f} (bound {BOUND:g})")
    return 0 if good and ratio <= BOUND else 1


if __name__ == "__main__":
    sys.exit(main())
