"""Answers of a county recorder: kept beside what was said in the field, in every copy of the ledger."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledger.pond import LATER, NOON, begun, counting, raw, refused, rows, sighting, visit
from reedmace.ledger.replies import Reply
from reedmace.ledger.restoring import restore
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records.verification import STATUSES, Verification

MIXTA, GRANDIS = "Aeshna mixta", "Aeshna grandis"


def recorder(ledger: Ledger) -> str:
    """The county recorder's id."""
    return ledger.people.register("Tarn Fenwick", counting(900))


def said(ledger: Ledger, status: str, date: str = "2026-11-02", **more: str) -> Verification:
    """An answer about a record of Aeshna mixta."""
    return Verification(status, recorder(ledger), date, about=MIXTA)._replace(**more)


def listed(ledger: Ledger, status: str) -> list[str]:
    """The ids that a list of this status gives."""
    return [one.id for one, _, _ in ledger.current_sightings(Wanted(status=status))]


def test_an_answer_changes_no_entry_and_is_read_back(tmp_path: Path) -> None:
    """Every status, with its remark and offers; the record itself reads as before."""
    path = tmp_path / "pond"
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        before, there = rows(path), ledger.standing("s-one")
        replies = [Reply("s-one", said(ledger, status, remark="spot seen"), {"count": "3"}) for status in STATUSES]
        ids = ledger.answered_by_recorder(replies, ada, LATER, mint)
        found = ledger.replies_about("s-one")
        assert [one._replace(by="", written_at="", id="") for one in found] == replies
        assert ([one.id for one in found], {one.by for one in found}) == (list(ids), {ada})
        assert ledger.standing("s-one") == there
        assert ledger.history("s-one") == [(there[1]._replace(), there[0])]
        assert list(ledger.audit(lambda _: None)) == []
    assert rows(path)[: len(before)] == before


def test_the_latest_by_the_verifiers_date_counts(tmp_path: Path) -> None:
    """Written down in any order; without a date, the day of writing it down stands for it."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        ledger.answered_by_recorder([Reply("s-one", said(ledger, "correct", "2026-12-01"))], ada, LATER, mint)
        ledger.answered_by_recorder([Reply("s-one", said(ledger, "plausible", "2026-11-01"))], ada, LATER, mint)
        ledger.answered_by_recorder([Reply("s-one", said(ledger, "unconfirmed", ""))], ada, LATER, mint)
        assert ledger.verifications()("s-one") == said(ledger, "correct", "2026-12-01")
        ledger.relist()
        assert ledger.verifications()("s-one") == said(ledger, "correct", "2026-12-01")
        assert ledger.verifications()("s-none") is None


def test_an_answer_holds_for_the_name_it_was_about() -> None:
    """Named anew by somebody else since, the record is not verified; under the verifier's own name it is."""
    answer = Verification("incorrect", "p", about=MIXTA, name=GRANDIS)
    assert answer.holds_for(MIXTA) == "incorrect"
    assert answer.holds_for(GRANDIS) == "correct"
    assert answer.holds_for("Aeshna cyanea") == ""
    assert Verification("plausible", "p", about=MIXTA).holds_for(GRANDIS) == ""


@pytest.mark.parametrize(
    ("status", "asked"),
    [
        ("correct", "verified"),
        ("considered correct", "verified"),
        ("plausible", "plausible"),
        ("unconfirmed", "unconfirmed"),
        ("unable to verify", "unconfirmed"),
        ("incorrect", "incorrect"),
        ("not reviewed", "not-reviewed"),
    ],
)
def test_a_list_by_status_agrees_with_what_holds(tmp_path: Path, status: str, asked: str) -> None:
    """Among others, as answered, named anew by the verifier, and named anew by somebody else."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        names = ("one", "two", "three", "four")
        ledger.record_walk(visit(1, ada), [sighting(name, "v1") for name in names], ada, NOON, mint)
        ledger.answered_by_recorder(
            [
                Reply("s-one", said(ledger, status)),
                Reply("s-two", said(ledger, status, name=GRANDIS)),
                Reply("s-three", said(ledger, status)),
            ],
            *(ada, LATER, mint),
        )
        for name in ("two", "three"):
            anew = sighting(name, "v1", GRANDIS)
            ledger.amend(anew, "looked again", ada, LATER, mint, act="redetermined")
        wanted = {
            word: [
                one.id
                for one, _, _ in ledger.current_sightings()
                if (answer := ledger.verifications()(one.id)) and answer.holds_for(one.taxon.scientific_name) in words
            ]
            for word, words in {
                "verified": ("correct", "considered correct"),
                asked: (status,) if asked not in ("unconfirmed", "verified") else _both(asked),
            }.items()
        }
        assert listed(ledger, asked) == wanted[asked]
        assert listed(ledger, "verified") == wanted["verified"]
        assert "s-one" in listed(ledger, asked)
        assert "s-two" in listed(ledger, "verified")
        assert "s-three" not in listed(ledger, asked)


def _both(asked: str) -> tuple[str, ...]:
    return ("correct", "considered correct") if asked == "verified" else ("unconfirmed", "unable to verify")


def test_what_cannot_be_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    """A sighting that is not there, a stranger, a word that is no status."""
    path = tmp_path / "pond"
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        good = Reply("s-one", said(ledger, "correct"))
        before = rows(path)
        with refused("not-recorded"):
            ledger.answered_by_recorder([good, good._replace(sighting="s-two")], ada, LATER, mint)
        with refused("unknown-person"):
            ledger.answered_by_recorder([good, good._replace(said=good.said._replace(verifier="x"))], ada, LATER, mint)
        with pytest.raises(ValueError, match="no status"):
            ledger.answered_by_recorder([good._replace(said=good.said._replace(status="fine"))], ada, LATER, mint)
        assert rows(path) == before


def test_copies_of_the_ledger_carry_answers_and_have_nothing_to_decide(tmp_path: Path) -> None:
    """Each copy took one; merged both ways, dumped and restored, both hold the same."""
    with begun(tmp_path / "one") as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        recorder(ledger)
        ledger.backup(tmp_path / "two")
        ledger.answered_by_recorder([Reply("s-one", said(ledger, "plausible"))], ada, LATER, counting(1, "a"))
    with open_ledger(tmp_path / "two") as ledger:
        answer = said(ledger, "correct", "2026-12-24")
        ledger.answered_by_recorder([Reply("s-one", answer)], ada, LATER, counting(1, "b"))
        assert ledger.merge(tmp_path / "one", lambda _: None).diverged == ()
        both = ledger.replies_about("s-one")
    with open_ledger(tmp_path / "one") as ledger:
        assert ledger.merge(tmp_path / "two", lambda _: None).diverged == ()
        assert ledger.replies_about("s-one") == both
        assert ledger.verifications()("s-one") == answer
        dump = tmp_path / "dump.jsonl"
        dump.write_text("".join(f"{line}\n" for line in ledger.dump()), encoding="utf-8")
    restore(str(dump), str(tmp_path / "three"), lambda _: None)
    with open_ledger(tmp_path / "three") as ledger:
        assert (ledger.replies_about("s-one"), ledger.verifications()("s-one")) == (both, answer)
        assert list(ledger.audit(lambda _: None)) == []


def test_the_audit_sees_an_answer_that_is_not_looked_up(tmp_path: Path) -> None:
    """Somebody changed the table past our code; working it out anew mends it."""
    path = tmp_path / "pond"
    with begun(path) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        ledger.answered_by_recorder([Reply("s-one", said(ledger, "plausible"))], ada, LATER, mint)
    for harm in ("UPDATE replied SET status = 'correct'", "DELETE FROM replied"):
        with raw(path) as connection:
            connection.execute(harm)
        with open_ledger(path) as ledger:
            assert [one.code for one in ledger.audit(lambda _: None)] == ["listing-differs"]
            ledger.relist()
            assert list(ledger.audit(lambda _: None)) == []
