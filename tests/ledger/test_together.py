"""Several things written together: all of them, or nothing."""

from __future__ import annotations

from pathlib import Path

from ledger.pond import NOON, begun, refused, rows, sighting, visit


def test_what_is_written_together_is_there_whole(tmp_path: Path) -> None:
    """A person and two walks."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        with ledger.together():
            ben = ledger.people.register("Ben Sallow", mint)
            ledger.record_walk(visit(1, ben), [sighting("one", "v1")], ada, NOON, mint)
            ledger.record_walk(visit(2, ada), [], ada, NOON, mint)
        assert [row[3] for row in rows(tmp_path / "pond")] == ["visit", "sighting", "visit"]
        assert ledger.people.find("Ben Sallow") == ben


def test_of_what_is_refused_half_way_nothing_is_left(tmp_path: Path) -> None:
    """No person either, who would be named for ever by a ledger that holds nothing of hers."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        with refused("already-recorded"), ledger.together():
            ben = ledger.people.register("Ben Sallow", mint)
            ledger.record_walk(visit(1, ben), [sighting("one", "v1")], ada, NOON, mint)
            ledger.record_walk(visit(1, ben), [sighting("one", "v1")], ada, NOON, mint)
        assert rows(tmp_path / "pond") == []
        assert ledger.people.find("Ben Sallow") is None


def test_a_part_that_fails_leaves_the_rest(tmp_path: Path) -> None:
    """Whoever catches the refusal of one part goes on with the others."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        with ledger.together():
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            with refused("already-recorded"):
                ledger.record_walk(visit(1, ada), [sighting("two", "v1"), sighting("one", "v1")], ada, NOON, mint)
        assert [row[3] for row in rows(tmp_path / "pond")] == ["visit", "sighting"]
