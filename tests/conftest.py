"""What several rooms' tests share: the shipped key, a small made key, and the installed command in a clean world."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, settings

from forked import Done, Nursery
from made_key import write_key
from reedmace.keys.cache import load_key
from reedmace.keys.model import Key
from reedmace.keys.shipped import find_key
from tarn import FOLDER

# A busy machine is no fault: no example is timed, nor how long it took to think of one.
settings.register_profile("patient", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("patient")
# Where the tests are started in the background interrupts are ignored, and every program they start would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


STARTED_WITH = {"LC_ALL": "C.UTF-8", "PYTHONWARNINGS": "error"}  # what Python reads as a command starts


class Ran(NamedTuple):
    """What a command left behind."""

    returncode: int
    stdout: str
    stderr: str


@pytest.fixture(scope="session")
def cache_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for caches that the whole session shares, so that the shipped key is compiled once."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture(scope="session")
def key(cache_home: Path) -> Key:
    """The shipped key, as the program loads it."""
    return load_key(find_key(None), cache_home / "reedmace")


@pytest.fixture
def made_folder(tmp_path: Path) -> Path:
    """The folder of a small made key (see tests/made_key.py)."""
    return write_key(tmp_path / "made-pond")


@pytest.fixture(scope="session")
def made_key(tmp_path_factory: pytest.TempPathFactory) -> Key:
    """The small made key, loaded."""
    return load_key(write_key(tmp_path_factory.mktemp("made") / "made-pond"), None)


@pytest.fixture(scope="session")
def tarn(cache_home: Path) -> Key:
    """The made key of tests/keys_made/tarn-flies: six species with look-alikes, for whole screens and talks."""
    return load_key(FOLDER, cache_home / "reedmace")


@pytest.fixture
def clean_env(tmp_path: Path, cache_home: Path) -> dict[str, str]:
    """An environment of nobody's: home, data and ledger under tmp_path, no colour wishes, warnings as errors."""
    home = tmp_path / "home"
    home.mkdir(exist_ok=True)
    return STARTED_WITH | {
        "PATH": os.environ.get("PATH", ""),
        "HOME": str(home),
        "XDG_DATA_HOME": str(tmp_path / "data"),
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
        "XDG_CACHE_HOME": str(cache_home),
        "REEDMACE_LEDGER": str(tmp_path / "walks.ledger"),
        "TZ": "UTC",
    }


@pytest.fixture(scope="session")
def nursery() -> Iterator[Nursery]:
    """Where commands come from, for one session of tests."""
    with Nursery(STARTED_WITH) as nursery:
        yield nursery


@pytest.fixture
def run(tmp_path: Path, clean_env: dict[str, str], nursery: Nursery) -> Callable[..., Ran]:
    """Run the installed command: `run("name", "spur=absent")`; its folder is tmp_path unless `cwd` is given.

    `stdin` is what is typed (nothing: end of input at once); `env` adds to, or with None takes from, the clean one.
    """
    script = Path(sys.executable).parent / "reedmace"

    def running(
        *arguments: str | Path,
        stdin: str = "",
        env: Mapping[str, str | None] | None = None,
        cwd: Path | None = None,
        timeout: float = 300,  # a busy machine is no fault here, either: this only ends what hangs
    ) -> Ran:
        wanted = {name: value for name, value in {**clean_env, **(env or {})}.items() if value is not None}
        words = [str(argument) for argument in arguments]
        if nursery.fits(wanted) and "REEDMACE_TESTS_EXEC" not in os.environ:
            done = nursery.run(script, words, stdin.encode(), wanted, cwd or tmp_path, timeout)
        else:
            started = subprocess.run(
                [script, *words],
                input=stdin.encode(),
                capture_output=True,
                env=wanted,
                cwd=cwd or tmp_path,
                timeout=timeout,
                check=False,
            )
            done = Done(started.returncode, started.stdout, started.stderr)
        return Ran(done.returncode, done.stdout.decode(errors="replace"), done.stderr.decode(errors="replace"))

    return running
