"""The ledger only grows: raw SQL on a real file, past all our code, is refused by the file itself."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, raw, rows, sighting, visit

ROW = {
    "entry_id": "e-new",
    "parent": None,
    "kind": "visit",
    "subject": "v-new",
    "act": "recorded",
    "reason": "",
    "by": "somebody",
    "written_at": NOON,
    "body": "{}",
}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A ledger with one visit and two sightings, closed."""
    file = tmp_path / "pond.reedmace"
    with begun(file) as (ledger, ada, mint):
        walk = visit(1, ada)
        ledger.record_walk(walk, [sighting("one", "v1"), sighting("two", "v1")], ada, NOON, mint)
    return file


def add(path: Path, how: str = "INSERT", **changes: object) -> None:
    """Insert a row by raw SQL: a good one, but for the changes."""
    row = ROW | changes
    names = ", ".join(f'"{name}"' for name in row)
    with raw(path) as connection:
        connection.execute("PRAGMA recursive_triggers = OFF")
        connection.execute(f"{how} INTO entry ({names}) VALUES ({', '.join('?' * len(row))})", tuple(row.values()))


def test_the_row_these_tests_bend_is_a_good_one(path: Path) -> None:
    """Without this, every refusal below could have another cause."""
    add(path)
    assert len(rows(path)) == 4


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET body = '{}'",
        "UPDATE entry SET reason = 'x' WHERE seq = 1",
        "UPDATE OR REPLACE entry SET entry_id = (SELECT entry_id FROM entry WHERE seq = 2) WHERE seq = 1",
        "UPDATE OR IGNORE entry SET taxon = 'x' WHERE seq = 2",
        "DELETE FROM entry",
        "DELETE FROM entry WHERE seq = 3",
        "INSERT INTO entry SELECT * FROM entry WHERE seq = 1 ON CONFLICT (seq) DO UPDATE SET body = '{}'",
        "INSERT INTO entry SELECT * FROM entry WHERE seq = 1 ON CONFLICT (entry_id) DO UPDATE SET act = 'x'",
        "INSERT OR REPLACE INTO entry SELECT * FROM entry WHERE seq = 1",
        "REPLACE INTO entry SELECT * FROM entry",
        "INSERT OR IGNORE INTO entry SELECT * FROM entry",
    ],
)
def test_nothing_is_changed_or_deleted(path: Path, statement: str) -> None:
    """Updates, deletes, upserts and replacements all fail, and every row is as it was."""
    before = rows(path)
    with raw(path) as connection:
        connection.execute("PRAGMA recursive_triggers = OFF")
        with pytest.raises(sqlite3.IntegrityError, match="the ledger only grows"):
            connection.execute(statement)
    assert rows(path) == before


@pytest.mark.parametrize("column", ["seq", "entry_id"])
@pytest.mark.parametrize("how", ["INSERT", "INSERT OR REPLACE", "REPLACE"])
def test_replacing_a_row_by_its_number_or_id_is_refused(path: Path, column: str, how: str) -> None:
    """INSERT OR REPLACE deletes without firing delete triggers: the insert itself has to be stopped."""
    before = rows(path)
    taken = before[1][0] if column == "seq" else before[1][1]
    with pytest.raises(sqlite3.IntegrityError, match="the ledger only grows"):
        add(path, how, **{column: taken})
    assert rows(path) == before


def test_one_insert_of_two_rows_with_one_id_leaves_neither(path: Path) -> None:
    """The trigger sees the first row of a statement when it comes to the second."""
    before = rows(path)
    with raw(path) as connection, pytest.raises(sqlite3.IntegrityError, match="the ledger only grows"):
        connection.execute(
            'INSERT OR REPLACE INTO entry (entry_id, kind, subject, act, "by", written_at, body) VALUES'
            f" ('e', 'visit', 'v', 'recorded', 'x', '{NOON}', '{{}}'),"
            f" ('e', 'visit', 'w', 'recorded', 'x', '{NOON}', '{{}}')"
        )
    assert rows(path) == before


@pytest.mark.parametrize(
    "changes",
    [
        {"parent": "nowhere"},
        {"parent": ""},
        {"parent": "e-new"},  # itself
    ],
)
def test_a_parent_that_is_not_there_is_refused(path: Path, changes: dict[str, object]) -> None:
    """An entry follows one that is there already."""
    with pytest.raises(sqlite3.IntegrityError, match="follows is not there"):
        add(path, act="amended", reason="why", **changes)


def test_an_entry_follows_one_of_its_own_subject_and_kind(path: Path) -> None:
    """A sighting's history never runs through another's."""
    first = rows(path)[0]
    for changes in ({"subject": "v-other"}, {"subject": first[4], "kind": "site"}):
        with pytest.raises(sqlite3.IntegrityError, match="follows is not there"):
            add(path, parent=first[1], act="amended", reason="why", **changes)
    add(path, parent=first[1], act="amended", reason="why", subject=first[4])


@pytest.mark.parametrize("reason", [None, "", "   "])
@pytest.mark.parametrize("act", ["amended", "redetermined", "withdrawn", "replied", "answered"])
def test_a_change_without_a_reason_is_refused(path: Path, act: str, reason: str | None) -> None:
    """NULL slips through a bare CHECK, for NULL is not false: the column is NOT NULL as well."""
    first = rows(path)[0]
    with pytest.raises(sqlite3.IntegrityError, match="constraint failed"):
        add(path, parent=first[1], subject=first[4], act=act, reason=reason)


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"seq": -1}, "constraint failed"),
        ({"seq": "one"}, "datatype mismatch|cannot store"),
        ({"entry_id": None}, "constraint failed"),
        ({"entry_id": ""}, "constraint failed"),
        ({"subject": ""}, "constraint failed"),
        ({"by": None}, "constraint failed"),
        ({"by": ""}, "constraint failed"),
        ({"body": "not json"}, "constraint failed"),
        ({"body": None}, "constraint failed"),
        ({"body": b"{}"}, "cannot store BLOB"),
        ({"year": "two thousand"}, "cannot store TEXT"),
        ({"written_at": "2026-06-14 12:00:00"}, "constraint failed"),
        ({"written_at": "2026-06-14T12:00:00.5Z"}, "constraint failed"),
        ({"written_at": "2026-06-14T12:00:00+01:00"}, "constraint failed"),
        ({"kind": "opinion"}, "does not know this kind"),
        ({"act": "deleted", "reason": "x"}, "does not know this kind"),
        ({"kind": "sighting", "line_id": "l", "taxon": "T"}, "does not know this kind"),
    ],
)
def test_a_row_that_makes_no_sense_is_refused(path: Path, changes: dict[str, object], why: str) -> None:
    """STRICT types, checks and triggers guard every column that others rest on."""
    with pytest.raises(sqlite3.Error, match=why):
        add(path, **changes)


def test_a_recorded_entry_follows_nothing(path: Path) -> None:
    """A subject begins once; what follows is a change and has a reason."""
    first = rows(path)[0]
    with pytest.raises(sqlite3.IntegrityError, match="does not know this kind"):
        add(path, parent=first[1], subject=first[4])


def test_dropping_the_trigger_is_not_stopped(path: Path) -> None:
    """docs/ledger.md says so: triggers stop accidents and our own bugs, not someone who means it."""
    with raw(path) as connection:
        connection.execute("DROP TRIGGER entry_no_delete")
        connection.execute("DELETE FROM entry WHERE seq = 3")
    assert len(rows(path)) == 2
