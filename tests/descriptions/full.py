"""Two thousand short descriptions with one wrong answer in eight, on flat priors: who comes first.

    python tests/descriptions/full.py [RUNS [SEED]]

CI runs the short form of this (`test_one_wrong_in_eight.py`).
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from descriptions.described import one_wrong_in_eight
from reedmace.keys.cache import load_key
from reedmace.keys.shipped import find_key


def main(arguments: list[str]) -> int:
    """Print the shares with their standard errors."""
    runs = int(arguments[0]) if arguments else 2000
    seed = int(arguments[1]) if len(arguments) > 1 else 1
    with tempfile.TemporaryDirectory() as folder:
        ranked = one_wrong_in_eight(load_key(find_key(None), Path(folder)), runs, seed)
    print(f"{ranked.runs} descriptions of eight answers, one of them wrong, flat priors, seed {seed}")
    for what, share in (
        ("right species or a partner first", ranked.first),
        ("… among the first three", ranked.among_three),
        ("right species itself first", ranked.itself_first),
    ):
        print(f"  {what:<34} {share:.3f}  ± {(share * (1 - share) / runs) ** 0.5:.3f} (standard error)")
    print("most often misled:")
    for words, times in ranked.misled:
        print(f"  {times:>3}  {words}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
