"""The speed bounds on big keys, as ratios of processor time measured in one run.

    python tests/bench/big.py            10,000 species × 200 characters with and without numpy, growth, memory
    python tests/bench/big.py compile    what reading 1,000 species × 200 characters from YAML costs, once

Run it in the tests' environment. The reference is numpy doing the same mathematics (`numpy_reference`): as matrix
products where the key allows it, and in general form with echoes. Exit 1 when a bound is broken. Not a test: CI runs
no clocks.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

# One thread each: on a busy machine threads that wait for each other make numpy look slow.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from bench.big_key import STATES, big_key, write_big_key
from bench.numpy_reference import MatrixEngine, NumpyEngine
from bench.speed import medians
from reedmace.keys.cache import load_key
from reedmace.keys.model import Key
from reedmace.scoring import gains
from reedmace.scoring.looknext import look_next
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import judge
from scoring.tables_made import answer

TAXA, CHARACTERS = 10_000, 200
SIZES = ((100, 50), (1_000, 50), (1_000, 200), (10_000, 200))
ASKED = (3, 11, 4, 19, 40, 9)  # with echoes 4, 19 and 9 belong to echo groups
TIMES = 9

Ratio = tuple[str, float, float]


def looking(key: Key, count: int, *, numpy: bool) -> Callable[[], float]:
    """Seconds of the last of `count` answers: posterior, verdict and look-next; the key is known by then."""
    tables = Tables(key)
    before = prior(key, Circumstances())
    answers = [answer(index, index % STATES) for index in ASKED[:count]]

    def one() -> float:
        gains._numpy_is_there = lambda: numpy  # type: ignore[assignment]
        for told in [known for known in tables.clues if answers[-1] in known]:
            del tables.clues[told]  # the last answer is new every time
        begin = time.process_time()
        after = posterior(tables, before, answers)
        look_next(tables, after, judge(tables, before, after), answers)
        return time.process_time() - begin

    one()
    return one


def reference(key: Key, count: int, engine: MatrixEngine | NumpyEngine) -> Callable[[], float]:
    """Seconds of the reference for the same answers."""
    weights = np.array(prior(key, Circumstances()).guises)
    answers = [(index, (index % STATES,)) for index in ASKED[:count]]

    def one() -> float:
        begin = time.process_time()
        engine.look(weights, answers)
        return time.process_time() - begin

    one()
    return one


def ratios(what: str, key: Key, make: type[MatrixEngine | NumpyEngine]) -> list[Ratio]:
    """Ours with and without numpy against the reference; the worst of one, three and six answers."""
    engine = make(Tables(key))
    with_numpy, without = [], []
    for count in (1, 3, 6):
        tasks = [looking(key, count, numpy=True), looking(key, count, numpy=False), reference(key, count, engine)]
        fast, plain, numpys = medians(tasks, TIMES)
        print(f"{what}, {count} answers: numpy {fast * 1e3:.0f} ms, plain {plain * 1e3:.0f} ms, ", end="")
        print(f"reference {numpys * 1e3:.1f} ms", flush=True)
        with_numpy.append(fast / numpys)
        without.append(plain / numpys)
    return [
        (f"{what}: with numpy / reference (worst of three)", max(with_numpy), 10.0),
        (f"{what}: plain / reference (worst of three)", max(without), 60.0),
    ]


def growth() -> list[Ratio]:
    """Time per species and character, against that of the smallest key."""
    found: list[Ratio] = []
    for numpy in (False, True):
        each = []
        for taxa, characters in SIZES:
            task = looking(big_key(Random(1), taxa, characters), 3, numpy=numpy)
            (taken,) = medians([task], TIMES)
            each.append(taken / (taxa * characters))
            form = "numpy" if numpy else "plain"
            print(f"{form}, {taxa} × {characters}: {taken * 1e3:.1f} ms, {each[-1] * 1e9:.0f} ns each", flush=True)
        found.append((f"{form}: time each, largest key / smallest", each[-1] / each[0], 1.0))
    return found


def memory() -> None:
    """Print what the key and what is kept of it take."""
    tracemalloc.start()
    key = big_key(Random(1), TAXA, CHARACTERS)
    held, _ = tracemalloc.get_traced_memory()
    print(f"the key of {TAXA} × {CHARACTERS}: {held / 2**20:.0f} MB", end="")
    for numpy in (False, True):
        before, _ = tracemalloc.get_traced_memory()
        task = looking(key, 3, numpy=numpy)
        more, _ = tracemalloc.get_traced_memory()
        print(f"; kept for look-next {'with numpy' if numpy else 'plain'}: {(more - before) / 2**20:.0f} MB", end="")
        del task
    tracemalloc.stop()
    print()


def compiling(taxa: int = 1_000) -> None:
    """Print what the first reading of a key costs, and every further one."""
    import resource

    with tempfile.TemporaryDirectory() as name:
        folder = write_big_key(Random(1), Path(name) / "big", taxa, CHARACTERS)
        size = sum(path.stat().st_size for path in folder.rglob("*.yaml"))
        for what in ("first", "further"):
            begin = time.process_time()
            load_key(folder, Path(name) / "cache")
            taken = time.process_time() - begin
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**10
            print(f"{taxa} × {CHARACTERS}, {size / 1e6:.1f} MB of YAML: {what} {taken:.2f} s, peak {peak:.0f} MB")


def main(arguments: list[str]) -> int:
    """Measure everything and print ratio and bound."""
    if arguments[:1] == ["compile"]:
        compiling(*map(int, arguments[1:]))
        return 0
    found = growth()
    found += ratios("one guise each, no echoes", big_key(Random(1), TAXA, CHARACTERS, echoes=False), MatrixEngine)
    found += ratios("with echoes", big_key(Random(1), TAXA, CHARACTERS), NumpyEngine)
    memory()
    broken = 0
    for what, ratio, bound in found:
        broken += ratio > bound
        print(f"{'ok  ' if ratio <= bound else 'OVER'}  {what}: {ratio:.2f} (bound {bound:g})")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
