"""Exporting a county's worth of sightings, as ratios in one run.

    python tests/bench/export_speed.py [SIGHTINGS]

A made ledger of SIGHTINGS (100,000) is exported to CSV by `export` in a process of its own, against a bare loop in
another: the same cells, ready made in a table of as many columns, from sqlite3 to csv.writer. The two take turns, and
the best of three counts, by processor time, for others may be at work on the machine. Memory is that of the exporting
process. Exit 1 when a bound is broken. Not a test: CI runs no clocks.
"""

from __future__ import annotations

import csv
import json
import os
import random
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from reedmace.keys.cache import load_key
from reedmace.keys.names import FoundName, find_name
from reedmace.keys.shipped import find_key
from reedmace.ledger.entries import stamp
from reedmace.ledger.store import open_ledger
from reedmace.places.place import Place, read_place
from reedmace.records import Answer, Naming, PlaceRecord, Ranked, Sighting, Visit
from reedmace.tasks.shared.taxa import taxon_of

REEDMACE = Path(sys.executable).parent / "reedmace"
BOUND = 2.0
MEMORY_MB = 200
PORTION = 5000
_REMARKS = ("", "", "", "by the sluice", "over the reeds, in the sun", "patrolling the far bank")

_BARE = """
import csv, sqlite3, sys, time
begin = time.perf_counter()
connection = sqlite3.connect(sys.argv[1])
with open(sys.argv[2], "w", encoding="utf-8", newline="") as out:
    writer = csv.writer(out, lineterminator="\\n")
    rows = connection.execute("SELECT * FROM ready ORDER BY rowid")
    writer.writerow(column[0] for column in rows.description)
    writer.writerows(rows)
print(time.perf_counter() - begin, time.process_time())
"""
_OURS = """
import contextlib, io, os, resource, sys, time
begin = time.perf_counter()
os.environ["REEDMACE_LEDGER"] = sys.argv[1]
from reedmace.cli.main import _run
with contextlib.redirect_stdout(io.StringIO()):
    assert _run(["export", "--to", sys.argv[2], "--force"]) == 0
print(time.perf_counter() - begin, time.process_time())
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
"""


def walks(sightings: int) -> Iterator[tuple[Visit, list[Sighting]]]:
    """Walks of a few sightings over forty years; one in ten named with the key."""
    chance = random.Random(11)
    key = load_key(find_key(None), None)
    taxa = [taxon_of(key, found) for one in key.species if isinstance(found := find_name(key, one.name), FoundName)]
    places = [_place(f"SU {east} {north}") for east in range(400, 460, 3) for north in range(100, 160, 7)]
    ranking = tuple(Ranked(taxon.scientific_name, "male", 0.1) for taxon in taxa[:10])
    naming = Naming(key.id, key.version, key.digest, "beginner", (Answer("stripe", "broad"),), ranking=ranking)
    number = walk = 0
    while number < sightings:
        walk += 1
        day = f"{chance.randint(1985, 2025)}-{chance.randint(5, 9):02}-{chance.randint(1, 28):02}"
        visit = Visit(
            f"01a20000-0000-7000-8000-{walk:012}",
            day,
            *("", "10:30", "12:00"),
            chance.choice(places),
            (f"p-{chance.randint(1, 12)}",),
            weather="18 °C, calm",
            temperature_c=18,
        )
        seen = []
        for _ in range(min(chance.randint(4, 16), sightings - number)):
            number += 1
            taxon = chance.choice(taxa)
            count = chance.randint(1, 40)
            seen.append(
                Sighting(
                    *(f"01a30000-0000-7000-8000-{number:012}", f"01a40000-0000-7000-8000-{number:012}", visit.id),
                    taxon._replace(typed=taxon.vernacular.lower()),
                    naming if number % 10 == 0 else None,
                    *(count, None, "exact"),
                    sex=chance.choice(("male", "female", None)),
                    stage="adult",
                    determiner=visit.observers[0],
                    determined_on=day,
                    remarks=chance.choice(_REMARKS),
                    typed=f"{count} {taxon.vernacular.lower()}",
                )
            )
        yield visit, seen


def _place(typed: str) -> PlaceRecord:
    found = read_place(typed)
    assert isinstance(found, Place)
    assert found.uncertainty_m
    where = (typed, found.system, found.square, found.side_m, *found.rounded(), round(found.uncertainty_m))
    return PlaceRecord(*where, vice_county="11", locality=f"Harrowmere, pond {typed[3:6]}")


def filled(path: Path, sightings: int) -> None:
    """Write the ledger."""
    numbers = iter(range(10**9))
    with open_ledger(path) as ledger:
        for person in range(1, 13):
            ledger.people.register(f"Ada Marsh {'I' * person}", lambda person=person: f"p-{person}")
        mark = stamp("recorded", "", "p-1", "2026-01-01T00:00:00Z")
        bulk = ledger.importing()
        waiting: list[tuple[Visit | Sighting, object]] = []
        for visit, seen in walks(sightings):
            waiting += [(record, mark) for record in (visit, *seen)]
            if len(waiting) > PORTION:
                bulk.write(waiting, lambda: f"e-{next(numbers)}")  # type: ignore[arg-type]
                waiting = []
        bulk.write(waiting, lambda: f"e-{next(numbers)}")  # type: ignore[arg-type]


def ready(table: Path, exported: Path) -> None:
    """Put the cells of an exported file into a plain table."""
    connection = sqlite3.connect(table)
    with exported.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file)
        header = next(reader)
        columns = ", ".join(f'"{name}" TEXT' for name in header)
        connection.execute(f"CREATE TABLE ready ({columns})")
        connection.executemany(f"INSERT INTO ready VALUES ({', '.join('?' * len(header))})", reader)
    connection.commit()
    connection.close()


def ran(script: str, *arguments: Path) -> list[float]:
    """What a script prints, run in a process of its own."""
    command = [sys.executable, "-c", script, *map(str, arguments)]
    done = subprocess.run(command, check=True, capture_output=True, text=True, env=os.environ)
    return [float(line) for line in done.stdout.split()]


def main() -> int:
    """Measure, print, compare."""
    sightings = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        filled(folder / "ledger", sightings)
        ran(_OURS, folder / "ledger", folder / "ours.csv")
        ready(folder / "ready", folder / "ours.csv")
        ours, bare, memory = [], [], 0.0
        for _ in range(3):
            bare.append(ran(_BARE, folder / "ready", folder / "bare.csv"))
            *seconds, memory = ran(_OURS, folder / "ledger", folder / "ours.csv")
            ours.append(seconds)
        same = (folder / "ours.csv").read_bytes() == (folder / "bare.csv").read_bytes()
        size = (folder / "ours.csv").stat().st_size / 1e6
    (wall, cpu), (bare_wall, bare_cpu) = (map(min, zip(*runs, strict=True)) for runs in (ours, bare))
    ratio = cpu / bare_cpu
    told = {"sightings": sightings, "ours_s": wall, "bare_s": bare_wall, "ratio": ratio, "memory_mb": memory}
    sys.stdout.write(
        f"export of {sightings:,} sightings: {cpu:.2f} s of processor time, bare loop {bare_cpu:.2f} s,"
        f" ratio {ratio:.2f} (bound {BOUND}); by the clock {wall:.2f} s and {bare_wall:.2f} s;"
        f" {memory:.0f} MB of memory (bound {MEMORY_MB}); file {size:.0f} MB, the same bytes: {same}\n"
    )
    sys.stdout.write(json.dumps(told) + "\n")
    return 1 if ratio > BOUND or memory > MEMORY_MB or not same else 0


if __name__ == "__main__":
    sys.exit(main())
