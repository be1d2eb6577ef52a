"""What runs in a process of its own, to be killed, starved or watched by test_durable.py.

Each sighting's id is printed only after the ledger has acknowledged it.
"""

from __future__ import annotations

import os
import resource
import sys
import uuid
from pathlib import Path

import reedmace.ledger.at_rest  # noqa: F401  (before rights are given up: nobody may not read every library)
from reedmace.faults import Refused
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.records import Sighting, Taxon, Visit


def new_id() -> str:
    """Mint an id."""
    return str(uuid.uuid4())


def log_one(ledger: Ledger, ada: str, padding: int = 0) -> str:
    """Log one walk with one sighting; gives the sighting's id once it is acknowledged."""
    visit = Visit(new_id(), date="2026-06-14", observers=(ada,))
    sighting = Sighting(new_id(), new_id(), visit.id, Taxon("Aeshna mixta"), remarks="x" * padding)
    ledger.record_walk(visit, [sighting], ada, "2026-06-14T12:00:00Z", new_id)
    return sighting.id


def acknowledge(text: str) -> None:
    """Tell whoever is watching, without any buffer between."""
    os.write(1, f"{text}\n".encode())


def until_killed(path: Path) -> None:
    """Log for ever, opening the ledger anew after every fifth walk."""
    while True:
        with open_ledger(path) as ledger:
            ada = ledger.people.register("Ada Marsh", new_id)
            for _ in range(5):
                acknowledge(log_one(ledger, ada))


def some(path: Path, number: int, weaker: str | None = None) -> None:
    """Log a number of walks; `weaker` spoils the ledger's own setting, to see that it would be noticed."""
    with open_ledger(path) as ledger:
        if weaker is not None:
            ledger._connection.execute(f"PRAGMA synchronous = {weaker}")
        ada = ledger.people.register("Ada Marsh", new_id)
        for _ in range(number):
            acknowledge(log_one(ledger, ada))


def until_full(path: Path, most_bytes: int) -> None:
    """Log until the files may not grow any more; the last line printed is the fault's code."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, most_bytes))
    try:
        with open_ledger(path) as ledger:
            ada = ledger.people.register("Ada Marsh", new_id)
            while True:
                acknowledge(log_one(ledger, ada, padding=2000))
    except Refused as refused:
        acknowledge(refused.faults[0].code)


def as_nobody() -> None:
    """Give up special rights: the administrator may write anywhere; 65534 is nobody."""
    if os.geteuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)


def try_to_log(path: Path) -> None:
    """Read what is there, then log one walk, as somebody without special rights; prints what came of each."""
    as_nobody()
    try:
        with open_ledger(path, create=False) as ledger:
            acknowledge(str(sum(1 for _ in ledger.current_sightings())))
            me = ledger.people.me()
            assert me is not None
            acknowledge(log_one(ledger, me))
    except Refused as refused:
        acknowledge(refused.faults[0].code)


def read_slowly(path: Path) -> None:
    """Read one sighting as somebody without special rights, wait for a word, and read the others; prints how many."""
    as_nobody()
    try:
        with open_ledger(path, create=False) as ledger:
            sightings = ledger.current_sightings()
            next(sightings)
            acknowledge("one")
            sys.stdin.readline()
            acknowledge(f"{1 + sum(1 for _ in sightings)} {sum(1 for _ in ledger.current_visits())}")
    except Refused as refused:
        acknowledge(refused.faults[0].code)


def import_sheet(path: Path, sheet: Path, most_bytes: int = 0) -> None:
    """Import a sheet, in small portions so that there are many moments between; prints what came of it."""
    from datetime import date

    from reedmace.keys.cache import load_key
    from reedmace.tasks.sheets import import_file as importing
    from reedmace.tasks.sheets.columns import guess
    from reedmace.tasks.sheets.rows import look_at, rows

    folder = Path(os.environ["TARN_KEY"])
    key = load_key(folder, Path(os.environ["TARN_CACHE"]))
    importing.PORTION = 40
    if most_bytes:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, most_bytes))
    try:
        looked = look_at(str(sheet))
        mapping = guess(key, looked.columns, [row.cells for row in rows(looked)][:50], date(2026, 7, 20))
        with open_ledger(path) as ledger:
            ada = ledger.people.register("Ada Marsh", new_id)
            how = importing.Importing(ada, "Ada Marsh", "2026-07-20T12:00:00Z", new_id, date(2026, 7, 20))
            acknowledge("begun")
            done = importing.import_file(ledger, key, looked, mapping, how, lambda _: None)
            acknowledge(f"{done.sightings} {done.there} {done.faulty}")
    except Refused as refused:
        acknowledge(refused.faults[0].code)


if __name__ == "__main__":
    what, where, *rest = sys.argv[1:]
    if what == "until-killed":
        until_killed(Path(where))
    elif what == "some":
        some(Path(where), int(rest[0]), *rest[1:])
    elif what == "import":
        import_sheet(Path(where), Path(rest[0]), *map(int, rest[1:]))
    elif what == "until-full":
        until_full(Path(where), int(rest[0]))
    elif what == "slowly":
        read_slowly(Path(where))
    else:
        try_to_log(Path(where))
