"""Copying a ledger while it is in use."""

from __future__ import annotations

import errno
import shutil
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, healthy, raw, refused, rows, sighting, visit
from reedmace.ledger.store import open_ledger


def test_a_backup_holds_everything_and_opens_by_itself(tmp_path: Path) -> None:
    """Taken while the ledger is open and its latest walk is still in the -wal file."""
    path, copy = tmp_path / "pond", tmp_path / "copies" / "pond"
    copy.parent.mkdir()
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        ledger.backup(copy)
        assert [file.name for file in copy.parent.iterdir()] == ["pond"]
    assert rows(copy) == rows(path)
    assert healthy(copy)
    with open_ledger(copy, create=False) as ledger:
        assert ledger.people.me() == ada
        ledger.record_walk(visit(2, ada), [], ada, NOON, mint)
    with raw(copy) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_copying_the_main_file_by_hand_loses_what_is_in_the_wal(tmp_path: Path) -> None:
    """Why there is a backup at all: docs/ledger.md warns of this."""
    path, copy = tmp_path / "pond", tmp_path / "copy"
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        shutil.copy(path, copy)
    with refused("no-ledger"), open_ledger(copy, create=False):
        pass


def test_a_backup_overwrites_nothing(tmp_path: Path) -> None:
    """An existing file stays as it is; a folder that is not there is a fault."""
    path, taken = tmp_path / "pond", tmp_path / "taken"
    taken.write_text("mine")
    with begun(path) as (ledger, _, _):
        with refused("backup-exists"):
            ledger.backup(taken)
        with refused("backup-cannot-write"):
            ledger.backup(tmp_path / "nowhere" / "copy")
    assert taken.read_text() == "mine"
    assert sorted(file.name for file in tmp_path.iterdir()) == ["pond", "taken"]


def test_a_disk_that_knows_no_links_takes_a_backup_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As sticks and cards are formatted; and there, too, nothing is overwritten."""

    def refuse(*_: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr("os.link", refuse)
    path, copy = tmp_path / "pond", tmp_path / "stick"
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        ledger.backup(copy)
        with refused("backup-exists"):
            ledger.backup(copy)
    assert rows(copy) == rows(path)
    assert sorted(file.name for file in tmp_path.iterdir()) == ["pond", "stick"]
