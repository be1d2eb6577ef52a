"""Acknowledged means kept: killed, starved of disk, watched, and with four writers at once."""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import subprocess
import time
from pathlib import Path

import pytest

from ledger.pond import child_command, healthy, rows
from reedmace.ledger.store import open_ledger

# How often the writer is killed; the long run before a release sets this to a few hundred.
KILLS = int(os.environ.get("REEDMACE_KILLS", "10"))


def start(*arguments: object) -> subprocess.Popen[str]:
    """Start child.py in a process of its own."""
    command, environment = child_command(*arguments)
    return subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8"
    )


def kept(path: Path) -> set[str]:
    """Give the ids of all sightings, as a later command sees them."""
    with open_ledger(path, create=False) as ledger:
        return {sighting.id for sighting, _, _ in ledger.current_sightings()}


def test_what_was_acknowledged_survives_kill_9(tmp_path: Path) -> None:
    """Killed at random moments; each time, every id acknowledged so far is there."""
    path = tmp_path / "pond"
    chance = random.Random(14)
    acknowledged: set[str] = set()
    for number in range(KILLS):
        child = start("until-killed", path)
        first = ""
        try:
            if number % 3 == 0:
                # However slow the machine: once it is logging, at a moment of its work.
                assert child.stdout is not None
                first = child.stdout.readline()
                time.sleep(chance.uniform(0, 0.2))
            else:
                # At any moment from its start, opening the ledger included.
                time.sleep(chance.uniform(0.02, 0.5))
        finally:
            child.send_signal(signal.SIGKILL)
            out, err = child.communicate(timeout=60)
        out = first + out
        assert err == ""
        # A line without its end was being written when the child was killed.
        acknowledged |= {line.rstrip("\n") for line in out.splitlines(keepends=True) if line.endswith("\n")}
        if acknowledged:
            assert acknowledged <= kept(path)
    assert acknowledged, "nothing was acknowledged, so nothing was tested"
    assert healthy(path)
    # Nothing half written either: each walk is one visit and one sighting.
    kinds = [row[3] for row in rows(path)]
    assert kinds.count("visit") == kinds.count("sighting")


@pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not installed")
class TestTheDiskIsAskedFirst:
    """The log is synced to the disk before the acknowledgement is written."""

    def synced(self, tmp_path: Path, *weaker: str) -> list[bool]:
        """Say for each acknowledgement whether the -wal file was synced after the last write to it."""
        trace = tmp_path / "trace"
        command, environment = child_command("some", tmp_path / "pond", 5, *weaker)
        calls = "trace=fsync,fdatasync,write,pwrite64"
        watched = ["strace", "-f", "-y", "-e", calls, "-o", str(trace), *command]
        done = subprocess.run(watched, env=environment, capture_output=True, text=True, timeout=120)
        if "ptrace" in done.stderr or "Operation not permitted" in done.stderr:
            pytest.skip("strace may not watch a process here")
        assert done.returncode == 0, done.stderr
        answers = []
        clean = False
        for line in trace.read_text().splitlines():
            if re.search(r"\b(pwrite64|write)\(\d+<[^>]*-wal>", line):
                clean = False
            elif re.search(r"\b(fsync|fdatasync)\(\d+<[^>]*-wal>\)\s+= 0", line):
                clean = True
            elif re.search(r"\bwrite\(1<", line):
                answers.append(clean)
        return answers

    def test_as_it_is(self, tmp_path: Path) -> None:
        """Five walks, five syncs in time."""
        assert self.synced(tmp_path) == [True] * 5

    @pytest.mark.parametrize("weaker", ["NORMAL", "OFF"])
    def test_the_watch_would_notice(self, tmp_path: Path, weaker: str) -> None:
        """With a weaker setting the same watch finds acknowledgements that came too early."""
        assert False in self.synced(tmp_path, weaker)


def test_a_beginning_can_be_killed_at_any_moment(tmp_path: Path) -> None:
    """Killed while the ledger is being begun: it is gone on with, and what was acknowledged is there."""
    chance = random.Random(41)
    for number in range(KILLS):
        path = tmp_path / f"pond{number}"
        child = start("until-killed", path)
        # The file appears at the very beginning; then the pages, the tables and the first walk follow.
        while not path.exists() and child.poll() is None:
            time.sleep(0.0005)
        time.sleep(chance.uniform(0, 0.01))
        child.send_signal(signal.SIGKILL)
        out, err = child.communicate(timeout=60)
        assert err == ""
        with open_ledger(path) as ledger:
            there = {sighting.id for sighting, _, _ in ledger.current_sightings()}
        assert {line.rstrip("\n") for line in out.splitlines(keepends=True) if line.endswith("\n")} <= there
        assert healthy(path)


def test_four_processes_write_at_once(tmp_path: Path) -> None:
    """Four times twenty-five walks, begun together in a folder without a ledger: a hundred are there."""
    path = tmp_path / "pond"
    children = [start("some", path, 25) for _ in range(4)]
    said: set[str] = set()
    for child in children:
        out, err = child.communicate(timeout=120)
        assert (child.returncode, err) == (0, "")
        said |= set(out.split())
    assert len(said) == 100
    assert kept(path) == said
    assert healthy(path)
    with open_ledger(path) as ledger:
        assert [person.name for person in ledger.people.all()] == ["Ada Marsh"]


@pytest.mark.parametrize("most_bytes", [40_000, 300_000])
def test_a_full_disk_is_a_fault_with_nothing_half_written(tmp_path: Path, most_bytes: int) -> None:
    """Files may not grow beyond a limit: a fault, what was acknowledged is kept, and it goes on after."""
    path = tmp_path / "pond"
    child = start("until-full", path, most_bytes)
    out, err = child.communicate(timeout=120)
    assert err == ""
    *acknowledged, code = out.split()
    assert code in ("disk-full", "disk-trouble")
    if acknowledged:
        assert kept(path) == set(acknowledged)
    again = start("some", path, 2)
    out, err = again.communicate(timeout=60)
    assert err == ""
    assert kept(path) == {*acknowledged, *out.split()}
    assert healthy(path)
