"""A record looked at by itself is among what is wanted where the ledger would find it, and only there."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from ledger.pond import NOON, begun, sighting, visit
from reedmace.ledger.meeting import meets
from reedmace.ledger.wanted import Wanted
from reedmace.records import PlaceRecord

DAYS = (None, "2024-06-30", "2024", "2023-12/2024-01", "2025-07")
PLACES = (
    PlaceRecord(),
    PlaceRecord("SU 431 118", "GB", "SU431118", 100, locality="Sallow Farm POND"),
    PlaceRecord("SU41", "GB", "SU41", 10_000),
    PlaceRecord("SU41P", "GB", "SU41P", 2000, locality="100% Withy"),
    PlaceRecord(locality="by the pond"),
)
ASKED = (
    *(Wanted(), Wanted(year=2024), Wanted(year=2024, taxa=("AESHNA mixta",)), Wanted(taxa=("Anax imperator", "x"))),
    *(Wanted(since="2024-01-01"), Wanted(until="2024-01-31"), Wanted(since="2024-06-30", until="2024-06-30")),
    *(Wanted(square=square) for square in ("SU", "SU41", "SU4311", "SU 431 118", "SU41P", "TQ", "SU43*")),
    *(Wanted(locality=part) for part in ("pond", "Pond", "% w", "ö", "farm pond")),
    Wanted(year=2024, square="SU41", locality="pond"),
)


def test_a_record_by_itself_is_wanted_where_the_ledger_finds_it(tmp_path: Path) -> None:
    """By days, names, squares and parts of names, at a visit's place or one of its own."""
    rows = []
    with begun(tmp_path / "pond") as (ledger, ada, mint):
        for number, (day, around, own) in enumerate(product(DAYS, PLACES, (None, *PLACES[1::3])), 1):
            walk = visit(number, ada, date=day, place=around)
            name = ("Aeshna mixta", "Anax imperator")[number % 2]
            seen = sighting(f"{number:03}", walk.id, name, place=own)
            ledger.record_walk(walk, [seen], ada, NOON, mint)
            rows.append((seen, walk))
        for wanted in ASKED:
            found = {seen.id for seen, _, _ in ledger.current_sightings(wanted)}
            assert {seen.id for seen, walk in rows if meets(wanted, seen, walk)} == found, wanted


def test_what_a_record_alone_cannot_tell_is_not_guessed() -> None:
    """Words, people and the like are asked of the ledger."""
    seen, walk = sighting("a", "v1"), visit(1, "p")
    for wanted in (Wanted(text="pond"), Wanted(people=("p",)), Wanted(taxon="Aeshna mixta"), Wanted(sex="male")):
        with pytest.raises(ValueError, match="by itself"):
            meets(wanted, seen, walk)
