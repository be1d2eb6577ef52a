"""A ledger handled in every way there is, step by step at random, against a plain picture of what must be in it.

After every step: no entry is lost or changed, what stands is what the picture says, lists agree with entries,
and an audit finds nothing but what the steps left to decide.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from itertools import count
from pathlib import Path

from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, multiple, rule

from ledger.pond import raw
from reedmace.faults import Refused
from reedmace.keys.model import Key
from reedmace.ledger.restoring import restore
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit
from reedmace.tasks.sheets.columns import guess
from reedmace.tasks.sheets.import_file import Importing, import_file
from reedmace.tasks.sheets.rows import look_at, rows

LEDGERS = ("one", "two")
TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=12)
TAXA = st.sampled_from(["Aeshna mixta", "Aeshna cyanea", "Anax imperator"])
HARMLESS = {"diverged", "visit-without-sighting", "sighting-without-visit"}
TODAY = date(2026, 7, 20)
HEADS = "ID,Date,Grid Ref,Species,No.,Comments"


@contextmanager
def may_be_refused(*codes: str) -> Iterator[None]:
    """Let a step be refused for these reasons, and for no other."""
    try:
        yield
    except Refused as refused:
        others = {fault.code for fault in refused.faults} - set(codes)
        if others:
            raise


class LedgerMachine(RuleBasedStateMachine):
    """Two ledgers of one person, handled in every way."""

    subjects = Bundle("subjects")
    key: Key  # set by the test that runs this

    @initialize()
    def begin(self) -> None:
        """Begin two ledgers with one person, who has one id in both."""
        self.folder = Path(tempfile.mkdtemp())
        self.number = count(1)
        self.clock = count(0)
        self.entries: dict[str, dict[str, tuple[object, ...]]] = {name: {} for name in LEDGERS}
        with self.opened("one") as ledger:
            self.ada = ledger.people.register("Ada Marsh", self.mint)
        with self.opened("two") as ledger:
            ledger.merge(self.folder / "one", lambda _: None)

    def mint(self) -> str:
        """Give an id."""
        return f"id-{next(self.number):06}"

    def now(self) -> str:
        """Give a time; it moves on now and then, so that some entries have the same."""
        return f"2026-07-12T10:00:{next(self.clock) // 3 % 60:02}Z"

    def opened(self, name: str) -> Ledger:
        """Open one of the ledgers."""
        return open_ledger(self.folder / name)

    def stored(self, name: str) -> dict[str, tuple[object, ...]]:
        """Give every entry of the file by id, without its number."""
        with raw(self.folder / name) as connection:
            found = connection.execute("SELECT * FROM entry").fetchall()
        return {str(row[1]): row[1:] for row in found}

    @rule(
        target=subjects,
        name=st.sampled_from(LEDGERS),
        taxa=st.lists(TAXA, max_size=3),
        text=TEXTS,
        day=st.integers(1, 28),
    )
    def record(self, name: str, taxa: list[str], text: str, day: int):
        """Log a walk."""
        place = PlaceRecord(typed="SU 431 118", system="GB", square="SU431118", side_m=100, locality=text)
        visit = Visit(self.mint(), date=f"2026-06-{day:02}", place=place, observers=(self.ada,), remarks=text)
        line = self.mint()
        seen = [Sighting(self.mint(), line, visit.id, Taxon(taxon), remarks=text, typed=text) for taxon in taxa]
        with self.opened(name) as ledger:
            ledger.record_walk(visit, seen, self.ada, self.now(), self.mint)
        return multiple(visit.id, *(one.id for one in seen))

    @rule(name=st.sampled_from(LEDGERS), subject=subjects, text=TEXTS)
    def amend(self, name: str, subject: str, text: str) -> None:
        """Change a record, where it is there and may be."""
        with self.opened(name) as ledger:
            found = ledger.standing(subject)
            if found is None:
                return
            record, meta = found
            with may_be_refused("withdrawn", "diverged", "nothing-changed"):
                ledger.amend(record._replace(remarks=text), "because", self.ada, self.now(), self.mint)
                assert meta.act != "withdrawn"
                assert ledger.standing(subject)[0].remarks == text

    @rule(name=st.sampled_from(LEDGERS), subject=subjects, taxon=TAXA)
    def redetermine(self, name: str, subject: str, taxon: str) -> None:
        """Give a sighting another name."""
        with self.opened(name) as ledger:
            found = ledger.standing(subject)
            if found is None or not isinstance(found[0], Sighting):
                return
            record = found[0]._replace(taxon=Taxon(taxon))
            with may_be_refused("withdrawn", "diverged", "nothing-changed"):
                ledger.amend(record, "looked again", self.ada, self.now(), self.mint, act="redetermined")

    @rule(name=st.sampled_from(LEDGERS), subject=subjects, back=st.booleans())
    def withdraw_or_reinstate(self, name: str, subject: str, back: bool) -> None:
        """Take a record back, or let it stand again."""
        with self.opened(name) as ledger:
            change = ledger.reinstate if back else ledger.withdraw
            fine = ("not-recorded", "withdrawn", "not-withdrawn", "visit-holds-sightings", "visit-missing", "diverged")
            with may_be_refused(*fine):
                change([subject], "because", self.ada, self.now(), self.mint)
                assert (ledger.standing(subject)[1].act == "withdrawn") != back

    @rule(name=st.sampled_from(LEDGERS), numbers=st.lists(st.integers(1, 6), max_size=4), much=st.integers(1, 3))
    def import_rows(self, name: str, numbers: list[int], much: int) -> None:
        """Import a sheet; rows that are there already are not written again."""
        lines = [
            f"row-{number},{number:02}/06/2026,SU 431 118,pale rushlet,{much},x" for number in dict.fromkeys(numbers)
        ]
        path = self.folder / "walks.csv"
        path.write_text("\n".join([HEADS, *lines, "broken,31/06/2026,SU,wombat,no,"]), encoding="utf-8")
        sheet = look_at(str(path))
        mapping = guess(self.key, sheet.columns, [row.cells for row in rows(sheet)], TODAY)
        before = self.stored(name)
        with self.opened(name) as ledger:
            how = Importing(self.ada, "Ada Marsh", self.now(), self.mint, TODAY)
            done = import_file(ledger, self.key, sheet, mapping, how, lambda _: None)
            assert done.sightings + done.there + done.faulty == len(lines) + 1
            again = import_file(ledger, self.key, sheet, mapping, how, lambda _: None)
            assert (again.sightings, again.visits) == (0, 0)
        for faults in self.folder.glob("*.faults*"):
            faults.unlink()
        assert len(self.stored(name)) == len(before) + done.sightings + done.visits

    @rule(into=st.sampled_from(LEDGERS))
    def merge(self, into: str) -> None:
        """Bring the other ledger's entries in."""
        other = LEDGERS[into == "one"]
        union = self.stored(into) | self.stored(other)
        with self.opened(into) as ledger:
            ledger.merge(self.folder / other, lambda _: None)
            assert ledger.merge(self.folder / other, lambda _: None).new == 0
        assert self.stored(into) == union

    @rule(name=st.sampled_from(LEDGERS), latest=st.booleans())
    def settle(self, name: str, latest: bool) -> None:
        """Decide one of the records that diverged."""
        with self.opened(name) as ledger:
            waiting = ledger.diverged()
            if waiting:
                subject, heads = waiting[0]
                ledger.settle(heads[0 if latest else -1].entry_id, "decided", self.ada, self.now(), self.mint)
                assert subject not in dict(ledger.diverged())

    @rule(name=st.sampled_from(LEDGERS), dumped=st.booleans())
    def out_and_back(self, name: str, dumped: bool) -> None:
        """Replace the ledger by what its backup or its dump is restored to."""
        before = self.stored(name)
        away = self.folder / "away"
        with self.opened(name) as ledger:
            if dumped:
                away.write_text("".join(f"{line}\n" for line in ledger.dump(contacts=True)), encoding="utf-8")
            else:
                ledger.backup(away)
        for part in self.folder.glob(f"{name}*"):
            part.unlink()
        restore(str(away), str(self.folder / name), lambda _: None)
        away.unlink()
        assert self.stored(name) == before

    @invariant()
    def nothing_is_lost_or_changed(self) -> None:
        """Every entry there was is there as it was; lists and audit agree."""
        for name in LEDGERS:
            if not hasattr(self, "entries") or not (self.folder / name).exists():
                continue
            now = self.stored(name)
            before = self.entries[name]
            assert before.items() <= now.items()
            self.entries[name] = now
            with self.opened(name) as ledger:
                assert {one.code for one in ledger.audit(lambda _: None)} <= HARMLESS
                for sighting, visit, meta in ledger.current_sightings(Wanted(withdrawn=True)):
                    standing = ledger.standing(sighting.id)
                    assert (sighting, meta.entry_id) == (standing[0], standing[1].entry_id)
                    assert visit == ledger.standing(visit.id)[0]

    def teardown(self) -> None:
        """Leave nothing behind."""
        if hasattr(self, "folder"):
            shutil.rmtree(self.folder)
