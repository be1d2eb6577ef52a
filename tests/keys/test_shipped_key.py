"""The key that travels with the program: whole, with sources, and in agreement with a published table.

The table is Powney et al. 2014, Biodiversity Data Journal 2: e1041 (43 British species). Its lengths are from
Dijkstra & Lewington 2006, its flight periods mostly from Brooks & Lewington 2007.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from typing import Any

import pytest

from reedmace.keys.compiling import compile_key
from reedmace.keys.model import Key, Species
from reedmace.keys.reading import read_key
from reedmace.keys.seasons import parse_third, show_third
from reedmace.keys.shipped import find_key
from reference import reference

# What a garden or village pond in lowland Britain may show: the species the key began with.
FIRST_EIGHTEEN = (
    "Calopteryx splendens",
    "Calopteryx virgo",
    "Pyrrhosoma nymphula",
    "Erythromma najas",
    "Erythromma viridulum",
    "Coenagrion puella",
    "Coenagrion pulchellum",
    "Enallagma cyathigerum",
    "Ischnura elegans",
    "Aeshna cyanea",
    "Aeshna grandis",
    "Aeshna mixta",
    "Anax imperator",
    "Libellula depressa",
    "Libellula quadrimaculata",
    "Orthetrum cancellatum",
    "Sympetrum sanguineum",
    "Sympetrum striolatum",
)


def told(species: Species) -> str:
    return f"{species.english} ({species.name})"


def test_the_check_of_the_shipped_key_finds_no_fault(run: Callable[..., Any], key: Key) -> None:
    ran = run("keys", "check", "--json")
    report = json.loads(ran.stdout)
    assert (ran.returncode, ran.stderr, report["faults"]) == (0, "", [])
    assert report["species"] == len(key.species)
    assert report["guises"] == len(key.guises)
    assert report["characters"] == len(key.characters)
    assert report["values_by_source"]["powney-2014"] > 0


def test_the_first_eighteen_species_are_there(key: Key) -> None:
    assert set(FIRST_EIGHTEEN) <= {species.name for species in key.species}


def test_no_species_stands_twice_and_none_is_both_described_and_not(key: Key) -> None:
    names = [species.name for species in key.species] + [other.name for other in key.undescribed]
    english = [species.english for species in key.species] + [other.english for other in key.undescribed]
    assert len(names) == len(set(names))
    assert len(english) == len(set(english))


def test_every_species_says_how_long_when_where_and_how_it_is_seen(key: Key) -> None:
    for species in key.species:
        assert species.length, told(species)
        assert species.length[0] < species.length[1]
        assert species.flight, told(species)
        assert "main" in species.habitats.values(), told(species)
        gone = species.more.status.startswith("extinct")
        assert gone or any(level != "absent" for level in species.more.levels.values()), told(species)
        assert species.guises, told(species)
        assert species.more.sources, told(species)
        assert species.authority, told(species)


def test_every_species_has_look_alikes_each_with_the_mark_that_tells_it(key: Key) -> None:
    for species in key.species:
        assert species.lookalikes, told(species)
        for other in species.lookalikes:
            assert other.mark, (told(species), other.name)
            assert (other.species is None) != (other.undescribed is None)


def test_every_look_alike_stands_in_both_entries(key: Key) -> None:
    one_sided = [
        f"{told(species)} names {other.name}, which does not name it back"
        for species in key.species
        for other in species.lookalikes
        if other.species is not None
        and all(back.species != species.index for back in key.species[other.species].lookalikes)
    ]
    assert one_sided == []


def test_every_species_has_a_mature_male_and_a_mature_female_and_shares_that_add_up(key: Key) -> None:
    for species in key.species:
        guises = [key.guises[index] for index in species.guises]
        mature = {guise.sex for guise in guises if guise.age == "mature"}
        assert {"male", "female"} <= mature or None in mature, told(species)
        assert sum(guise.share for guise in guises) == pytest.approx(1, abs=0.011)


def test_every_guise_that_asks_for_a_photograph_says_of_what(key: Key) -> None:
    for guise in key.guises:
        if guise.evidence == "photo":
            assert guise.photograph, f"{key.species[guise.species].name}: {guise.title}"


def test_every_source_is_cited_and_none_is_used_that_is_not() -> None:
    """By authors, publisher or year; `memory` and `practice` are what they say."""
    form = compile_key(read_key(find_key(None))[0], "")
    for source in form["sources"]:
        assert source["title"]
        if source["id"] not in ("memory", "practice"):
            assert source["authors"] or source["publisher"] or source["year"], source["id"]
    assert set(form["values_by_source"]) == {source["id"] for source in form["sources"]}


def test_every_guise_can_be_told_by_most_of_what_is_asked_of_it(key: Key) -> None:
    """A guise left undescribed would hide: at least half of the questions that make sense for it have a value."""
    for index, guise in enumerate(key.guises):
        cells = [character.column[index] for character in key.characters]
        sensible = [cell for cell in cells if cell != -2]
        assert sum(cell >= 0 for cell in sensible) >= len(sensible) / 2, f"{key.species[guise.species].name} {guise.id}"


# ---- against the published table -----------------------------------------------------------------------------

# Later names of species in the table (the key may know them as synonyms too).
RENAMED = {"Aeshna isosceles": "Aeshna isoceles", "Lestes viridis": "Chalcolestes viridis"}

# A habitat of the table is ours when any of these is.
HABITATS = {
    "Lowland_rivers_and_canals": {"river", "canal"},
    "Streams_and_upland_rivers": {"stream"},
    "Bogs_moorland_and_lowland_wet_heath": {"bog"},
    "Levels_fens_and_grazing_marshes": {"fen"},
    "Ponds_and_lakes": {"pond", "lake", "garden-pond"},
    "Woodland": {"woodland"},
}
# Where we differ on purpose: what, then the species' name with the reason. One that no longer differs fails too.
ON_PURPOSE: dict[str, dict[str, str]] = {"length": {}, "flight": {}, "habitats": {}}
MONTH = 3  # thirds


def pairs(key: Key) -> list[tuple[Species, dict[str, str]]]:
    """Every species of ours that the table knows, with its row there."""
    with reference("odonata_traits_powney2014.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    ours = {name: species for species in key.species for name in (*species.synonyms, species.name)}
    found = [(ours.get(RENAMED.get(row["Species"], row["Species"])) or ours.get(row["Species"]), row) for row in rows]
    return [(species, row) for species, row in found if species is not None]


def thirds(text: str) -> tuple[int, int]:
    """`Late June` → that third twice; `August` → its first and its last third."""
    part, _, month = text.replace("Auu", "August").replace("End ", "Late ").rpartition(" ")
    first, last = (parse_third(f"{part.lower() or end}-{month.lower()}") for end in ("early", "late"))
    assert first is not None, text
    assert last is not None, text
    return first, last


def test_the_table_knows_the_first_eighteen(key: Key) -> None:
    """So that none of the comparisons below passes for want of anything to compare."""
    assert set(FIRST_EIGHTEEN) <= {species.name for species, _ in pairs(key)}


def agree(what: str, differing: dict[str, str], compared: set[str]) -> None:
    """Assert that the species that differ are those that are said to differ on purpose."""
    expected = {name for name in ON_PURPOSE[what] if name in compared}
    assert {name: text for name, text in differing.items() if name not in expected} == {}
    assert expected <= differing.keys(), "these agree by now: take them out of ON_PURPOSE"


def test_lengths_overlap_the_published_ones_and_their_middles_lie_within_15_per_cent(key: Key) -> None:
    differing = {}
    compared = [(species, row) for species, row in pairs(key) if row["Body_length_min"] != "NA"]
    for species, row in compared:
        low, high = float(row["Body_length_min"]), float(row["Body_length_max"])
        assert species.length, told(species)
        ours = species.length
        if not (ours[0] <= high and low <= ours[1] and abs(sum(ours) / (low + high) - 1) <= 0.15):
            differing[species.name] = f"{ours[0]:g}-{ours[1]:g}, published {low:g}-{high:g} mm"
    agree("length", differing, {species.name for species, _ in compared})


def test_flight_periods_contain_the_published_ones_or_end_at_most_a_month_within_them(key: Key) -> None:
    differing = {}
    for species, row in pairs(key):
        assert species.flight, told(species)
        start, end = thirds(row["Flight_period_start"])[0], thirds(row["Flight_period_end"])[1]
        first, last = species.flight[0], species.flight[3]
        if first > start + MONTH or last < end - MONTH:
            ours = f"{show_third(first)} to {show_third(last)}"
            differing[species.name] = f"{ours}, published {show_third(start)} to {show_third(end)}"
    agree("flight", differing, {species.name for species, _ in pairs(key)})


def test_every_published_habitat_is_among_ours(key: Key) -> None:
    differing = {
        species.name: f"{habitat} is none of {', '.join(species.habitats)}"
        for species, row in pairs(key)
        for habitat, ours in HABITATS.items()
        if row[habitat] == "1" and not ours & set(species.habitats)
    }
    agree("habitats", differing, {species.name for species, _ in pairs(key)})


@pytest.mark.parametrize("field", ["length", "flight", "abundance"])
def test_two_thirds_of_lengths_seasons_and_ranges_come_from_a_published_source(key: Key, field: str) -> None:
    """Whatever else stands beside it, one source of each of these is neither memory nor practice."""
    published = [
        species.name for species in key.species if set(species.more.sources_of.get(field, ())) - {"memory", "practice"}
    ]
    assert len(published) >= 2 / 3 * len(key.species)


def test_the_source_of_a_season_is_not_that_of_a_trait_of_the_same_name(key: Key) -> None:
    """There is a character called `flight`: what it says of the manner of flying is from elsewhere."""
    brown_hawker = next(species for species in key.species if species.name == "Aeshna grandis")
    assert "powney-2014" in brown_hawker.more.sources_of["flight"]
