"""The catalogue of queries: every code that can be raised is explained, and none that can't."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import reedmace.checks
from reedmace.checks.catalogue import CODES
from reedmace.checks.codes import every_code
from reedmace.checks.raw_rows import FILE_CODES
from reedmace.checks.rules import RULES
from reedmace.keys.model import Key

ROOM = Path(reedmace.checks.__file__).parent
TASKS = ROOM.parent / "tasks"
DOCS = Path(__file__).resolve().parents[2] / "docs"


def _raised(path: Path) -> Iterator[tuple[str, str]]:
    """Code and severity of every query that a module makes, read from its source; "" where they are worked out."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("query", "Query"):
            code, severity = node.args[1:3] if node.func.id == "query" else node.args[:2]
            yield tuple(part.value if isinstance(part, ast.Constant) else "" for part in (code, severity))


def test_every_code_that_can_be_raised_is_explained_and_no_other() -> None:
    raised = [pair for path in ROOM.glob("*.py") if path.name != "query.py" for pair in _raised(path)]
    raised += _raised(TASKS / "checking" / "check_file.py")
    codes = {code for code, _ in raised if code}
    # Where the code is worked out: a swapped reference or a far one, a validation's own label.
    codes |= {"looks-swapped", "far-from-site", "position-swapped", "position-sign"}
    assert codes == set(CODES) | {
        "row-misshapen",
        "id-twice",
        "columns-missing",
        "encoding-guessed",
        "position-swapped",
        "position-sign",
    }
    assert codes < set(every_code())


def test_the_severity_raised_is_one_the_catalogue_names() -> None:
    for path in ROOM.glob("*.py"):
        for code, severity in _raised(path):
            if code in CODES and severity:
                assert severity in CODES[code].severities.split(", "), code


def test_no_code_stands_for_two_things() -> None:
    assert not set(CODES) & set(FILE_CODES)


def test_every_entry_is_whole_sentences() -> None:
    for code, entry in every_code().items():
        assert entry.asks.rstrip().endswith((".", "?")), code
        assert entry.why.endswith("."), code
        assert entry.remedy.endswith("."), code
        assert set(entry.severities.split(", ")) <= {"note", "doubt", "error"}, code


def test_rules_are_named_for_what_they_ask(tarn: Key) -> None:
    assert all((rule.__doc__ or "").strip().endswith(".") for rule in RULES)


def test_the_page_of_checks_is_what_the_catalogue_makes_it() -> None:
    done = subprocess.run(
        [sys.executable, DOCS / "build_checks.py", "--check"], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
