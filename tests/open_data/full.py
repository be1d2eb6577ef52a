"""The figures of docs/open-data.md: every table, form of key, eye and noise, twenty repeats of ten folds.

python tests/open_data/full.py [REPEATS]      (in the tests' environment; about three minutes)
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from open_data.tables import iris, penguins, wine
from open_data.trials import SETTINGS, engine, plain_reference, run

NAMERS = {
    "numbers measured, beginner": engine(binned=False),
    "numbers measured, practised": engine(binned=False, eye="practised"),
    "numbers in steps, beginner": engine(binned=True),
    "numbers in steps, practised": engine(binned=True, eye="practised"),
    "plain error-tolerant Bayes, .10": plain_reference,
}


def main(repeats: int) -> None:
    """Print the tables."""
    for table in (penguins(), iris(), wine()):
        print(f"\n| {table.name}, top-1 (calibration error) | {' | '.join(map(str, SETTINGS))} |")
        print("|---" * (len(SETTINGS) + 1) + "|")
        largest = 0.0
        for name, learn in NAMERS.items():
            found = [run(table, learn, setting, repeats=repeats) for setting in SETTINGS]
            largest = max(largest, *(one.error for one in found))
            cells = " | ".join(f"{one.top1:.3f} ({one.ece:.3f})" for one in found)
            print(f"| {name} | {cells} |", flush=True)
        print(f"\nMean of {repeats} repeats of ten folds; standard errors at most {largest:.4f}.")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
