"""Opening a ledger is on the way of every `log`: what it imports stays light."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import reedmace

HEAVY = ("pydantic", "rich", "ruamel", "click", "dataclasses", "inspect", "pathlib", "asyncio", "csv", "logging")


@pytest.mark.parametrize("module", ["reedmace.records", "reedmace.ledger"])
def test_nothing_heavy_is_imported(module: str) -> None:
    """A process of its own imports the room and tells what came along."""
    package = str(Path(reedmace.__file__).parent.parent)
    told = f"import sys; sys.path.insert(0, {package!r}); import {module}; print(*sys.modules)"
    # -S and -I keep what a site or a user adds to every start of Python out of the count.
    done = subprocess.run([sys.executable, "-I", "-S", "-c", told], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    loaded = {name.partition(".")[0] for name in done.stdout.split()}
    assert "reedmace" in loaded
    assert [name for name in HEAVY if name in loaded] == []
