"""Sites in the ledger, a visit that is added to while its walk is written, and records found by the end of an id."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given

from ledger.pond import LATER, NOON, begun, counting, raw, refused, rows, sighting, visit
from records.strategies import sites, unhurried
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
