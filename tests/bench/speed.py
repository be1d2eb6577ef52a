"""The speed bounds, as ratios measured in one run:  python tests/bench/speed.py  (in the tests' environment).

Ratios, because machines differ; medians of many runs, because machines are busy. Exit 1 when a bound is broken.
Not a test: CI runs no clocks.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

REEDMACE = Path(sys.executable).parent / "reedmace"
PLACE = ["--place", "SU 431 118", "--date", "2026-07-12"]
NAME = ["name", "wings=closed", "abdomen-colour=blue", "spur=present", "s2=u", *PLACE, "--habitat", "pond"]

# A bare Python process that imports click and does one durable insert, as a ledger would (WAL, full sync).
BARE_LOG = """
import sqlite3, sys
import click

@click.command()
@click.argument("path")
def main(path):
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE IF NOT EXISTS entry (id INTEGER PRIMARY KEY, body TEXT)")
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("INSERT INTO entry (body) VALUES (?)", ("12 common blue m",))
    connection.execute("COMMIT")
    connection.close()

main()
"""


def run(command: list[str | Path], environment: dict[str, str]) -> float:
    """Seconds that a process takes."""
    begin = time.perf_counter()
    subprocess.run(command, env=environment, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.perf_counter() - begin


def medians(tasks: list[Callable[[], float]], times: int) -> list[float]:
    """Each task's median, the tasks taking turns so that a busy moment hits all alike."""
    taken: list[list[float]] = [[] for _ in tasks]
    for _ in range(times):
        for index, task in enumerate(tasks):
            taken[index].append(task())
    return [statistics.median(one) for one in taken]


def processes(folder: Path) -> list[tuple[str, float, float]]:
    """Start-up bounds: what, ratio, bound."""
    environment = os.environ | {
        "XDG_CACHE_HOME": str(folder / "cache"),
        "REEDMACE_LEDGER": str(folder / "walks.ledger"),
        "REEDMACE_BY": "Ada Marsh",
    }

    def timed(*command: str | Path) -> Callable[[], float]:
        return lambda: run(list(command), environment)

    python = Path(sys.executable)
    bare = folder / "bare.py"
    bare.write_text(BARE_LOG, encoding="utf-8")
    run([REEDMACE, *NAME], environment)
    click, rich, shown, named, logged, insert = medians(
        [
            timed(python, "-c", "import click"),
            timed(python, "-c", "import click, rich.console, rich.table"),
            timed(REEDMACE, "--help"),
            timed(REEDMACE, *NAME),
            timed(REEDMACE, "log", "12", "common", "blue", "m", *PLACE),
            timed(python, bare, str(folder / "bare.db")),
        ],
        15,
    )
    cold = environment | {"XDG_CACHE_HOME": str(folder / "none")}

    def first() -> float:
        for kept in (folder / "none").rglob("*.json"):
            kept.unlink()
        return run([REEDMACE, *NAME], cold)

    (uncached,) = medians([first], 3)
    print(
        f"import click {click * 1000:.0f} ms; click and rich {rich * 1000:.0f} ms; reedmace name {named * 1000:.0f} ms"
    )
    return [
        ("reedmace --help / import click", shown / click, 1.5),
        ("reedmace name, warm / import click and rich", named / rich, 1.6),
        ("reedmace log / import click and rich", logged / rich, 2.0),
        ("reedmace log / import click and one durable insert", logged / insert, 2.0),
        ("first run without a cache / a warm one", uncached / named, 40.0),
    ]


def one_answer(folder: Path) -> tuple[str, float, float]:
    """One answer with its look-next, against numpy."""
    import numpy as np

    from bench.numpy_reference import NumpyEngine
    from reedmace.keys.answers import read_traits
    from reedmace.keys.cache import load_key
    from reedmace.keys.shipped import find_key
    from reedmace.scoring.looknext import look_next
    from reedmace.scoring.posterior import posterior
    from reedmace.scoring.prior import Circumstances, prior
    from reedmace.scoring.tables import Tables
    from reedmace.scoring.verdict import judge

    key = load_key(find_key(None), folder / "cache" / "reedmace")
    tables = Tables(key)
    before = prior(key, Circumstances(third=19))
    ratios = []
    for traits in (
        "abdomen-colour=blue",
        "wings=closed abdomen-colour=blue spur=present",
        "wings=flat abdomen-colour=red",
    ):
        answers = read_traits(key, traits.split())
        reference = NumpyEngine(tables)
        weights, plain = np.array(before.guises), [(one.character, one.states) for one in answers]

        def ours(answers: tuple = answers) -> float:
            begin = time.perf_counter()
            after = posterior(tables, before, answers)
            look_next(tables, after, judge(tables, before, after), answers)
            return time.perf_counter() - begin

        def theirs(reference: NumpyEngine = reference, plain: list = plain, weights: object = weights) -> float:
            begin = time.perf_counter()
            reference.look(weights, plain)
            return time.perf_counter() - begin

        ours()
        mine, numpys = medians([ours, theirs], 60)
        print(f"one answer ({traits}): {mine * 1000:.2f} ms; numpy {numpys * 1000:.3f} ms")
        ratios.append(mine / numpys)
    return ("one answer with look-next / numpy (worst of three)", max(ratios), 60.0)


def main() -> int:
    """Measure everything and print ratio and bound."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        found = [*processes(folder), one_answer(folder)]
    broken = 0
    for what, ratio, bound in found:
        broken += ratio > bound
        print(f"{'ok  ' if ratio <= bound else 'OVER'}  {what}: {ratio:.2f} (bound {bound:g})")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
