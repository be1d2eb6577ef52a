"""Submissions and receipts: what went to whom is never lost, changed or doubled, in any copy of the ledger."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.pond import LATER, NOON, begun, counting, refused, rows
from records.strategies import texts
from reedmace.ledger.restoring import restore
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.submissions import Receipt, Submission, mark


def sent(recipient: str, number: int = 1, **more: object) -> Submission:
    """A submission of two sightings, one of them withdrawn."""
    made = Submission(f"sub-{number}", recipient, "county", NOON, "season.csv", "darwin-core-csv", "d" * 64, 2)
    return made._replace(sent={"s-1": mark("e-1", "e-2"), "s-2": ""}, how={"season": 2026})._replace(**more)


def recorder(ledger: Ledger) -> str:
    """The county recorder's id."""
    return ledger.people.register("Tarn Fenwick", counting(900))


def test_what_was_sent_is_read_back(tmp_path: Path) -> None:
    """Two recipients; one of them twice."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        tarn = recorder(ledger)
        made = [sent(tarn), sent(ada, 2), sent(tarn, 3, made_at=LATER, previous="sub-1")]
        for one in made:
            ledger.submit(one, ada, mint)
        assert ledger.submissions() == made
        with refused("already-recorded"):
            ledger.submit(made[0], ada, mint)
        with refused("unknown-person"):
            ledger.submit(sent("stranger", 9), ada, mint)


def test_a_receipt_stays_apart_and_is_written_once(tmp_path: Path) -> None:
    """The submission reads as before; a receipt that cannot be is refused."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        made = sent(recorder(ledger))
        ledger.submit(made, ada, mint)
        receipt = Receipt("sub-1", 1, 2, "one had no square")
        first = ledger.acknowledge(receipt, ada, LATER, mint)
        assert ledger.acknowledge(receipt, ada, LATER, mint) == first
        assert ledger.submissions() == [made]
        assert ledger.receipts() == ledger.receipts("sub-1")
        assert ledger.receipts() == [receipt._replace(by=ada, written_at=LATER, id=first)]
        with refused("receipt-unfit"):
            ledger.acknowledge(Receipt("sub-1", 3, 2), ada, LATER, mint)
        with refused("unknown-submission"):
            ledger.acknowledge(Receipt("sub-7", 1, 2), ada, LATER, mint)
        assert list(ledger.audit(lambda _: None)) == []


def test_copies_of_the_ledger_carry_them_and_have_nothing_to_decide(tmp_path: Path) -> None:
    """Merged both ways, dumped and restored; each copy took a receipt of its own."""
    with begun(tmp_path / "one") as (ledger, ada, mint):
        ledger.submit(sent(recorder(ledger)), ada, mint)
        ledger.backup(tmp_path / "two")
        ledger.acknowledge(Receipt("sub-1", 1, 2), ada, LATER, counting(1, "a"))
    with open_ledger(tmp_path / "two") as ledger:
        ledger.acknowledge(Receipt("sub-1", 2, 2), ada, LATER, counting(1, "b"))
        merged = ledger.merge(tmp_path / "one", lambda _: None)
        assert merged.diverged == ()
    with open_ledger(tmp_path / "one") as ledger:
        assert ledger.merge(tmp_path / "two", lambda _: None).diverged == ()
        assert {one.loaded for one in ledger.receipts()} == {1, 2}
        assert ledger.submissions() == [sent(recorder(ledger))]
        dump = tmp_path / "dump.jsonl"
        dump.write_text("".join(f"{line}\n" for line in ledger.dump()), encoding="utf-8")
    restore(str(dump), str(tmp_path / "three"), lambda _: None)
    assert {row[1:] for row in rows(tmp_path / "three")} == {row[1:] for row in rows(tmp_path / "two")}


def test_a_recipient_can_be_forgotten(tmp_path: Path) -> None:
    """The name is in no entry."""
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        tarn = recorder(ledger)
        ledger.submit(sent(tarn), ada, mint)
        assert ledger.forget([tarn], ["Tarn Fenwick"]).still_said == ()
        assert ledger.people.name_of(ledger.submissions()[0].recipient) == "name removed"
    assert b"Fenwick" not in (tmp_path / "pond").read_bytes()


@settings(max_examples=25)
@given(st.dictionaries(texts, st.sampled_from(["", "0" * 16]), max_size=4), texts, texts)
def test_any_text_comes_back_as_it_was(told: dict[str, str], profile: str, note: str) -> None:
    """File names, notes, ids of other programs."""
    with TemporaryDirectory() as folder, begun(Path(folder) / "pond") as (ledger, ada, mint):
        made = sent(ada, profile=profile, file_name=note, sent=told, how={"note": note})
        ledger.submit(made, ada, mint)
        ledger.acknowledge(Receipt("sub-1", 0, 0, note), ada, LATER, mint)
        assert ledger.submissions() == [made]
        assert ledger.receipts()[0].note == note
