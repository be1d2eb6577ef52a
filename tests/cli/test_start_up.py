"""What a command loads: the path of the pond stays quick, because what it does not need it does not import."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from reedmace.keys.model import Key
from tarn import FOLDER

# Runs a command in this process and tells, at the end of standard error, which modules it took.
RUNNER = """
import json, sys
from reedmace.cli.main import _run
code = _run(sys.argv[1:])
sys.stdout.flush()
sys.stderr.write("\\n" + json.dumps(sorted(sys.modules)))
sys.exit(code)
"""
HEAVY = ("pydantic", "pydantic_core", "ruamel.yaml", "rich", "sqlite3", "numpy")
MARKS = ("wings=closed", "colour=blue", "bar=present")


@pytest.fixture
def modules(clean_env: dict[str, str], tmp_path: Path, tarn: Key):
    """The modules a command has taken by its end; the made key's compiled form is in the cache."""

    def taking(*arguments: str | Path, code: int = 0) -> set[str]:
        done = subprocess.run(
            [sys.executable, "-c", RUNNER, *arguments],
            input="",
            capture_output=True,
            text=True,
            env=clean_env,
            cwd=tmp_path,
            check=False,
        )
        assert done.returncode == code, done.stderr
        return set(json.loads(done.stderr.splitlines()[-1]))

    return taking


def heavy(modules: set[str]) -> list[str]:
    """Those that cost."""
    return [name for name in HEAVY if name in modules]


@pytest.mark.parametrize("arguments", [("--help",), ("--version",), ("name", "--help"), ("log", "--help")])
def test_help_takes_nothing_heavy(modules, arguments: tuple[str, ...]) -> None:
    """Neither pydantic, ruamel.yaml, rich nor sqlite3."""
    assert heavy(modules(*arguments)) == []


def test_the_list_of_commands_imports_no_command(modules) -> None:
    """`reedmace --help` knows them by name."""
    taken = {name for name in modules("--help") if name.startswith("reedmace.")}
    small = (
        "cli",
        "cli.lazy",
        "cli.main",
        "cli.streams",
        "cli.troubles",
        "faults",
        "terminal",
        "terminal.plain",
        "visible",
    )
    assert taken <= {f"reedmace.{name}" for name in small}


def test_name_takes_rich_only_for_its_tables(modules) -> None:
    """With a warm cache, no pydantic and no YAML; with --json no rich either, and never the ledger."""
    assert heavy(modules("name", *MARKS, "--key", FOLDER)) == ["rich"]
    assert heavy(modules("name", *MARKS, "--key", FOLDER, "--json")) == []


@pytest.mark.parametrize("more", [(), ("--json",)])
def test_log_takes_the_ledger_and_nothing_else_heavy(modules, more: tuple[str, ...]) -> None:
    """No rich, no pydantic, no YAML."""
    at = ("--place", "SU 431 118", "--date", "12 July 2025", "--by", "Ada Marsh", "--key", FOLDER)
    assert heavy(modules("log", "12 pale m", *at, *more)) == ["sqlite3"]


@pytest.mark.parametrize("command", [("ledger", "list"), ("check", "--key", FOLDER)])
def test_lists_take_rich_only_on_a_screen(modules, command: tuple[str | Path, ...]) -> None:
    """JSON for other programs needs no tables."""
    modules("log", "12 pale m", "--place", "SU 431 118", "--by", "Ada Marsh", "--date", "2025-07-12", "--key", FOLDER)
    assert heavy(modules(*command, "--json")) == ["sqlite3"]
    assert heavy(modules(*command)) == ["rich", "sqlite3"]


def test_a_fault_takes_nothing_heavy(modules) -> None:
    """A slip is told at once."""
    assert heavy(modules("name", "wings=sideways", "--key", FOLDER, code=2)) == []


def test_a_cold_cache_reads_the_key_and_says_so(run, tmp_path: Path) -> None:
    """The first time takes a few seconds, and the user is told why; the second time says nothing."""
    cold = {"XDG_CACHE_HOME": str(tmp_path / "cold")}
    first = run("name", *MARKS, "--key", FOLDER, env=cold)
    second = run("name", *MARKS, "--key", FOLDER, env=cold)
    assert "first time" in first.stderr
    assert (first.returncode, second.returncode, second.stderr) == (0, 0, "")
    assert first.stdout == second.stdout


def test_a_cache_that_cannot_be_written_is_no_fault(run, tmp_path: Path) -> None:
    """It only stays slow."""
    (tmp_path / "file").write_text("not a folder")
    ran = run("name", *MARKS, "--key", FOLDER, env={"XDG_CACHE_HOME": str(tmp_path / "file")})
    assert ran.returncode == 0
    assert "Pale Rushlet" in ran.stdout
