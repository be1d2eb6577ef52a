"""Short forms of tests/ledger/torture.py, and what a command says when the ledger cannot be had."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from ledger import torture
from ledger.pond import NOON, begun, refused, sighting, visit
from reedmace.ledger.store import open_ledger


def test_kill_9_while_importing(tmp_path: Path) -> None:
    """Every row is there once, whenever it was stopped and however often it was begun again."""
    assert "every row is there once" in torture.kill_importing(tmp_path, 5)


def test_starved_while_importing(tmp_path: Path) -> None:
    """A clear fault, nothing half written, and it is gone on with."""
    said = torture.starved(tmp_path, 3)
    assert "disk-full" in said or "disk-trouble" in said


def test_eight_processes_at_once(tmp_path: Path) -> None:
    """No error is shown to anyone."""
    assert "160 sightings at once" in torture.writers(tmp_path, 8, 20)


def test_a_lock_held_by_another_is_a_clear_fault(tmp_path: Path) -> None:
    """After the patience has run out, with nothing written; and when the other is done, it goes on."""
    with begun(tmp_path / "pond"):
        pass
    other = sqlite3.connect(tmp_path / "pond", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with open_ledger(tmp_path / "pond", patience_s=0.1) as ledger:
        [ada] = ledger.people.ids_of("Ada Marsh")
        with refused("ledger-busy"):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, lambda: "e-1")
        other.execute("ROLLBACK")
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, iter(["e-1", "e-2"]).__next__)
    other.close()
