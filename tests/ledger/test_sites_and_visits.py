"""Sites in the ledger, a visit that is added to while its walk is written, and records found by the end of an id."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given

from ledger.pond import LATER, NOON, begun, counting, raw, refused, rows, sighting, visit
from records.strategies import sites, unhurried
from reedmace.ledger.restoring import restore
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.records import PlaceRecord, Site

POND = Site("s-1", "Sallow Farm pond", ("the farm",), PlaceRecord("SU 431 118", "GB", "SU431118", 100), "pond")


class TestAWalkMayAddToItsVisit:
    """A remark written while a visit is under way stands in the visit, by an entry of its own."""

    def test_visit_and_sightings_are_written_together(self, tmp_path: Path) -> None:
        """The amended visit follows the first one, with its reason."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [], ada, NOON, mint)
            windy = visit(1, ada, remarks="windy")
            ledger.record_walk(windy, [sighting("one", "v1")], ada, LATER, mint, "a remark was added to")
            history = ledger.history("v1")
            assert [(meta.act, meta.reason) for meta, _ in history] == [
                ("recorded", ""),
                ("amended", "a remark was added to"),
            ]
            assert history[1][0].parent == history[0][0].entry_id
            assert [row[1] for row in ledger.current_sightings()] == [windy]

    def test_neither_is_written_where_one_cannot_be(self, tmp_path: Path) -> None:
        """A sighting that cannot be kept leaves the visit as it was."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [], ada, NOON, mint)
            before = rows(tmp_path / "pond")
            with refused("zero-count"):
                bad = sighting("bad", "v1", count=0, count_kind="exact")
                ledger.record_walk(visit(1, ada, remarks="windy"), [bad], ada, LATER, mint, "a remark was added to")
            assert rows(tmp_path / "pond") == before

    def test_without_a_reason_a_visit_that_differs_is_refused(self, tmp_path: Path) -> None:
        """And a withdrawn one is not added to at all."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            ledger.record_walk(visit(1, ada), [], ada, NOON, mint)
            with refused("visit-differs"):
                ledger.record_walk(visit(1, ada, remarks="windy"), [], ada, LATER, mint)
            ledger.withdraw(["v1"], "never happened", ada, LATER, mint)
            with refused("visit-differs"):
                ledger.record_walk(visit(1, ada, remarks="windy"), [], ada, LATER, mint, "added to")


class TestSites:
    """A site is an entry like any other: changed by a further one, and never overwritten."""

    @unhurried
    @given(sites)
    def test_a_site_comes_back_as_it_went_in(self, tmp_path_factory: pytest.TempPathFactory, site: Site) -> None:
        """Odd text included."""
        with begun(tmp_path_factory.mktemp("sites") / "pond") as (ledger, ada, mint):
            ledger.put_site(site, "", ada, NOON, mint)
            assert ledger.sites() == [site]

    def test_a_changed_site_stands_and_the_first_is_kept(self, tmp_path: Path) -> None:
        """The entry follows the one before, with a reason."""
        with begun(tmp_path / "pond") as (ledger, ada, mint):
            first = ledger.put_site(POND, "", ada, NOON, mint)
            ledger.put_site(POND._replace(name="Sallow pond"), "its name on the map", ada, LATER, mint)
            assert [site.name for site in ledger.sites()] == ["Sallow pond"]
        with raw(tmp_path / "pond") as connection:
            found = connection.execute(
                "SELECT parent, act, reason FROM entry WHERE kind = 'site' ORDER BY seq"
            ).fetchall()
        assert found == [(None, "recorded", ""), (first, "amended", "its name on the map")]

    def test_a_site_is_written_by_somebody_who_is_registered(self, tmp_path: Path) -> None:
        """Nobody else."""
        with begun(tmp_path / "pond") as (ledger, _, mint), refused("unknown-person"):
            ledger.put_site(POND, "", "nobody", NOON, mint)


def test_an_id_is_found_by_its_end_taken_literally(tmp_path: Path) -> None:
    """In any case; a whole id is itself, even where others end with it, and signs of patterns are only signs."""
    with begun(tmp_path / "pond", counting()) as (ledger, ada, mint):
        ledger.record_walk(visit(1, ada), [sighting("ab12", "v1"), sighting("xAB12", "v1")], ada, NOON, mint)
        assert ledger.subjects_ending("xab12") == ("s-xAB12",)
        assert ledger.subjects_ending("ab12") == ("s-ab12", "s-xAB12")
        assert ledger.subjects_ending("v1") == ("v1",)
        for nothing in ("%", "_", "", "*", "'"):
            assert ledger.subjects_ending(nothing) == ()


def test_what_this_keyboard_keeps_is_put_in_place_of_what_was_there(tmp_path: Path) -> None:
    """And taken away again; it is no entry and has no history."""
    with begun(tmp_path / "pond") as (ledger, _, _mint):
        before = rows(tmp_path / "pond")
        for value in ("v1 2026-06-14", "v2 2026-06-15", None):
            ledger.people.keep("visit under way", value)
            assert ledger.people.kept("visit under way") == value
        assert rows(tmp_path / "pond") == before
        assert ledger.people.me() is not None


class TestSitesInCopies:
    """A site's entries travel; what two copies said differently of it is settled by registering it again."""

    def two(self, tmp_path: Path) -> tuple[Path, Path]:
        """Two copies that both hold the site."""
        with begun(tmp_path / "one") as (ledger, ada, mint):
            ledger.put_site(POND, "", ada, NOON, mint)
            ledger.backup(tmp_path / "two")
        return tmp_path / "one", tmp_path / "two"

    def test_it_is_merged_dumped_and_restored(self, tmp_path: Path) -> None:
        """With its history; the same in every copy."""
        one, two = self.two(tmp_path)
        changed = POND._replace(name="Sallow pond", may_see="nobody else")
        with open_ledger(two) as ledger:
            ledger.put_site(changed, "the owner asked", ada_of(ledger), LATER, counting(1, "b"))
        with open_ledger(one) as ledger:
            assert ledger.merge(two, lambda _: None).diverged == ()
            assert ledger.sites() == [changed]
            (tmp_path / "dump").write_text("".join(f"{line}\n" for line in ledger.dump()), encoding="utf-8")
        restore(str(tmp_path / "dump"), str(tmp_path / "three"), lambda _: None)
        for path in (one, two, tmp_path / "three"):
            with open_ledger(path) as ledger:
                assert ledger.sites() == [changed]
                assert list(ledger.audit(lambda _: None)) == []

    def test_changed_in_both_it_stands_the_same_way_until_it_is_registered_again(self, tmp_path: Path) -> None:
        """The later one, by time and id; the next entry ends both heads."""
        one, two = self.two(tmp_path)
        for path, name, mark in ((one, "Upper pond", "a"), (two, "Lower pond", "b")):
            with open_ledger(path) as ledger:
                ledger.put_site(POND._replace(name=name), "renamed", ada_of(ledger), LATER, counting(1, mark))
        for here, there in ((one, two), (two, one)):
            with open_ledger(here) as ledger:
                assert ledger.merge(there, lambda _: None).diverged == ("s-1",)
                assert [site.name for site in ledger.sites()] == ["Lower pond"]
                assert [one.code for one in ledger.audit(lambda _: None)] == ["diverged"]
        with open_ledger(one) as ledger:
            ledger.put_site(POND, "as it was", ada_of(ledger), LATER, counting(9, "c"))
            assert (ledger.diverged(), ledger.sites()) == ([], [POND])
            assert list(ledger.audit(lambda _: None)) == []

    def test_one_name_registered_in_both_is_told_and_becomes_one(self, tmp_path: Path) -> None:
        """The audit tells it; registered again, one stays, and the other is withdrawn with the reason."""
        one, two = self.two(tmp_path)
        with open_ledger(two) as ledger:
            ledger.put_site(POND._replace(id="s-2"), "", ada_of(ledger), NOON, counting(1, "b"))
        with open_ledger(one) as ledger:
            ledger.merge(two, lambda _: None)
            [finding] = ledger.audit(lambda _: None)
            assert (finding.code, finding.about, finding.grave) == ("site-twice", "Sallow Farm pond", False)
            ledger.put_site(POND, "one pond", ada_of(ledger), LATER, counting(1, "c"), ["s-2"])
            assert ledger.sites() == [POND]
            assert list(ledger.audit(lambda _: None)) == []
        assert [row[5:7] for row in rows(one) if row[4] == "s-2"][-1] == ("withdrawn", "the same site as s-1")


def ada_of(ledger: Ledger) -> str:
    """Ada's id."""
    found = ledger.people.me()
    assert found is not None
    return found
