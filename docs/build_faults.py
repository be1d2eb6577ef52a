"""Write docs/faults.md from the catalogue of faults in tests/keys/faults.

`python docs/build_faults.py` writes it; with `--check` nothing is written, and the exit code is 1 when the page
is not what the catalogue makes it. Nothing is run: a test of its own sees to it that the catalogue is true.
"""

from __future__ import annotations

import sys
from itertools import groupby
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "tests"))

from keys.catalogue import Case, cases  # noqa: E402  (the tests' folder comes first)

PAGE = HERE / "faults.md"
HEAD = """\
# Faults, and what to do about them

Written by `python docs/build_faults.py` from the cases in `tests/keys/faults`; every one of them is run by the tests.

A fault in a file is shown with file, line and column, the line itself, the reason and a hint.
Carets stand under what is meant.
A fault in something just typed is shown with what was typed, the reason and a hint.
The code (`unknown-state`) never changes its meaning, so that it can be searched for.
One fault never hides the others: all that can be told at once is told at once.
Exit codes: 1 for faults in data, such as a key; 2 for faults in what was typed.

Here are the faults of keys and of typed answers and names.
"""


def page() -> str:
    """The whole page."""
    found = sorted(cases(), key=lambda case: case.name)
    return HEAD + "".join(_entry(code, list(group)) for code, group in groupby(found, key=lambda case: case.code))


def _entry(code: str, found: list[Case]) -> str:
    return f"\n## {code}\n" + "".join(f"\n{case.about}\n{_typed(case)}\n```text\n{case.shown}\n```\n" for case in found)


def _typed(case: Case) -> str:
    if not case.typed:
        return ""
    lines = case.typed.text.splitlines()
    return f"Typed: {' and '.join(f'`{line.strip()}`' for line in lines)}\n" if len(lines) > 1 else ""


def main(arguments: list[str]) -> int:
    """Write or check the page."""
    wanted = page()
    if arguments == ["--check"]:
        if PAGE.is_file() and PAGE.read_text(encoding="utf-8") == wanted:
            return 0
        sys.stderr.write("docs/faults.md is out of date: run  python docs/build_faults.py\n")
        return 1
    PAGE.write_text(wanted, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
