"""Year-end review: what was named by answers, run again against the key of today."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, rows, visit
from reedmace.keys.model import Key
from reedmace.ledger.wanted import Wanted
from reedmace.records import Answer, Naming, Photo, Sighting, Taxon
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.keep_naming import as_naming
from reedmace.tasks.naming.name_insect import Named
from reedmace.tasks.naming.review_names import Reviewed, review
from reedmace.tasks.records.audit_ledger import audit_ledger
from tarn import look

TODAY = date(2026, 12, 1)


@pytest.fixture
def named(tarn: Key) -> Named:
    """A look that the key has something to say about."""
    return look(tarn, "wings=closed", when="1 July 2026")


def reviewed(tmp_path: Path, key: Key, naming: Naming | None, taxon: str = "Tarnula pallida") -> list[Reviewed]:
    """Log one sighting with what a key said, and review the ledger; nothing in it is changed."""
    path = tmp_path / "pond"
    with begun(path) as (ledger, ada, mint):
        walk = visit(1, ada, date="2026-07-01")
        ledger.record_walk(walk, [Sighting("s", "l", "v1", Taxon(taxon), naming=naming)], ada, NOON, mint)
        before = rows(path)
        tables = {eye: Tables(key, eye) for eye in ("beginner", "practised")}
        found = list(review(ledger, tables, Wanted(), TODAY))
    assert rows(path) == before
    return found


def test_the_same_key_says_the_same(tmp_path: Path, tarn: Key, named: Named) -> None:
    """Date, place and habitat as they were typed then count as they did."""
    naming = as_naming(named)
    [one] = reviewed(tmp_path, tarn, naming)
    assert (one.then, one.then_word) == (one.now, one.now_word)
    assert (one.differs, one.faults) == (False, ())


def test_what_comes_out_otherwise_is_told(tmp_path: Path, tarn: Key, named: Named) -> None:
    """The key said something else then; the name on the record is compared with what is possible now."""
    naming = as_naming(named)._replace(verdict="settled", verdict_name="Mossopa magna", key_version="0.0.1")
    [one] = reviewed(tmp_path, tarn, naming, taxon="Nowhere known")
    assert (one.then_word, one.then, one.differs) == ("settled", "Mossopa magna", True)
    assert one.now != one.then
    assert not one.recorded_still_possible


def test_answers_that_do_not_read_any_more_are_told(tmp_path: Path, tarn: Key, named: Named) -> None:
    """A mark that the key no longer asks for is no reason to pass the record over."""
    naming = as_naming(named)._replace(answers=(Answer("feathers", "many"),))
    [one] = reviewed(tmp_path, tarn, naming)
    assert one.differs
    assert [fault.code for fault in one.faults] == ["unknown-character"]


def test_what_another_key_named_or_nobody_is_left_alone(tmp_path: Path, tarn: Key, named: Named) -> None:
    """There is nothing to compare with."""
    assert reviewed(tmp_path, tarn, as_naming(named)._replace(key_id="another")) == []


def test_photographs_that_are_gone_are_found(tmp_path: Path) -> None:
    """By their path beside the ledger, or in the folder given; an address on the net is not looked up."""
    (tmp_path / "there.jpg").write_bytes(b"x")
    (tmp_path / "album").mkdir()
    (tmp_path / "album" / "moved.jpg").write_bytes(b"x")
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        photos = tuple(map(Photo, ("there.jpg", "moved.jpg", "https://pond.example/a.jpg")))
        one = Sighting("s", "l", "v1", Taxon("Tarnula pallida"), photos=photos)
        ledger.record_walk(visit(1, ada), [one], ada, NOON, mint)
        [lost] = audit_ledger(ledger, None, lambda _: None)
        assert (lost.code, lost.about) == ("photo-missing", "s")
        assert "moved.jpg" in lost.said
        [lost] = audit_ledger(ledger, str(tmp_path / "album"), lambda _: None)
        assert "there.jpg" in lost.said
