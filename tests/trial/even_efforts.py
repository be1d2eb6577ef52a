"""Ways of looking where marks cost as much as any other and tell no less for it, 1,000 runs of each.

    python tests/trial/even_efforts.py [RUNS]              a made key, whose species show states by chance
    python tests/trial/even_efforts.py [RUNS] adults       the marks of the key of adults, their efforts dealt anew

In the key of adults nearly all marks cost a look or a close look, and those that tell most cost least: there is little
for an order of looking to save. Here a quarter of the marks each takes a glance, a look, a close look and the hand.
Run it in the tests' environment; CI runs the short form of the first (`test_even_efforts.py`).
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from reedmace.keys.cache import load_key
from reedmace.keys.model import EFFORTS, Key
from reedmace.keys.shipped import find_key
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


def dealt_anew(key: Key, deal: int, *, always_seen: bool) -> Key:
    """The key with its efforts dealt like cards, four by four, to marks in an order of chance."""
    random = Random(deal)
    order = random.sample(range(len(key.characters)), len(key.characters))
    cards: list[str] = []
    while len(cards) < len(order):
        cards += random.sample(EFFORTS, len(EFFORTS))
    effort_of = dict(zip(order, cards, strict=False))
    return key.with_characters(
        one._replace(effort=effort_of[one.index], visible=1.0 if always_seen else VISIBLE[effort_of[one.index]])
        for one in key.characters
    )


def tried(key: Key, order: str, runs: int, jobs: int = 1, eye: str = "beginner") -> Summary:
    """What came of one way of looking."""
    return try_key(key, Plan(runs=runs, seed=2, order=order, eye=eye), jobs=jobs).summary


def main(arguments: list[str]) -> int:
    """Print answers and effort of each way, and what look next needs of them."""
    runs = int(arguments[0]) if arguments else 1000
    adults = "adults" in arguments
    key = load_key(find_key(None), None) if adults else None
    for always_seen in (False, True):
        print("every mark is said to be seen" if always_seen else "marks are seen as often as the keys say")
        if key is None:
            _compare(evenly_dealt(always_seen=always_seen), runs, "beginner")
            continue
        for eye in ("beginner", "practised"):
            for deal in (1, 2):
                print(f"{eye}, deal {deal}")
                _compare(dealt_anew(key, deal, always_seen=always_seen), runs, eye)
    return 0


def _compare(key: Key, runs: int, eye: str) -> None:
    """Print what came of each way of looking."""
    ours = None
    for order in ("look-next", "greedy", "exhaustive", "information", "random"):
        found = tried(key, order, runs, os.cpu_count() or 1, eye)
        ours = ours or found
        print(
            f"  {order:12} answers {found.answers.value:5.2f} ± {found.answers.error:.2f},"
            f" effort {found.effort.value:6.2f} ± {found.effort.error:.2f},"
            f" settled right {100 * found.settled_right.value:.1f} ± {100 * found.settled_right.error:.1f} %;"
            f" look next needs {ours.answers.value / found.answers.value:.2f} of the answers,"
            f" {ours.effort.value / found.effort.value:.2f} of the effort"
        )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
