"""Audit, dump and restore, merge and settle, forget: on real files, with what was spoilt put in by raw SQL."""

from __future__ import annotations

import json
import sqlite3
from functools import partial
from pathlib import Path

import pytest

from ledger.pond import LATER, NOON, begun, counting, healthy, raw, refused, rows, sighting, visit
from reedmace.faults import Where
from reedmace.ledger.notes import Note
from reedmace.ledger.restoring import restore
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.trouble import fault
from reedmace.ledger.wanted import Wanted
from reedmace.records import Photo

EVERYTHING = Wanted(withdrawn=True)
FORMATS = sorted((Path(__file__).parent.parent / "ledgers").glob("*.ledger"))


def quiet(_: int) -> None:
    """Tell nobody how far it is."""


def findings(path: Path) -> list[str]:
    """Give the codes of what an audit finds."""
    with open_ledger(path, create=False) as ledger:
        return [one.code for one in ledger.audit(quiet)]


def entries(path: Path) -> set[tuple[object, ...]]:
    """Give every entry without its number, which means nothing elsewhere."""
    return {row[1:] for row in rows(path)}


def state(path: Path) -> list[tuple[object, ...]]:
    """Give what stands, as every list shows it."""
    with open_ledger(path) as ledger:
        return [
            (one, at, meta.diverged, meta.act) for one, at, meta in ledger.current_sightings(Wanted(withdrawn=True))
        ]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A ledger with a bit of everything."""
    file = tmp_path / "pond"
    with begun(file) as (ledger, ada, mint):
        walk = visit(1, ada)
        seen = [sighting("one", "v1", count=2, count_kind="exact"), sighting("two", "v1", remarks="שלום 🌬\n[x] \x1b")]
        ledger.record_walk(walk, seen, ada, NOON, mint)
        ledger.record_walk(visit(2, ada, none_seen=True), [], ada, NOON, mint)
        ledger.amend(sighting("one", "v1", count=3, count_kind="exact"), "counted again", ada, LATER, mint)
        ledger.withdraw(["s-two"], "no", ada, LATER, mint)
        ledger.note(Note("profile", "profile:walks", {"columns": {"Species": "name"}}), ada, NOON, mint)
    return file


class TestAudit:
    """docs/ledger.md: `ledger audit` looks whether everything in the file is as it should be."""

    def test_a_sound_ledger_is_clean(self, path: Path) -> None:
        assert findings(path) == []

    @pytest.mark.parametrize(
        ("spoil", "code"),
        [
            ("DROP TRIGGER entry_no_delete", "guard-missing"),
            ("DROP INDEX listed_day; CREATE INDEX listed_day ON listed (day)", "guard-changed"),
            ("CREATE TABLE mine (x)", "stranger"),
            ("DELETE FROM person", "person-missing"),
            ("DELETE FROM listed WHERE subject = 's-one'", "listing-differs"),
            ("UPDATE listed SET taxon = 'Aeshna grandis'", "listing-differs"),
            ("DELETE FROM listed_person", "listing-differs"),
            ("INSERT INTO joined VALUES ('nothing')", "end-without-entry"),
            ("DROP TRIGGER entry_no_update; UPDATE entry SET taxon = 'Aeshna grandis' WHERE seq = 2", "columns-differ"),
            ("DROP TRIGGER entry_no_update; UPDATE entry SET body = '{\"a\":1}' WHERE seq = 2", "record-too-new"),
            ("DROP TRIGGER entry_no_update; UPDATE entry SET parent = 'x' WHERE seq = 4", "parent-missing"),
            (
                "DROP TRIGGER entry_no_update; UPDATE entry SET act = 'x', reason = 'x' WHERE seq = 2",
                "unknown-kind",
            ),
            ("DROP TRIGGER entry_no_delete; DELETE FROM entry WHERE seq = 1", "sighting-without-visit"),
        ],
    )
    def test_what_is_spoilt_is_found(self, path: Path, spoil: str, code: str) -> None:
        """Each by raw SQL, past all our code."""
        with raw(path) as connection:
            for statement in spoil.split("; "):
                connection.execute(statement)
        assert code in findings(path)

    def test_relisting_mends_what_is_listed(self, path: Path) -> None:
        """Lists are worked out anew from the entries."""
        before = state(path)
        with raw(path) as connection:
            connection.execute("DELETE FROM listed")
            connection.execute("DELETE FROM listed_person")
        with open_ledger(path) as ledger:
            ledger.relist()
        assert findings(path) == []
        assert state(path) == before

    def test_a_visit_with_nothing_is_told_without_alarm(self, path: Path) -> None:
        """All its sightings were withdrawn, and nobody said that none were seen."""
        with begun(path) as (ledger, ada, _):
            ledger.withdraw(["s-one"], "no", ada, LATER, counting(50))
            [found] = ledger.audit(quiet)
        assert (found.code, found.about, found.grave) == ("visit-without-sighting", "v1", False)
        assert "ledger withdraw v1" in found.remedy
        assert "none-seen" not in found.remedy  # something was logged: that it was nothing is for nobody to say

    def test_a_sighting_without_its_visit_is_told_with_what_can_be_done(self, path: Path) -> None:
        """By the sighting's own id where the visit is gone; it is listed nowhere, and counted."""
        with raw(path) as connection:
            connection.execute("DROP TRIGGER entry_no_delete")
            connection.execute("DELETE FROM entry WHERE kind = 'visit'")
        with open_ledger(path) as ledger:
            ledger.relist()
            [found] = [one for one in ledger.audit(quiet) if one.code == "sighting-without-visit"]
            assert f"ledger withdraw {found.about} " in found.remedy
            assert "reinstate" not in found.remedy
            assert (list(ledger.current_sightings()), ledger.without_visit()) == ([], 1)


def changed(before: str, after: str, lines: list[str]) -> list[str]:
    """The lines of a dump with other words in them."""
    assert any(before in line for line in lines)
    return [line.replace(before, after) for line in lines]


# What no ledger would have taken, and what is no line of a dump.
SPOILT = (
    ('"count": 3', '"count": -3'),
    ('"count": 3', '"count": "many"'),
    ('"count": 3', '"count": null'),
    ('"count": 3', '"count": 3, "pairs": 3'),
    ('"count": 3', '"count": 3, "colour": "red"'),
    ('"count_kind": "exact"', '"count_kind": "guessed"'),
    ('"date": "2026-06-01"', '"date": "the first"'),
    ('"date": "2026-06-01", "first_day"', '"date": "2026-06-02", "first_day"'),
    ('{"id": "s-one"', '{"id": "s-other"'),
    ('"reason": "counted again"', '"reason": " "'),
    ('"act": "amended"', '"act": {"a": 1}'),
    ('"reason": "counted again"', r'"reason": "\ud800"'),
    ('"act": "amended"', '"act": "amended", "joins": [3]'),
    ('"body": {"columns": {"Species": "name"}}', '"body": 3'),
)
UNREAD = (
    ('"count": 3', '"count": NaN'),
    ('"name": "Ada Marsh"', '"nickname": "Ada Marsh"'),
    ('"name": "Ada Marsh"', '"name": 3'),
)


class TestDump:
    """docs/ledger.md: a dump holds the whole ledger, and `restore` reads it back to the same."""

    def dumped(self, path: Path) -> list[str]:
        with open_ledger(path) as ledger:
            return list(ledger.dump(contacts=True))

    def write(self, lines: list[str], file: Path) -> Path:
        file.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
        return file

    def test_a_dump_comes_back_the_same(self, path: Path, tmp_path: Path) -> None:
        """Every entry, byte for byte, and whoever is "me"."""
        lines = self.dumped(path)
        count = restore(str(self.write(lines, tmp_path / "dump")), str(tmp_path / "again"), quiet).entries
        assert count == len(rows(path))
        assert entries(tmp_path / "again") == entries(path)
        assert state(tmp_path / "again") == state(path)
        assert self.dumped(tmp_path / "again") == lines
        assert findings(tmp_path / "again") == []

    def test_the_order_is_free_of_the_order_of_writing(self, path: Path, tmp_path: Path) -> None:
        """A copy into which the same entries came by a merge gives the same bytes."""
        with begun(tmp_path / "other", counting(700)) as (ledger, _, _):
            ledger.merge(path, quiet)
        entry = [line for line in self.dumped(tmp_path / "other") if "entry_id" in line]
        assert entry == [line for line in self.dumped(path) if "entry_id" in line]

    def test_a_backup_is_restored_as_well(self, path: Path, tmp_path: Path) -> None:
        with open_ledger(path) as ledger:
            ledger.backup(tmp_path / "backup")
        restore(str(tmp_path / "backup"), str(tmp_path / "again"), quiet)
        assert entries(tmp_path / "again") == entries(path)

    def test_it_overwrites_nothing(self, path: Path, tmp_path: Path) -> None:
        dump = self.write(self.dumped(path), tmp_path / "dump")
        with refused("restore-exists"):
            restore(str(dump), str(path), quiet)

    @pytest.mark.parametrize("old", FORMATS, ids=lambda path: path.stem)
    def test_what_was_written_in_an_older_format_comes_back(self, old: Path, tmp_path: Path) -> None:
        """With nothing refused."""
        (tmp_path / "old").write_bytes(old.read_bytes())
        lines = self.dumped(tmp_path / "old")
        restore(str(self.write(lines, tmp_path / "dump")), str(tmp_path / "again"), quiet)
        assert self.dumped(tmp_path / "again") == lines

    def test_a_changed_entry_is_named_with_its_line(self, path: Path, tmp_path: Path) -> None:
        """What is wrong with it, too."""
        lines = changed('"count": 3', '"count": -3', self.dumped(path))
        [number] = [at for at, line in enumerate(lines, 1) if '"count": -3' in line]
        with refused("dump-refused") as caught:
            restore(str(self.write(lines, tmp_path / "dump")), str(tmp_path / "again"), quiet)
        [fault] = caught.value.faults
        assert fault.where == Where(str(tmp_path / "dump"), number)
        assert fault.said == json.loads(lines[number - 1])["entry_id"]
        assert "sighting.count" in fault.message
        assert "-3" in fault.message

    @pytest.mark.parametrize(
        ("change", "code"),
        [
            (lambda lines: lines[:-1], "dump-cut-short"),
            (lambda lines: [*lines[:-2], lines[-1]], "dump-cut-short"),
            (lambda lines: lines[1:], "not-a-dump"),
            (lambda lines: [lines[0], "what is this", *lines[1:]], "not-a-dump"),
            (lambda lines: [lines[0].replace("1", "9", 1), *lines[1:]], "dump-too-new"),
            (lambda lines: [*lines[:-1], lines[-2], lines[-1]], "dump-refused"),
            (lambda lines: [line.replace('"act": "amended"', '"act": "eaten"') for line in lines], "dump-refused"),
            *((partial(changed, *words), "dump-refused") for words in SPOILT),
            *((partial(changed, *words), "not-a-dump") for words in UNREAD),
        ],
    )
    def test_what_is_not_whole_is_refused(self, path: Path, tmp_path: Path, change, code: str) -> None:
        """With nothing left behind."""
        dump = self.write(change(self.dumped(path)), tmp_path / "dump")
        with refused(code):
            restore(str(dump), str(tmp_path / "again"), quiet)
        assert sorted(one.name for one in tmp_path.iterdir()) == ["dump", "pond"]

    def test_contact_details_only_where_asked_for(self, path: Path) -> None:
        with begun(path) as (ledger, ada, _):
            ledger.people.set_contact(ada, "ada@example.org")
            assert "ada@example.org" not in "".join(ledger.dump())
            assert "ada@example.org" in "".join(ledger.dump(contacts=True))


class TestMerge:
    """docs/ledger.md: merging twice, or the other way round, gives the same."""

    def copies(self, path: Path, tmp_path: Path) -> tuple[Path, Path]:
        """Two copies that went on apart: both amended one, each added a walk, the second withdrew."""
        with open_ledger(path) as ledger:
            ledger.backup(tmp_path / "a")
            ledger.backup(tmp_path / "b")
        for name, number, start in (("a", 4, 100), ("b", 5, 200)):
            with begun(tmp_path / name) as (ledger, ada, _):
                mint = counting(start, name)
                changed = sighting("one", "v1", count=number, count_kind="exact")
                ledger.amend(changed, f"as {name} has it", ada, LATER, mint)
                ledger.record_walk(
                    visit(start // 10, ada), [sighting(f"own {name}", f"v{start // 10}")], ada, LATER, mint
                )
        return tmp_path / "a", tmp_path / "b"

    def test_in_either_order_and_twice(self, path: Path, tmp_path: Path) -> None:
        one, other = self.copies(path, tmp_path)
        before = entries(one), entries(other)
        with open_ledger(tmp_path / "ab") as ledger:
            ledger.merge(one, quiet)
            done = ledger.merge(other, quiet)
            assert done.diverged == ("s-one",)
            assert (done.new, done.there) == (3, len(before[1]) - 3)
            again = ledger.merge(one, quiet)
            assert (again.new, again.people) == (0, 0)
        with open_ledger(tmp_path / "ba") as ledger:
            ledger.merge(other, quiet)
            ledger.merge(one, quiet)
        assert entries(tmp_path / "ab") == entries(tmp_path / "ba") == before[0] | before[1]
        assert state(tmp_path / "ab") == state(tmp_path / "ba")
        assert (entries(one), entries(other)) == before
        assert findings(tmp_path / "ab") == ["diverged"]

    def test_settling_ends_all_heads(self, path: Path, tmp_path: Path) -> None:
        """And merging the undecided copy again brings the question not back."""
        one, other = self.copies(path, tmp_path)
        with begun(one) as (ledger, ada, _):
            ledger.merge(other, quiet)
            [(subject, heads)] = ledger.diverged()
            kept = next(head for head in heads if head.reason == "as a has it")
            ledger.settle(kept.entry_id, "Ada was closer", ada, LATER, counting(300))
            assert ledger.diverged() == []
            assert ledger.standing(subject)[0].count == 4
            ledger.merge(other, quiet)
            assert ledger.diverged() == []
            ledger.amend(sighting("one", "v1", count=7, count_kind="exact"), "again", ada, LATER, counting(400))
            assert ledger.standing(subject)[0].count == 7
            with refused("no-such-choice"):
                ledger.settle(kept.entry_id, "again", ada, LATER, counting(500))
        assert findings(one) == []
        with open_ledger(other) as ledger:
            ledger.merge(one, quiet)
            assert ledger.diverged() == []
        assert state(one) == state(other)

    def test_heads_that_say_the_same_are_one(self, path: Path, tmp_path: Path) -> None:
        """The same correction made on both copies is nothing to decide; a later one ends both."""
        with open_ledger(path) as ledger:
            ledger.backup(tmp_path / "a")
        for name in ("pond", "a"):
            with begun(tmp_path / name) as (ledger, ada, _):
                ledger.withdraw(["s-one"], "not sure", ada, LATER, counting(100, name[0]))
        with begun(path) as (ledger, ada, _):
            assert ledger.merge(tmp_path / "a", quiet).diverged == ()
            ledger.reinstate(["s-one"], "sure after all", ada, LATER, counting(300))
            assert ledger.diverged() == []
        assert findings(path) == []

    def test_one_id_with_two_contents_is_refused(self, path: Path, tmp_path: Path) -> None:
        """One of the files was changed from outside: nothing is taken over."""
        with open_ledger(path) as ledger:
            ledger.backup(tmp_path / "a")
        with raw(tmp_path / "a") as connection:
            connection.execute("DROP TRIGGER entry_no_update")
            connection.execute("UPDATE entry SET reason = 'another' WHERE seq = 4")
        before = rows(path)
        with open_ledger(path) as ledger, refused("entry-differs"):
            ledger.merge(tmp_path / "a", quiet)
        assert rows(path) == before

    def test_the_other_is_not_touched(self, tmp_path: Path) -> None:
        """Not even upgraded, where it is of an older format."""
        before = FORMATS[0].read_bytes()
        with begun(tmp_path / "new") as (ledger, _, _):
            assert ledger.merge(FORMATS[0], quiet).new > 0
        assert FORMATS[0].read_bytes() == before
        assert not FORMATS[0].with_name(FORMATS[0].name + "-wal").exists()


@pytest.mark.parametrize("old", FORMATS, ids=lambda path: path.stem)
def test_a_ledger_of_every_released_format_opens_and_upgrades(old: Path, tmp_path: Path) -> None:
    """Every entry is kept, lists find it, and an audit is clean but for what its owner did."""
    path = tmp_path / "old"
    path.write_bytes(old.read_bytes())
    before = [row[:22] for row in rows(path)]
    with open_ledger(path, create=False) as ledger:
        found = list(ledger.current_sightings(Wanted(text="quoted")))
        assert sorted(one.id for one, _, _ in found) == ["s-one", "s-three", "s-two"]
        assert [one.id for one, _, _ in ledger.current_sightings(Wanted(status="withdrawn"))] == ["s-four"]
    assert [row[:22] for row in rows(path)] == before
    assert findings(path) == ["visit-without-sighting"]
    assert healthy(path)


def test_restoring_says_which_people_the_dump_does_not_hold(path: Path, tmp_path: Path) -> None:
    """Their names are gone; their ids and how many sightings they saw or named are told."""
    with open_ledger(path) as ledger:
        lines = [line for line in ledger.dump() if '"person": ' not in line.partition(",")[0]]
    (tmp_path / "dump").write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    done = restore(str(tmp_path / "dump"), str(tmp_path / "again"), quiet)
    with open_ledger(tmp_path / "again") as ledger:
        assert done.missing == tuple(ledger.people_missing())
        assert [number for _, number in done.missing] == [2]  # one of them was taken back


def test_a_full_disk_names_the_ledger_that_was_asked_for(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The new ledger is made in a hidden folder beside it, which is no place that anybody knows."""
    with open_ledger(path) as ledger:
        (tmp_path / "dump").write_text("".join(f"{line}\n" for line in ledger.dump()), encoding="utf-8")

    def full(ledger: Ledger, *_: object) -> int:
        raise fault("disk-full", "The disk is full.", "make room", ledger.path)

    monkeypatch.setattr(Ledger, "restore", full)
    with refused("disk-full") as caught:
        restore(str(tmp_path / "dump"), str(tmp_path / "again"), quiet)
    where = caught.value.faults[0].where
    assert where is not None
    assert where.file == str(tmp_path / "again")
    assert not (tmp_path / "again").exists()


class TestForget:
    """docs/ledger.md: forgetting removes the name and the contact from the file; the records stay."""

    def everything(self, path: Path) -> bytes:
        """All bytes of the ledger's files, in small letters."""
        return b"".join(one.read_bytes() for one in path.parent.glob(f"{path.name}*")).lower()

    def forgotten(self, ledger: Ledger, name: str):
        return ledger.forget(ledger.people.ids_of(name), [name])

    def test_the_name_is_in_no_byte_of_the_file(self, path: Path) -> None:
        with begun(path) as (ledger, ada, _):
            mint = counting(800)
            ben = ledger.people.register("Benedict Sallowfield", mint)
            ledger.people.set_contact(ben, "bens@pond.example")
            ledger.record_walk(visit(9, ben), [sighting("ben's", "v9", determiner=ben)], ben, NOON, mint)
            before = state(path)
            assert b"sallowfield" in self.everything(path)
            done = self.forgotten(ledger, "Benedict Sallowfield")
            assert (done.ids, done.saw, done.wrote, done.still_said) == ((ben,), 1, 2, ())
            for text in (b"sallowfield", b"benedict", b"bens@pond"):
                assert text not in self.everything(path)
            assert ledger.people.name_of(ben) == "name removed"
            assert ledger.people.me() == ada
        for text in (b"sallowfield", b"benedict", b"bens@pond"):
            assert text not in self.everything(path)
        assert state(path) == before
        assert findings(path) == []

    def test_it_says_where_the_name_still_stands(self, path: Path) -> None:
        """Words of an entry are never rewritten."""
        with begun(path) as (ledger, ada, _):
            mint = counting(800)
            ben = ledger.people.register("Ben Sallow", mint)
            ledger.record_walk(visit(9, ada, remarks="with ben sallow"), [sighting("x", "v9")], ada, NOON, mint)
            done = self.forgotten(ledger, "Ben Sallow")
        [entry_id] = done.still_said
        assert [row[4] for row in rows(path) if row[1] == entry_id] == ["v9"]
        assert ben in done.ids

    def test_a_merge_does_not_bring_it_back(self, path: Path, tmp_path: Path) -> None:
        """And the copy forgets too, when it merges."""
        with open_ledger(path) as ledger:
            ledger.backup(tmp_path / "copy")
            self.forgotten(ledger, "Ada Marsh")
            ledger.merge(tmp_path / "copy", quiet)
            assert ledger.people.ids_of("Ada Marsh") == ()
        with open_ledger(tmp_path / "copy") as copy:
            copy.merge(path, quiet)
            assert copy.people.ids_of("Ada Marsh") == ()

    def test_words_that_hold_the_name_are_found_in_every_spelling(self, path: Path) -> None:
        """Initials, other cases and blanks, a line break; the last part alone is only perhaps the person."""
        words = ("with Ben  SALLOW", "B. Sallow's net", "B Sallow", "ben\nsallow", "Sallow Farm pond", "bensallow")
        with begun(path) as (ledger, ada, _):
            mint = counting(800)
            ledger.people.register("Ben Sallow", mint)
            for number, text in enumerate(words, 10):
                made = visit(number, ada, remarks=text)
                ledger.record_walk(made, [sighting(f"x{number}", made.id)], ada, NOON, mint)
            done = self.forgotten(ledger, "Ben Sallow")
        subjects = {row[1]: row[4] for row in rows(path)}
        assert [subjects[one] for one in done.still_said] == ["v10", "v11", "v12", "v13"]
        assert [subjects[one] for one in done.perhaps] == ["v14"]

    def test_words_that_hold_the_first_name_alone_are_told(self, path: Path) -> None:
        """With a capital, for in small letters many a name is a word; and whoever is registered by it alone."""
        words = ("Petra counted these twice", "PETRA AGAIN", "with petra", "Petra's net", "Petras", "P. was here")
        with begun(path) as (ledger, ada, _):
            mint = counting(800)
            ledger.people.register("Petra Quill", mint)
            for name in ("Petra", "Petra Fenn"):
                ledger.people.register(name, mint)
            for number, text in enumerate(words, 10):
                made = visit(number, ada, remarks=text)
                ledger.record_walk(made, [sighting(f"x{number}", made.id)], ada, NOON, mint)
            done = self.forgotten(ledger, "Petra Quill")
            told = {row[1]: row[4] for row in rows(path)}
            assert [told[one] for one in done.perhaps] == ["v10", "v11", "v13"]
            assert [one.name for one in done.perhaps_named] == ["Petra"]
            again = ledger.forget(done.ids, (), ("Petra",), True)
            assert again.redacted == 4

    def test_the_name_is_taken_out_of_words_where_that_is_asked_for(self, path: Path) -> None:
        """Out of remarks, a party, a place, a line as typed and a reason; figures, ids and photographs stay."""
        with begun(path) as (ledger, ada, _):
            mint = counting(800)
            ben = ledger.people.register("Ben Sallow", mint)
            there = visit(9, ben, remarks="found by ben sallow", party="Ben Sallow and party of 3")
            there = there._replace(place=there.place._replace(locality="Ben Sallow's pond"))
            one = sighting("x", "v9", typed="3 azure, B. Sallow", photos=(Photo("ben sallow/1.jpg", ""),), count=3)
            one = one._replace(count_kind="exact", determiner=ben)
            ledger.record_walk(there, [one], ada, NOON, mint)
            ledger.amend(one._replace(count=4), "Ben Sallow counted again; Benny too", ada, LATER, mint)
            ids = ledger.people.ids_of("Ben Sallow")
            done = ledger.forget(ids, ["Ben Sallow"], also=["Benny"], redact=True)
            assert done.redacted == 3
            assert len(done.still_said) == 2  # the photograph's file is called so, in both entries
            [(now, at, meta)] = list(ledger.current_sightings(Wanted(visit_id="v9")))
            assert (at.remarks, at.party) == ("found by (name removed)", "(name removed) and party of 3")
            assert at.place.locality == "(name removed)'s pond"
            assert (now.typed, now.count, now.determiner) == ("3 azure, (name removed)", 4, ben)
            assert meta.reason == "(name removed) counted again; (name removed) too"
            assert [row[0].id for row in ledger.current_sightings(Wanted(text="removed", locality="removed"))] == [
                now.id
            ]
            assert list(ledger.current_sightings(Wanted(text="benny"))) == []
        assert b"found by ben" not in self.everything(path)
        assert findings(path) == []
        with raw(path) as connection, pytest.raises(sqlite3.IntegrityError, match="only grows"):
            connection.execute("UPDATE entry SET reason = 'x'")

    def test_a_copy_that_still_holds_the_words_loses_them_too(self, path: Path, tmp_path: Path) -> None:
        """Merged in either order, dumped and restored: the name does not come back."""
        with begun(path) as (ledger, ada, _):
            mint = counting(800)
            ledger.people.register("Ben Sallow", mint)
            ledger.record_walk(visit(9, ada, remarks="with Ben Sallow"), [sighting("x", "v9")], ada, NOON, mint)
            for copy in ("one", "two"):
                ledger.backup(tmp_path / copy)
            ledger.forget(ledger.people.ids_of("Ben Sallow"), ["Ben Sallow"], redact=True)
            ledger.merge(tmp_path / "one", quiet)
            (tmp_path / "dump").write_text("".join(f"{line}\n" for line in ledger.dump()), encoding="utf-8")
        with open_ledger(tmp_path / "two") as copy:
            copy.merge(path, quiet)
            assert list(copy.current_sightings(Wanted(text="sallow"))) == []
        restore(str(tmp_path / "dump"), str(tmp_path / "three"), quiet)
        with open_ledger(tmp_path / "three") as third:
            third.merge(tmp_path / "one", quiet)
        for where in (path, tmp_path / "two", tmp_path / "three"):
            assert [one.code for one in findings(where)] == []
            assert {row[-2] for row in rows(where) if row[4] == "v9"} == {
                row[-2] for row in rows(path) if row[4] == "v9"
            }
            with open_ledger(where) as ledger:
                assert "Ben Sallow" not in "".join(ledger.dump())

    def test_while_another_reads_it_says_that_it_is_unfinished(self, path: Path) -> None:
        with open_ledger(path, patience_s=0.2) as ledger:
            other = sqlite3.connect(path)
            other.execute("BEGIN")
            other.execute("SELECT count(*) FROM entry").fetchone()
            with refused("forget-unfinished"):
                self.forgotten(ledger, "Ada Marsh")
            other.close()
            [person] = [one for one in ledger.people.all() if one.forgotten]
            ledger.forget([person.id], [])
        assert b"ada marsh" not in self.everything(path)


def test_a_dump_is_one_object_a_line(path: Path) -> None:
    """Plain enough for any program: a head, people, settings, entries, and how many."""
    with open_ledger(path) as ledger:
        lines = [json.loads(line) for line in ledger.dump()]
    assert [next(iter(line)) for line in lines] == [
        "reedmace ledger",
        "person",
        "setting",
        *["entry_id"] * 7,
        "entries",
    ]
