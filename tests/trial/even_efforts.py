"""Ways of looking where marks cost as much as any other and tell no less for it: a made key, 1,000 runs of each.

    python tests/trial/even_efforts.py [RUNS]      (in the tests' environment)

In the key of adults nearly all marks cost a look or a close look, so there is little for an order of looking to save.
Here a quarter of the marks each takes a glance, a look, a close look and the hand; species show states by chance.
CI runs the short form of this (`test_even_efforts.py`).
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from reedmace.keys.model import EFFORTS, Key
from reedmace.tasks.keys.try_key import try_key
from reedmace.trial.plan import Plan
from reedmace.trial.summary import Summary
from scoring.tables_made import key_of, states

SPECIES, MARKS = 59, 68  # as the key of adults
CELLS = [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.8, 0.2, 0.0), (0.0, 0.2, 0.8)]
VISIBLE = {"glance": 0.95, "look": 0.85, "close": 0.6, "hand": 0.35}  # as the keys of the program where they say none


def evenly_dealt(*, always_seen: bool) -> Key:
    """The made key. With `always_seen` it says that every mark can be seen; an observer still misses what is hard."""
    random = Random(3)
    marks = []
    for index in range(MARKS):
        effort = EFFORTS[index % len(EFFORTS)]
        column = [random.randrange(len(CELLS)) for _ in range(SPECIES)]
        visible = 1.0 if always_seen else VISIBLE[effort]
        marks.append(states(index, f"m{index}", 3, CELLS, column, error=0.1, effort=effort, visible=visible))
    return key_of(marks, [f"Genus{index} word" for index in range(SPECIES)])


def tried(key: Key, order: str, runs: int, jobs: int = 1) -> Summary:
    """What came of one way of looking."""
    return try_key(key, Plan(runs=runs, seed=2, order=order), jobs=jobs).summary


def main(arguments: list[str]) -> int:
    """Print answers and effort of each way, and what look next needs of them."""
    runs = int(arguments[0]) if arguments else 1000
    for always_seen in (False, True):
        key = evenly_dealt(always_seen=always_seen)
        print("every mark is said to be seen" if always_seen else "marks are seen as often as the keys say")
        ours = None
        for order in ("look-next", "greedy", "exhaustive", "information", "random"):
            found = tried(key, order, runs, os.cpu_count() or 1)
            ours = ours or found
            print(
                f"  {order:12} answers {found.answers.value:5.2f} ± {found.answers.error:.2f},"
                f" effort {found.effort.value:6.2f} ± {found.effort.error:.2f},"
                f" settled right {100 * found.settled_right.value:.1f} ± {100 * found.settled_right.error:.1f} %;"
                f" look next needs {ours.answers.value / found.answers.value:.2f} of the answers,"
                f" {ours.effort.value / found.effort.value:.2f} of the effort"
            )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
