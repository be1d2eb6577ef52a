"""The catalogue of faults: each case shows what is written there, and no code goes without a case."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import reedmace.keys
from keys.catalogue import Case, cases, run_case
from reedmace.tasks.keys.inspect_key import inspect_key

CASES = cases()
ROOM = Path(reedmace.keys.__file__).parent
DOCS = Path(__file__).resolve().parents[2] / "docs"
# Where a code is passed on, the call that made it is looked at instead.
PASSED_ON = {"code", "error.code"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_case_shows_exactly_what_the_catalogue_says(case: Case, tmp_path: Path) -> None:
    assert run_case(case, tmp_path) == case.shown


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_case_is_smallest_one_fault_of_its_own_code_with_a_hint(case: Case) -> None:
    first, *_ = case.shown.splitlines()
    assert first.split(": ")[-1] == case.code
    assert "\n\n" not in case.shown
    assert case.shown.splitlines()[-1].startswith("hint: ")
    assert case.about.endswith(".")


def test_without_a_slip_the_catalogues_key_is_sound(tmp_path: Path) -> None:
    """So that whatever a case shows comes from its own slip."""
    assert run_case(Case("sound", "", (), ""), tmp_path) == ""
    assert inspect_key(tmp_path / "made-fen").species == 2


def _codes(path: Path) -> Iterator[str]:
    """Every code that a module gives a fault, read from its source."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call) or not isinstance(node.func, (ast.Name, ast.Attribute)):
            continue
        name = node.func.id if isinstance(node.func, ast.Name) else node.func.attr
        if name not in ("Fault", "fault", "CellError", "unknown"):
            continue
        code = node.args[0]
        constants = [part.value for part in ast.walk(code) if isinstance(part, ast.Constant)]
        assert constants or ast.unparse(code) in PASSED_ON, f"{path.name}:{node.lineno} hides its code"
        yield from (text for text in constants if isinstance(text, str))


def test_every_code_the_room_can_raise_has_a_case_and_every_case_a_code() -> None:
    raised = {code for path in ROOM.glob("*.py") for code in _codes(path)}
    assert len(raised) > 40
    assert raised == {case.code for case in CASES}


# The same two faults on a terminal with colours: red and bold code, red carets, cyan hint; the words stay the same.
COLOURED = {
    "unknown-field": (
        "made-fen/species/paludula.yaml:10:5: \x1b[31m\x1b[1munknown-field\x1b[0m\n"
        "  10 |     statsu: resident\n"
        "     |     \x1b[31m^^^^^^\x1b[0m\n"
        'There is no field "statsu" here.\n'
        "\x1b[36mhint:\x1b[0m did you mean status?"
    ),
    "ambiguous-state": (
        "\x1b[31m\x1b[1mambiguous-state\x1b[0m\n"
        '  you wrote: "wings=half"\n'
        '"half" could be half-open or half-closed of wings.\n'
        "\x1b[36mhint:\x1b[0m write one of them, or both:  half-open/half-closed"
    ),
}


@pytest.mark.parametrize("name", COLOURED)
def test_colour_only_marks_what_the_words_say_already(name: str, tmp_path: Path) -> None:
    case = next(case for case in CASES if case.name == name)
    assert run_case(case, tmp_path, colour=True) == COLOURED[name]


def test_the_page_of_faults_is_what_the_catalogue_makes_it() -> None:
    done = subprocess.run(
        [sys.executable, DOCS / "build_faults.py", "--check"], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
