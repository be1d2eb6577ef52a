"""Walks go in whole, stand until something follows, and come out in a stable order."""

from __future__ import annotations

import itertools
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.pond import LATER, NOON, begun, counting, raw, refused, rows, sighting, visit
from records.strategies import sightings, visits
from reedmace.ledger import finding
from reedmace.ledger.entries import EntryMeta, Followed
from reedmace.ledger.finding import question
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import PlaceRecord, Sighting, Taxon


def names(ledger: Ledger, **wanted: object) -> list[str]:
    """Give what was typed for each sighting wanted, in the ledger's order."""
    return [found.typed for found, _, _ in ledger.current_sightings(Wanted(**wanted))]  # type: ignore[arg-type]


class TestAWalkIsWholeOrNothing:
    """docs/ledger.md: a walk is written whole, or nothing of it."""

    def test_whole(self, tmp_path: Path) -> None:
        """Everything comes back, from another connection, with who wrote it and when."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            walk = visit(1, ada)
            two = [sighting("one", "v1"), sighting("two", "v1", determiner=ada)]
            written = ledger.record_walk(walk, two, ada, NOON, mint)
            assert written.visit_is_new
            assert written.sighting_ids == ("s-one", "s-two")
            assert len(set(written.entry_ids)) == 3
        with open_ledger(tmp_path / "pond", create=False) as ledger:
            found = list(ledger.current_sightings())
        assert [row[0] for row in found] == two
        assert {row[1] for row in found} == {walk}
        assert found[0][2] == EntryMeta(
            written.entry_ids[1],
            None,
            "sighting",
            "s-one",
            "recorded",
            "",
            ada,
            NOON,
            False,
            NOON,
            written.entry_ids[0],
        )

    @pytest.mark.parametrize(
        ("spoilt", "code"),
        [
            (sighting("bad", "v1", remarks="\ud800"), "text-unreadable"),
            (sighting("bad", "v1", count=0, count_kind="exact"), "zero-count"),
            (sighting("bad", "v2"), "sighting-of-another-visit"),
            (sighting("bad", "v1", determiner="nobody"), "unknown-person"),
            (sighting("bad", "v1", observers=("nobody",)), "unknown-person"),
            (sighting("one", "v1"), "already-recorded"),
            (sighting("bad", "v1", id="v1"), "already-recorded"),
        ],
    )
    def test_nothing(self, tmp_path: Path, spoilt: Sighting, code: str) -> None:
        """The third sighting cannot be kept: neither it nor the visit nor the first two are there."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            walk = [sighting("one", "v1"), sighting("two", "v1"), spoilt]
            with refused(code):
                ledger.record_walk(visit(1, ada), walk, ada, NOON, mint)
        assert rows(tmp_path / "pond") == []

    def test_an_interrupted_writing_leaves_nothing(self, tmp_path: Path) -> None:
        """Ctrl-C between two sightings: the source of ids raises, as an interrupt would."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            few = iter([mint(), mint()])

            def interrupted() -> str:
                try:
                    return next(few)
                except StopIteration:
                    raise KeyboardInterrupt from None

            with pytest.raises(KeyboardInterrupt):
                ledger.record_walk(
                    visit(1, ada), [sighting("one", "v1"), sighting("two", "v1")], ada, NOON, interrupted
                )
            assert rows(tmp_path / "pond") == []
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            assert names(ledger) == ["one"]

    def test_more_sightings_of_a_visit(self, tmp_path: Path) -> None:
        """The same visit again adds sightings; the same id with other contents is refused."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            walk = visit(1, ada)
            ledger.record_walk(walk, [sighting("one", "v1")], ada, NOON, mint)
            written = ledger.record_walk(walk, [sighting("two", "v1")], ada, NOON, mint)
            assert not written.visit_is_new
            assert len(written.entry_ids) == 1
            with refused("visit-differs"):
                ledger.record_walk(walk._replace(remarks="x"), [sighting("three", "v1")], ada, NOON, mint)
            assert names(ledger) == ["one", "two"]

    def test_none_seen_is_a_result(self, tmp_path: Path) -> None:
        """A visit without sightings stands; one that says none were seen has none."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada, none_seen=True), [], ada, NOON, mint)
            with refused("none-seen-but-seen"):
                ledger.record_walk(visit(2, ada, none_seen=True), [sighting("one", "v2")], ada, NOON, mint)
            assert [found.id for found, _ in ledger.current_visits()] == ["v1"]

    @pytest.mark.parametrize("when", ["2026-06-14", "2026-06-14T12:00:00", "2026-06-14T12:00:00+00:00", ""])
    def test_there_is_one_way_to_write_a_time(self, tmp_path: Path, when: str) -> None:
        """Entries are put in order by it, so anything else is a bug of ours."""
        with begun(tmp_path / "pond") as (ledger, ada, mint), pytest.raises(ValueError, match="written_at"):
            ledger.record_walk(visit(1, ada), [], ada, when, mint)

    def test_only_a_registered_person_writes(self, tmp_path: Path) -> None:
        """`by` is somebody."""
        with begun(tmp_path / "pond") as (ledger, ada, mint), refused("unknown-person"):
            ledger.record_walk(visit(1, ada), [], "nobody", NOON, mint)


@settings(deadline=None, max_examples=25)
@given(st.data())
def test_whatever_goes_in_comes_out_the_same(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    """docs/ledger.md: whatever is typed is kept verbatim."""
    path = tmp_path_factory.mktemp("any") / "pond"
    with begun(path) as (ledger, ada, mint):
        walk = data.draw(visits(observers=st.sampled_from([(), (ada,)])))
        seen = data.draw(st.lists(sightings(walk.id, st.just(ada)), max_size=3, unique_by=lambda one: one.id))
        ledger.record_walk(walk, seen, ada, NOON, mint)
        found = list(ledger.current_sightings())
        assert sorted(row[0].id for row in found) == sorted(one.id for one in seen)
        assert {row[0] for row in found} == set(seen)
        assert all(row[1] == walk for row in found)
        assert [row[0] for row in ledger.current_visits()] == [walk]


class TestChangesOnlyAdd:
    """docs/ledger.md: a change is a further entry with a reason; what was there before stays."""

    def test_amending(self, tmp_path: Path) -> None:
        """The new snapshot stands, the old one is in the history."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            old = sighting("one", "v1")
            new = old._replace(taxon=Taxon("Aeshna cyanea"))
            first = ledger.record_walk(visit(1, ada), [old], ada, NOON, mint).entry_ids[1]
            followed = ledger.amend(new, "wing spot seen on the photo", ada, LATER, mint, act="redetermined")
            assert followed.subject == "s-one"
            [(now, _, meta)] = ledger.current_sightings()
            assert (now, meta.act, meta.parent, meta.modified) == (new, "redetermined", first, LATER)
            assert meta.reason == "wing spot seen on the photo"
            assert [(meta.act, record) for meta, record in ledger.history("s-one")] == [
                ("recorded", old),
                ("redetermined", new),
            ]
            assert names(ledger, taxon="Aeshna mixta") == []
            assert names(ledger, taxon="aeshna CYANEA") == ["one"]

    def test_amending_a_visit_moves_its_sightings(self, tmp_path: Path) -> None:
        """Date and place are the visit's, so no sighting keeps a stale copy; `modified` tells."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            ledger.amend(visit(1, ada, date="2025-06-01"), "wrong year", ada, LATER, mint)
            assert names(ledger, year=2026) == []
            assert names(ledger, year=2025) == ["one"]
            [(_, _, meta)] = ledger.current_sightings()
            assert (meta.written_at, meta.modified) == (NOON, LATER)

    @pytest.mark.parametrize("reason", ["", "  \n"])
    def test_a_change_needs_a_reason(self, tmp_path: Path, reason: str) -> None:
        """Refused before anything is written."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            with refused("reason-missing"):
                ledger.withdraw(["s-one"], reason, ada, LATER, mint)
            with refused("reason-missing"):
                ledger.amend(sighting("one", "v1", remarks="x"), reason, ada, LATER, mint)

    def test_what_cannot_be_amended(self, tmp_path: Path) -> None:
        """Nothing there, nothing changed, withdrawn, changed meanwhile, or a visit that is not there."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            one = sighting("one", "v1")
            first = ledger.record_walk(visit(1, ada), [one], ada, NOON, mint).entry_ids[1]
            changed = one._replace(remarks="x")
            with refused("not-recorded"):
                ledger.amend(sighting("other", "v1"), "why", ada, LATER, mint)
            with refused("nothing-changed"):
                ledger.amend(one, "why", ada, LATER, mint)
            with refused("visit-missing"):
                ledger.amend(one._replace(visit_id="v2"), "why", ada, LATER, mint)
            with refused("unknown-person"):
                ledger.amend(one._replace(determiner="nobody"), "why", ada, LATER, mint)
            ledger.amend(changed, "why", ada, LATER, mint, follows=first)
            with refused("changed-meanwhile"):
                ledger.amend(one, "why", ada, LATER, mint, follows=first)
            ledger.withdraw(["s-one"], "why", ada, LATER, mint)
            with refused("withdrawn"):
                ledger.amend(one, "why", ada, LATER, mint)
        assert len(rows(tmp_path / "pond")) == 4

    def test_withdrawing_and_reinstating(self, tmp_path: Path) -> None:
        """Withdrawn sightings are not listed unless asked for, and can stand again."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1"), sighting("two", "v1")], ada, NOON, mint)
            done = ledger.withdraw(["s-one"], "twice on the tally", ada, LATER, mint)
            assert done == (Followed("s-one", done[0].entry_id),)
            assert names(ledger) == ["two"]
            assert names(ledger, withdrawn=True) == ["one", "two"]
            with refused("withdrawn"):
                ledger.withdraw(["s-two", "s-one"], "why", ada, LATER, mint)
            assert names(ledger) == ["two"]  # nothing of it
            with refused("not-withdrawn"):
                ledger.reinstate(["s-one", "s-two"], "why", ada, LATER, mint)
            ledger.reinstate(["s-one"], "it was two after all", ada, LATER, mint)
            assert names(ledger) == ["one", "two"]
            assert [meta.act for meta, _ in ledger.history("s-one")] == ["recorded", "withdrawn", "amended"]

    def test_a_visit_goes_with_its_sightings(self, tmp_path: Path) -> None:
        """Not before them; together is fine, in any order; and no sighting comes back without its visit."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            with refused("visit-holds-sightings"):
                ledger.withdraw(["v1"], "why", ada, LATER, mint)
            ledger.withdraw(["v1", "s-one"], "why", ada, LATER, mint)
            assert list(ledger.current_visits()) == []
            assert len(list(ledger.current_visits(withdrawn=True))) == 1
            with refused("visit-missing"):
                ledger.reinstate(["s-one"], "why", ada, LATER, mint)
            ledger.reinstate(["s-one", "v1"], "why", ada, LATER, mint)
            assert names(ledger) == ["one"]

    def test_undo_takes_back_line_by_line(self, tmp_path: Path) -> None:
        """The last typed line made two sightings: both go, then the line before."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            walk = visit(1, ada)
            ledger.record_walk(
                walk,
                [
                    sighting("one", "v1"),
                    sighting("two m", "v1", line_id="l-two"),
                    sighting("two f", "v1", line_id="l-two"),
                ],
                ada,
                NOON,
                mint,
            )
            # A later entry for an older line does not make it the last line.
            ledger.amend(sighting("one", "v1", remarks="x"), "why", ada, LATER, mint)
            assert ledger.last_line() == ("s-two-m", "s-two-f")
            ledger.withdraw(ledger.last_line(), "undone", ada, LATER, mint)
            assert ledger.last_line() == ("s-one",)
            ledger.withdraw(ledger.last_line(), "undone", ada, LATER, mint)
            assert ledger.last_line() == ()
            assert len(rows(tmp_path / "pond")) == 8

    def test_undo_leaves_out_what_was_withdrawn_already(self, tmp_path: Path) -> None:
        """One of the line's two was withdrawn by hand: undo takes the other; and asks whose line it was."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            pair = [sighting("m", "v1", line_id="l"), sighting("f", "v1", line_id="l")]
            ledger.record_walk(visit(1, ada), pair, ada, NOON, mint)
            ledger.withdraw(["s-m"], "why", ada, LATER, mint)
            ben = ledger.people.register("Ben Sedge", mint)
            ledger.record_walk(visit(2, ben), [sighting("ben's", "v2")], ben, LATER, mint)
            assert ledger.last_line() == ("s-ben's",)
            assert ledger.last_line(by=ada) == ("s-f",)


class TestTwoCopies:
    """docs/ledger.md: two current entries of one subject are diverged, and put to the user."""

    def diverge(self, path: Path, order: tuple[int, int]) -> None:
        """Do what merging two copies will do: two entries follow one, in either order."""
        with begun(path) as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
        first = rows(path)[1]
        changes = [
            ("e-a", "2026-06-15T08:00:00Z", "Aeshna cyanea"),
            ("e-b", "2026-06-15T09:00:00Z", "Aeshna juncea"),
        ]
        with raw(path) as connection:
            for entry_id, when, name in (changes[place] for place in order):
                body = str(first[-2]).replace("Aeshna mixta", name)
                connection.execute(
                    'INSERT INTO entry (entry_id, parent, kind, subject, act, reason, "by", written_at,'
                    " visit_id, line_id, taxon, body)"
                    " VALUES (?, ?, 'sighting', 's-one', 'amended', 'x', ?, ?, 'v1', 'l-one', ?, ?)",
                    (entry_id, first[1], first[7], when, name, body),
                )

    @pytest.mark.parametrize("order", [(0, 1), (1, 0)])
    def test_the_later_stands_and_is_marked(self, tmp_path: Path, order: tuple[int, int]) -> None:
        """One row for the sighting, the same in both copies, and a list of what diverged."""
        self.diverge(tmp_path / "pond", order)
        with open_ledger(tmp_path / "pond") as ledger:
            [(found, _, meta)] = ledger.current_sightings()
            assert (found.taxon.scientific_name, meta.diverged) == ("Aeshna juncea", True)
            [(subject, heads)] = ledger.diverged()
            assert (subject, [head.entry_id for head in heads]) == ("s-one", ["e-b", "e-a"])
            with refused("diverged"):
                ledger.withdraw(["s-one"], "why", meta.by, LATER, counting(99))

    def test_a_chain_is_not_diverged(self, tmp_path: Path) -> None:
        """Following entries one after the other is how things should be."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [sighting("one", "v1")], ada, NOON, mint)
            ledger.amend(sighting("one", "v1", remarks="x"), "why", ada, LATER, mint)
            ledger.amend(sighting("one", "v1", remarks="y"), "why", ada, LATER, mint)
            assert ledger.diverged() == []
            [(found, _, meta)] = ledger.current_sightings()
            assert (found.remarks, meta.diverged) == ("y", False)


class TestAsking:
    """Choices of sightings, and their order."""

    @pytest.fixture
    def path(self, tmp_path: Path) -> Path:
        """Four visits, among them a vague date, an undated one and one across New Year."""
        file = tmp_path / "pond"
        with begun(file) as (ledger, ada, mint):
            moor = PlaceRecord(square="TQ3481", locality="Moor_Pond 100%", site="site-moor")
            azure = Taxon("Coenagrion puella", vernacular="Azure Damselfly")
            ledger.record_walk(
                visit(3, ada),
                [
                    sighting("hawker", "v3", sex="male", stage="adult"),
                    sighting("azure", "v3", taxon=azure, stage="teneral"),
                    sighting("elsewhere", "v3", place=moor),
                ],
                *(ada, NOON, mint),
            )
            ledger.record_walk(visit(2, ada, date="2026-06"), [sighting("june", "v2", "Coenagrion")], ada, NOON, mint)
            ledger.record_walk(visit(1, ada, date=None), [sighting("undated", "v1")], ada, NOON, mint)
            ledger.record_walk(
                visit(4, ada, date="2025/2026", place=PlaceRecord(square="TQ38K")),
                *([sighting("two years", "v4", "Coenagrionidae")], ada, NOON, mint),
            )
        return file

    @pytest.mark.parametrize(
        ("wanted", "expected"),
        [
            ({}, ["undated", "two years", "june", "elsewhere", "hawker", "azure"]),
            ({"year": 2026}, ["june", "elsewhere", "hawker", "azure"]),
            ({"year": 2025}, []),
            ({"since": "2026-06-04"}, ["two years", "june"]),
            ({"since": "2026-06-03"}, ["two years", "june", "elsewhere", "hawker", "azure"]),
            ({"until": "2026-06-02"}, ["two years", "june"]),
            ({"since": "2027-01-01"}, []),
            ({"taxon": "Aeshna mixta"}, ["undated", "elsewhere", "hawker"]),
            ({"taxon": "azure damselfly"}, ["azure"]),
            ({"taxon": "coenagrion"}, ["june", "azure"]),
            ({"taxon": "Coen"}, []),
            ({"square": "TQ3380"}, ["undated", "june", "hawker", "azure"]),
            ({"square": "tq 38"}, ["undated", "two years", "june", "elsewhere", "hawker", "azure"]),
            ({"square": "TQ38K"}, ["two years"]),
            ({"square": "TQ33"}, []),
            ({"square": "TQ"}, ["undated", "two years", "june", "elsewhere", "hawker", "azure"]),
            ({"square": "T"}, []),
            ({"square": "TQ3*"}, []),
            ({"site": "site-moor"}, ["elsewhere"]),
            ({"locality": "withy"}, ["undated", "june", "elsewhere", "hawker", "azure"]),  # a spot of a visit there
            ({"locality": "r_p"}, ["elsewhere"]),
            ({"locality": "%"}, ["elsewhere"]),
            ({"visit_id": "v2"}, ["june"]),
            ({"line_id": "l-azure"}, ["azure"]),
            ({"sighting_id": "s-hawker"}, ["hawker"]),
            ({"stage": "teneral"}, ["azure"]),
            ({"sex": "male", "year": 2026}, ["hawker"]),
            ({"taxon": "Aeshna mixta", "year": 2026, "square": "TQ3481"}, ["elsewhere"]),
        ],
    )
    def test_what_is_wanted_is_found(self, path: Path, wanted: dict[str, object], expected: list[str]) -> None:
        """By date (first day, undated before all), visit, name and id."""
        with open_ledger(path) as ledger:
            assert names(ledger, **wanted) == expected

    def test_the_order_is_free_of_the_order_of_writing(self, tmp_path: Path) -> None:
        """Three walks written in every order list the same."""
        listed = set()
        for number, order in enumerate(itertools.permutations([1, 2, 3])):
            with begun(tmp_path / f"pond{number}") as (ledger, ada, mint):
                for day in order:
                    seen = [sighting(f"{day}{name}", f"v{day}") for name in ("b", "a")]
                    ledger.record_walk(visit(day, ada), seen, ada, NOON, mint)
                listed.add(tuple(names(ledger)))
        assert listed == {("1a", "1b", "2a", "2b", "3a", "3b")}

    def test_a_square_holds_the_smaller_ones_inside_it_and_no_others(self, tmp_path: Path) -> None:
        """At every size: by where their corners lie, and whether few or many are met."""
        chance = Random(7)
        corners: dict[str, tuple[int, int, int]] = {}
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            for number in range(120):
                figures = chance.randint(1, 5)
                east, north = (chance.choice((43, 44)) * 1000 + chance.randint(0, 999) for _ in range(2))
                square = f"SU{f'{east:05}'[:figures]}{f'{north:05}'[:figures]}"
                side = 10 ** (5 - figures)
                corners[f"{number:03}"] = (east // side * side, north // side * side, side)
                place = PlaceRecord(square=square)
                walk = visit(number + 1, ada, date="2026-06-01", place=place)
                ledger.record_walk(walk, [sighting(f"{number:03}", f"v{number + 1}")], ada, NOON, mint)
        wanted = ["SU4343", "SU4344", "SU44", "SU43", *(f"SU{e}{n}" for e in (431, 432, 445) for n in (433, 448))]
        wanted += [f"SU{4300 + at}{4400 + at}" for at in (0, 37, 99)] + ["SU4312343999"]
        few = finding.FEW
        try:
            for finding.FEW in (few, 3):
                for square in wanted:
                    half = (len(square) - 2) // 2
                    size = 10 ** (5 - half)
                    west, south = int(square[2 : 2 + half]) * size, int(square[2 + half :]) * size
                    inside = {
                        f"s-{name}"
                        for name, (east, north, side) in corners.items()
                        if side <= size and west <= east < west + size and south <= north < south + size
                    }
                    with open_ledger(tmp_path / "pond") as ledger:
                        found = [seen.id for seen, _, _ in ledger.current_sightings(Wanted(square=square))]
                    assert len(found) == len(set(found))
                    assert set(found) == inside, square
        finally:
            finding.FEW = few

    @pytest.mark.parametrize(
        ("wanted", "index"),
        [
            (Wanted(year=2026), "listed_day (day>? AND day<?)"),
            (Wanted(since="2026-06-01"), "listed_day (day>?)"),
            (Wanted(taxon="Aeshna mixta"), "listed_taxon (taxon=?)"),
            (Wanted(stage="teneral"), "listed_stage (stage=?)"),
            (Wanted(square="TQ 33 80"), "listed_square (square>? AND square<?)"),
            (Wanted(status="withdrawn"), "listed_status (status=?)"),
            (Wanted(people=("p",)), "PRIMARY KEY (person=?)"),
            (Wanted(line_id="l"), "sighting_line (line_id=?)"),
            (Wanted(visit_id="v"), "sighting_visit (visit_id=?)"),
            (Wanted(text="withy"), "VIRTUAL TABLE INDEX"),
        ],
    )
    def test_questions_go_by_index(self, path: Path, wanted: Wanted, index: str) -> None:
        """A million rows are never walked for one name, and no table is scanned without an index."""
        with raw(path) as connection:
            sql, values = question(connection, wanted)
            plan = [row[3] for row in connection.execute(f"EXPLAIN QUERY PLAN {sql}", values)]
        assert any(index in step for step in plan), plan
        assert not [step for step in plan if step.startswith("SCAN l") and "INDEX" not in step], plan

    def test_nothing_is_there_for_an_unknown_id(self, path: Path) -> None:
        """Asking is no fault."""
        with open_ledger(path) as ledger:
            assert ledger.standing("nothing") is None
            assert ledger.history("nothing") == []
