"""Schema steps: whole or not at all, never rewriting an entry, and never backwards."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, raw, refused, rows, sighting, visit
from reedmace.ledger import schema
from reedmace.ledger.store import open_ledger


def walked(path: Path) -> None:
    """Begin a ledger with one sighting."""
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)


def test_the_file_says_that_it_is_a_ledger(tmp_path: Path) -> None:
    """The application id stands at byte 68, where other programs look for it (SQLite file format)."""
    walked(tmp_path / "pond")
    assert (tmp_path / "pond").read_bytes()[68:72] == b"Reed"


def test_a_step_and_its_number_are_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A step that fails half way leaves neither tables nor version behind, and the ledger still opens."""
    path = tmp_path / "pond"
    walked(path)
    before = rows(path)
    with monkeypatch.context() as patch:
        broken = (
            *schema.STEPS,
            ("CREATE TABLE a (x) STRICT", "CREATE TABLE b (x INTEGER) STRICT", "NONSENSE"),
        )
        patch.setattr(schema, "STEPS", broken)
        with raw(path) as connection, pytest.raises(sqlite3.OperationalError):
            schema.upgrade(connection, broken)
    with raw(path) as connection:
        assert schema.version(connection) == len(schema.STEPS)
        assert not connection.execute("SELECT name FROM sqlite_schema WHERE name IN ('a', 'b')").fetchall()
    assert rows(path) == before


def test_an_older_ledger_is_brought_up_to_date_on_opening(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A later step adds a searched column that holds for old entries too, without rewriting one."""
    path = tmp_path / "pond"
    walked(path)
    column = (
        "ALTER TABLE entry ADD COLUMN genus TEXT GENERATED ALWAYS AS (json_extract(body, '$.taxon.genus')) VIRTUAL",
        "CREATE INDEX sighting_genus ON entry (genus) WHERE kind = 'sighting'",
    )
    with begun(path) as (_, ada, mint):
        old = visit(1, ada)
        monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, column))
        with open_ledger(path, create=False) as newer:
            aeshna = sighting("two", "v1")
            aeshna = aeshna._replace(taxon=aeshna.taxon._replace(genus="Aeshna"))
            newer.record_walk(old, [aeshna], ada, NOON, mint)
    with raw(path) as connection:
        assert schema.version(connection) == len(schema.STEPS)
        assert connection.execute("SELECT subject, genus FROM entry WHERE kind = 'sighting'").fetchall() == [
            ("s-one", None),
            ("s-two", "Aeshna"),
        ]


def test_a_newer_ledger_is_refused_and_left_alone(tmp_path: Path) -> None:
    """A format that is not known yet is never guessed at."""
    path = tmp_path / "pond"
    walked(path)
    with raw(path) as connection:
        connection.execute("PRAGMA user_version = 99")
    before = path.read_bytes()
    with refused("ledger-too-new") as caught, open_ledger(path):
        pass
    assert "upgrade" in caught.value.faults[0].hint
    assert path.read_bytes() == before


def test_every_step_is_single_statements() -> None:
    """Executescript commits first, so each statement stands alone."""
    for step in schema.STEPS:
        for statement in step:
            assert sqlite3.complete_statement(statement + ";")
            if "TRIGGER" not in statement:
                assert ";" not in statement
