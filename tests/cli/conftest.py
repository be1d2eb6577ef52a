"""What the commands' tests share: a ledger with an owner, the warm made key, and a seat at a terminal."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cli.seat import Seat
from reedmace.keys.model import Key
from tarn import FOLDER

Run = Callable[..., Any]  # gives a conftest.Ran


@pytest.fixture
def tarn_run(run: Run, tarn: Key) -> Run:
    """As `run`, with `--key` of the made tarn flies added; its compiled form is in the cache."""

    def running(*arguments: str | Path, **more: Any) -> Any:
        return run(*arguments, "--key", FOLDER, **more)

    return running


@pytest.fixture
def owned(run: Run) -> Run:
    """As `run`, with a ledger whose owner has said who she is."""
    assert run("people", "--me", "Ada Marsh").returncode == 0
    return run


@pytest.fixture
def log(tarn_run: Run, owned: Run) -> Run:
    """Log lines at one place on one day: `log("12 pale m", "3 cop misty")`."""

    def logging(*lines: str, **more: Any) -> Any:
        # Lines of one word would be read as one line together.
        quoted = [line if " " in line or line.startswith("-") else f"{line} " for line in lines]
        return tarn_run("log", *quoted, "--place", "SU 431 118", "--date", "12 July 2025", **more)

    return logging


@pytest.fixture
def listed(run: Run) -> Callable[..., list[dict[str, Any]]]:
    """The sightings in the ledger, as `ledger list --json` gives them."""

    def listing(*arguments: str) -> list[dict[str, Any]]:
        ran = run("ledger", "list", "--json", *arguments)
        assert ran.returncode == 0, ran.stderr
        return [json.loads(line) for line in ran.stdout.splitlines()]

    return listing


@pytest.fixture
def seat(clean_env: dict[str, str], tmp_path: Path, tarn: Key) -> Callable[..., Seat]:
    """A terminal to sit down at, as wide as `columns` says; used in a `with`."""

    def sitting(*arguments: str | Path, columns: int = 80, env: dict[str, str] | None = None) -> Seat:
        return Seat([*arguments], {**clean_env, **(env or {})}, tmp_path, columns)

    return sitting
