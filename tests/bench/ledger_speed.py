"""Import and lists at a county's size, as ratios in one run.

    python tests/bench/ledger_speed.py [ROWS]

Import: a made CSV of ROWS (100,000) records, by `ledger import` in a process of its own, against a bare
csv → sqlite3 executemany loop into a table of the same columns and indexes. Lists: the first screen for every
filter, against a bare indexed question on a plain table of as many rows, or for words against SQLite's own
index of words, where that takes longer. Ratios, because machines differ.
Exit 1 when a bound is broken. Not a test: CI runs no clocks.
"""

from __future__ import annotations

import csv
import json
import os
import random
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted

REEDMACE = Path(sys.executable).parent / "reedmace"
NAMES = [
    *("Azure Damselfly", "Common Blue Damselfly", "Large Red Damselfly", "Banded Demoiselle", "Emperor Dragonfly"),
    *("Common Darter", "Southern Hawker", "Brown Hawker", "Broad-bodied Chaser", "Blue-tailed Damselfly"),
]
RARE = "Norfolk Hawker"
PLACES = [f"SU {east} {north}" for east in range(400, 460, 3) for north in range(100, 160, 7)]
HEADS = ["Record ID", "Date", "Grid ref", "Site", "Species", "Count", "Sex", "Stage", "Recorder", "Comments"]
COLUMNS = (
    *("entry_id", "parent", "kind", "subject", "act", "reason", "by_whom", "written_at", "visit_id", "line_id", "date"),
    *("first_day", "last_day", "year", "taxon", "vernacular", "stage", "sex", "square", "site", "locality", "body"),
)
BOUND = 20
MEMORY_MB = 200


def made(path: Path, rows: int) -> None:
    """Write a sheet: walks of a few sightings over forty years, one record in a thousand of a rare species.

    One walk in forty is at one of hundreds of pools of their own.
    """
    chance = random.Random(7)
    with path.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(HEADS)
        number = 0
        while number < rows:
            day = f"{chance.randint(1, 28):02}/{chance.randint(5, 9):02}/{chance.randint(1985, 2025)}"
            place = chance.choice(PLACES)
            site = (
                f"Harrowmere, pond {place[3:6]}"
                if chance.random() > 1 / 40
                else f"Tern Hollow, pool {chance.randint(1, 500)}"
            )
            who = f"{chance.choice(['Ada', 'Ben', 'Cora'])} {chance.choice(['Marsh', 'Sallow', 'Reed', 'Sedge'])}"
            for _ in range(min(chance.randint(4, 16), rows - number)):
                number += 1
                name = RARE if number % 1000 == 0 else chance.choice(NAMES)
                remark = chance.choice(["", "", "", "by the sluice", "over the reeds", f"note {number}"])
                stage = "teneral" if number % 500 == 0 else "adult"
                count, sex = str(chance.randint(1, 40)), chance.choice(["m", "f", ""])
                cells = [f"bench-{number:09}", day, place, site, name, count, sex, stage, who, remark]
                writer.writerow(cells)


def bare(source: Path, target: Path) -> float:
    """Seconds of the bare loop: read with csv, insert with executemany in one transaction, same columns and indexes."""
    begin = time.perf_counter()
    connection = sqlite3.connect(target, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute(f"CREATE TABLE entry (seq INTEGER PRIMARY KEY, {', '.join(f'{name} TEXT' for name in COLUMNS)})")
    for columns in (
        "entry_id",
        "parent",
        "subject",
        "first_day, subject",
        "visit_id, taxon, subject",
        "line_id",
        "vernacular",
    ):
        connection.execute(f"CREATE INDEX bare_{columns.replace(', ', '_')} ON entry ({columns})")
    sql = f"INSERT INTO entry ({', '.join(COLUMNS)}) VALUES ({', '.join('?' * len(COLUMNS))})"
    connection.execute("BEGIN")
    with source.open(encoding="utf-8", newline="") as text:
        reader = csv.reader(text)
        next(reader)
        connection.executemany(
            sql,
            (
                (
                    *(f"e-{one[0]}", None, "sighting", one[0], "recorded", "", "p", "2026-01-01T00:00:00Z"),
                    *(f"{one[1]}{one[2]}", f"l-{one[0]}", one[1], one[1], one[1], one[1][-4:], one[4], one[4], one[7]),
                    *(one[6], one[2], None, one[3], json.dumps(one)),
                )
                for one in reader
            ),
        )
    connection.execute("COMMIT")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    return time.perf_counter() - begin


def imported(source: Path, ledger: Path, folder: Path) -> tuple[float, float]:
    """Seconds and highest memory in MB of `ledger import` in a process of its own."""
    environment = os.environ | {"XDG_CACHE_HOME": str(folder / "cache"), "REEDMACE_LEDGER": str(ledger)}
    subprocess.run([REEDMACE, "people", "--me", "Ada Marsh"], env=environment, check=True, stdout=subprocess.DEVNULL)
    subprocess.run([REEDMACE, "name", "wings=closed"], env=environment, check=True, stdout=subprocess.DEVNULL)
    begin = time.perf_counter()
    watch = (
        "import resource, subprocess, sys; done = subprocess.run(sys.argv[1:]);"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024); sys.exit(done.returncode)"
    )
    command = [sys.executable, "-c", watch, str(REEDMACE), "ledger", "import", str(source), "--yes"]
    done = subprocess.run(command, env=environment, check=True, capture_output=True, text=True)
    sys.stdout.write(done.stdout.splitlines()[0] + "\n")
    return time.perf_counter() - begin, float(done.stdout.splitlines()[-1])


def timed(task: Callable[[], object], times: int = 5) -> float:
    """The median of some runs, in milliseconds."""
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        task()
        taken.append(1000 * (time.perf_counter() - begin))
    return statistics.median(taken)


def lists(ledger_path: Path, bare_path: Path) -> list[tuple[str, float, float]]:
    """For each filter: what, milliseconds of ours, milliseconds of the bare question; both open the file anew."""
    with open_ledger(ledger_path) as ledger:
        ada = ledger.people.ids_of("Ada Marsh")

    def ours(wanted: Wanted) -> Callable[[], object]:
        def ask() -> object:
            with open_ledger(ledger_path, create=False) as ledger:
                return list(ledger.current_sightings(wanted, 40))

        return ask

    def plainly() -> object:
        connection = sqlite3.connect(bare_path)
        try:
            asked = "SELECT * FROM entry WHERE line_id > 'l-bench-000005000' ORDER BY line_id LIMIT 40"
            return [json.loads(row[-1]) for row in connection.execute(asked)]
        finally:
            connection.close()

    filters = {
        "no filter": Wanted(),
        "season": Wanted(year=2003),
        "since": Wanted(since="2019-06-01"),
        "common species": Wanted(taxon="Coenagrion puella"),
        "rare species": Wanted(taxon="Aeshna isoceles"),
        "genus": Wanted(taxon="Aeshna"),
        "English name": Wanted(taxon="Azure Damselfly"),
        "person": Wanted(people=ada),
        "person, season, species": Wanted(people=ada, year=2010, taxon="Anax imperator"),
        "common stage": Wanted(stage="adult"),
        "rare stage": Wanted(stage="teneral"),
        "common sex": Wanted(sex="male"),
        "no such sex": Wanted(sex="both"),
        "1 km square": Wanted(square="SU4310"),
        "10 km square": Wanted(square="SU41"),
        "place by name": Wanted(locality="pond 430"),
        "places seldom visited": Wanted(locality="Tern Hollow"),
        "places seldom visited, by number": Wanted(locality="pool 1"),
        "place hardly ever visited": Wanted(locality="pool 77"),
        "no such place": Wanted(locality="wombat"),
        "common word": Wanted(text="sluice"),
        "rare word": Wanted(text="50123"),
        "two words": Wanted(text="sluice emperor"),
        "no such word": Wanted(text="wombat"),
        "withdrawn": Wanted(status="withdrawn"),
        "diverged": Wanted(status="diverged"),
        "rare stage of a rare species": Wanted(stage="teneral", taxon="Aeshna isoceles"),
    }

    def matching(words: str) -> Callable[[], object]:
        """The bare question for words: SQLite's own index of the same words, asked for the same beginnings."""

        def ask() -> object:
            connection = sqlite3.connect(ledger_path)
            try:
                asked = "SELECT rowid FROM listed_words WHERE listed_words MATCH ? LIMIT 40"
                match = " AND ".join(f'"{word}"*' for word in words.split())
                return connection.execute(asked, (match,)).fetchall()
            finally:
                connection.close()

        return ask

    plain = timed(plainly, 9)
    # Where even the bare index of words takes longer than the plain question, it is the measure.
    return [
        (what, timed(ours(wanted)), max(plain, timed(matching(wanted.text))) if wanted.text else plain)
        for what, wanted in filters.items()
    ]


def main() -> int:
    """Measure, print, compare."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    broken = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        source = folder / "county.csv"
        made(source, rows)
        first = bare(source, folder / "bare")
        seconds, memory = imported(source, folder / "ledger", folder)
        # Before and after: it takes so little that a busy moment would change it by half.
        plain = (first + bare(source, folder / "bare-again")) / 2
        (folder / "bare-again").unlink()
        sizes = [(folder / one).stat().st_size / 1e6 for one in ("bare", "ledger")]
        ratio = seconds / plain
        sys.stdout.write(
            f"import of {rows:,} rows: {seconds:.1f} s, bare loop {plain:.1f} s, ratio {ratio:.1f} (bound {BOUND});"
            f" {memory:.0f} MB of memory (bound {MEMORY_MB}); file {sizes[1]:.0f} MB, bare {sizes[0]:.0f} MB\n"
        )
        if ratio > BOUND or (memory > MEMORY_MB and rows <= 100_000):
            broken.append("import")
        for what, ours, theirs in lists(folder / "ledger", folder / "bare"):
            sys.stdout.write(f"first screen, {what}: {ours:.2f} ms, bare {theirs:.2f} ms, ratio {ours / theirs:.1f}\n")
            if ours / theirs > BOUND:
                broken.append(what)
    if broken:
        sys.stdout.write(f"over the bound: {', '.join(broken)}\n")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
