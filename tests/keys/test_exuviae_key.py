"""The key to cast skins: whole, with sources and its caution, in step with the key to adults, and named as it should.

Lengths are held against Powney et al. 2014, Biodiversity Data Journal 2: e1041 (Larval_body_length, from published
handbooks). What a described skin should come out as is what a naturalist would say of it, not what the engine says.
"""

from __future__ import annotations

import csv
import json
from datetime import date
from pathlib import Path

import pytest

from reedmace.keys.cache import load_key
from reedmace.keys.compiling import compile_key
from reedmace.keys.model import Key, Species
from reedmace.keys.reading import read_key
from reedmace.keys.seasons import show_third
from reedmace.keys.shipped import find_key
from reedmace.scoring.tables import Tables
from reedmace.tasks.keys.inspect_key import inspect_key
from reedmace.tasks.naming.name_insect import Named, name_insect, species_named
from reedmace.tasks.shared.setting import read_setting
from reference import reference

SKINS = "odonata-exuviae"


@pytest.fixture(scope="module")
def skins(cache_home: Path) -> Key:
    """The shipped key to cast skins."""
    return load_key(find_key(SKINS), cache_home / "reedmace")


def look(skins: Key, traits: str, *, at: str, when: str | None = None, water: str | None = None, eye: str) -> Named:
    """A look written as on the command line."""
    setting = read_setting(skins, when, at, water, today=date(2026, 11, 25))
    return name_insect(Tables(skins, eye), setting, traits.split())


# ---- the key itself ------------------------------------------------------------------------------------------


def test_the_check_of_the_key_to_skins_finds_no_fault() -> None:
    report = inspect_key(find_key(SKINS))
    assert report.faults == ()
    assert report.values_by_source["powney-2014"] >= 40


def test_the_caution_asks_for_a_photograph_in_place_and_names_the_act(skins: Key) -> None:
    assert "Photograph the skin in place" in skins.caution
    assert "Wildlife and Countryside Act" in skins.caution
    assert "Norfolk Hawker" in skins.caution
    assert "Southern Damselfly" in skins.caution


def test_every_species_of_the_key_to_adults_has_its_skin_described(skins: Key, key: Key) -> None:
    assert {species.name for species in skins.species} == {species.name for species in key.species}
    assert {species.genus for species in skins.species} == {species.genus for species in key.species}


def test_names_families_and_levels_of_abundance_agree_with_the_key_to_adults(skins: Key, key: Key) -> None:
    adults = {species.name: species for species in key.species}
    assert [region.id for region in skins.regions] == [region.id for region in key.regions]
    assert skins.squares == key.squares
    for skin in skins.species:
        adult = adults[skin.name]
        assert (skin.english, skin.authority, skin.family) == (adult.english, adult.authority, adult.family)
        assert skin.more.levels == adult.more.levels, skin.english


def test_a_skin_is_looked_for_where_the_adult_lives_but_never_away_from_water(skins: Key, key: Key) -> None:
    adults = {species.name: species for species in key.species}
    for skin in skins.species:
        assert set(skin.habitats) <= set(adults[skin.name].habitats) - {"away"}, skin.english
        assert "main" in skin.habitats.values(), skin.english


def test_skins_hang_out_before_the_adults_fly_at_their_peak_and_end_before_they_do(skins: Key, key: Key) -> None:
    """Emergence comes first: by its own period a key to skins differs from one to adults."""
    adults = {species.name: species.flight for species in key.species}
    # Their adults here are strays from elsewhere, or live through the winter: they come before any skin.
    strays = {"Anax ephippiger", "Anax junius", "Pantala flavescens", "Sympecma fusca", "Sympetrum fonscolombii"}
    for skin in skins.species:
        emerging, flying = skin.flight, adults[skin.name]
        assert emerging, skin.english
        assert flying, skin.english
        said = f"{skin.english}: {show_third(emerging[0])} to {show_third(emerging[3])}"
        assert emerging[0] <= emerging[1] <= emerging[2] <= emerging[3], said
        if skin.name not in strays:
            assert emerging[0] <= flying[0], said
            assert emerging[2] <= flying[2], said
            assert emerging[3] < flying[3], said


def test_every_skin_has_one_guise_without_sex(skins: Key) -> None:
    assert len(skins.guises) == len(skins.species)
    assert {guise.sex for guise in skins.guises} == {None}
    assert all(guise.photograph for guise in skins.guises)


def test_every_look_alike_stands_in_both_entries_with_a_mark_and_what_to_write(skins: Key) -> None:
    for species in skins.species:
        assert species.lookalikes, species.english
        for other in species.lookalikes:
            assert other.mark, (species.english, other.name)
            assert other.unseen, (species.english, other.name)
            assert other.species is not None
            assert any(back.species == species.index for back in skins.species[other.species].lookalikes)


def test_a_state_that_decides_is_one_that_the_species_has(skins: Key) -> None:
    """Else the mark said to settle it would be one that is never seen on it."""
    for species in skins.species:
        for other in species.lookalikes:
            for name, states in other.decided_by.items():
                character = skins.character(name)
                cell = character.column[species.guises[0]]
                assert cell >= 0, (species.english, other.name, name)
                assert sum(character.cells[cell][state] for state in states) > 0, (species.english, other.name, name)


def test_what_asks_for_the_hand_can_be_photographed_instead(skins: Key) -> None:
    hand = [character for character in skins.characters if character.effort == "hand"]
    assert hand
    assert all(character.photograph for character in hand)


def test_protected_species_ask_for_a_photograph_and_say_so(skins: Key) -> None:
    protected = {species.name: species for species in skins.species if species.protected}
    assert set(protected) == {"Aeshna isoceles", "Coenagrion mercuriale", "Coenagrion lunulatum"}
    for species in protected.values():
        assert [skins.guises[guise].evidence for guise in species.guises] == ["photo"]
        assert all("leave it there" in note["text"] for note in species.more.protection)


def test_every_source_is_cited_and_none_is_used_that_is_not() -> None:
    authored, _ = read_key(find_key(SKINS))
    assert authored is not None
    form = compile_key(authored, "")
    for source in form["sources"]:
        if source["id"] not in ("memory", "practice"):
            assert source["authors"] or source["publisher"] or source["year"], source["id"]
    assert set(form["values_by_source"]) == {source["id"] for source in form["sources"]}


# ---- against the published table -----------------------------------------------------------------------------

RENAMED = {"Aeshna isosceles": "Aeshna isoceles", "Lestes viridis": "Chalcolestes viridis"}


def test_lengths_of_skins_overlap_the_published_ones_and_their_middles_lie_within_15_per_cent(skins: Key) -> None:
    """Against Powney et al. 2014; it gives larval lengths of 40 of our species."""
    ours: dict[str, Species] = {species.name: species for species in skins.species}
    compared = 0
    with reference("odonata_traits_powney2014.csv").open(encoding="utf-8-sig", newline="") as file:
        for row in csv.DictReader(file):
            if row["Larval_body_length_min"] == "NA":
                continue
            species = ours[RENAMED.get(row["Species"], row["Species"])]
            low, high = float(row["Larval_body_length_min"]), float(row["Larval_body_length_max"])
            assert species.length, species.english
            said = f"{species.english}: {species.length}, published {low:g}-{high:g} mm"
            assert species.length[0] <= high, said
            assert low <= species.length[1], said
            assert abs(sum(species.length) / (low + high) - 1) <= 0.15, said
            compared += 1
    assert compared == 40


# ---- skins described as a naturalist would -------------------------------------------------------------------

HEATH, BROADS, WEST, MOOR = "SU123456", "TG410210", "SX123456", "NH323456"

# Where, when (or None) and what.
SETTLED = {
    "Pyrrhosoma nymphula": (
        HEATH,
        None,
        "tail=gills gill-shape=broad gill-marks=blotch head-corners=square length=13mm",
    ),
    "Cordulegaster boltonii": (
        WEST,
        None,
        "tail=spines build=rough-long mask=spoon mask-teeth=jagged hair=shaggy dirt=coated length=38mm",
    ),
    "Gomphus vulgatissimus": (
        HEATH,
        None,
        "tail=spines build=wedge mask=flat antennae=clubbed dirt=coated length=28mm",
    ),
    "Cordulia aenea": (
        HEATH,
        None,
        "tail=spines build=squat mask=spoon legs=spidery back-spines=large back-spine-9=small thorax-side=two-dark "
        "length=23mm",
    ),
    "Somatochlora metallica": (
        HEATH,
        None,
        "tail=spines build=squat mask=spoon legs=spidery mask-teeth=deep back-spines=large back-spine-9=large "
        "top-marks=spot-rows length=24mm",
    ),
    "Brachytron pratense": (
        BROADS,
        "2026-05-05",
        "tail=spines build=torpedo eye-shape=small-eyed length=38mm found=stem-low",
    ),
    "Erythromma najas": (
        HEATH,
        "2026-06-05",
        "tail=gills gill-joint=clear gill-tip=rounded gill-marks=end-bars length=19mm found=floating",
    ),
    "Libellula depressa": (
        HEATH,
        "2026-06-05",
        "tail=spines build=squat mask=spoon mask-groove=no eyes=small hair=shaggy dirt=coated mask-teeth=deep "
        "brow=sunk back-spine-8=present back-spine-9=absent length=24mm",
    ),
    "Platycnemis pennipes": (
        HEATH,
        None,
        "tail=gills gill-thread=yes head-corners=square gill-marks=speckled length=14mm",
    ),
    "Lestes sponsa": (
        BROADS,
        None,
        "tail=gills mask=stalked mask-reach=hind hook-bristles=yes gill-marks=three-bars gill-tip=rounded length=19mm",
    ),
    "Chalcolestes viridis": (
        BROADS,
        None,
        "tail=gills mask=flat mask-reach=middle hook-bristles=yes gill-veins=right-angled gill-marks=two-bars "
        "length=18mm",
    ),
    "Leucorrhinia dubia": (
        MOOR,
        None,
        "tail=spines build=squat mask=spoon eyes=large back-spines=small back-spine-8=no belly=banded length=20mm",
    ),
    "Sympetrum danae": (
        MOOR,
        None,
        "tail=spines build=squat mask=spoon eyes=large hair=bare back-spines=small side-spine-9=short belly=plain "
        "length=15mm",
    ),
}


@pytest.mark.parametrize("name", SETTLED)
def test_a_skin_with_its_own_marks_is_settled(skins: Key, name: str) -> None:
    at, when, traits = SETTLED[name]
    verdict = look(skins, traits, at=at, when=when, eye="practised").assessment.verdict
    assert (verdict.word, verdict.name) == ("settled", name)


# What is left open, at most, for somebody practised.
NARROWED = {
    "the emperors": (
        {"Anax imperator", "Anax parthenope"},
        "tail=spines build=torpedo mask=flat eye-shape=flush first-side-spine=seven length=52mm",
    ),
    "the demoiselles": (
        {"Calopteryx splendens", "Calopteryx virgo"},
        "tail=gills antennae=first-long mask-split=diamond gill-shape=three-edged length=21mm",
    ),
    "the red-eyed damselflies": (
        {"Erythromma najas", "Erythromma viridulum"},
        "tail=gills gill-joint=clear gill-tip=rounded gill-marks=end-bars found=floating",
    ),
    "the chasers that are hard to tell apart": (
        {"Libellula depressa", "Libellula quadrimaculata"},
        "tail=spines build=squat mask=spoon eyes=small hair=shaggy legs=short mask-teeth=deep back-spine-8=present "
        "back-spine-9=absent length=24mm",
    ),
}


@pytest.mark.parametrize("those", NARROWED)
def test_skins_that_look_alike_are_named_together(skins: Key, those: str) -> None:
    names, traits = NARROWED[those]
    found = look(skins, traits, at=HEATH, when="2026-06-05", eye="practised").assessment
    assert found.verdict.word == "narrowed"
    assert set(species_named(skins, found)) == names


@pytest.mark.parametrize("eye", ["beginner", "practised"])
def test_a_plain_thin_skin_with_pointed_gills_gets_no_name_below_its_family_or_its_trade_group(
    skins: Key, eye: str
) -> None:
    """An azure-type skin: no mark that most people can see settles a species among the blues."""
    found = look(skins, "tail=gills mask=flat gill-tip=pointed gill-marks=plain length=13mm", at=HEATH, eye=eye)
    verdict = found.assessment.verdict
    assert verdict.word == "narrowed"
    assert verdict.vernacular in ("blue, red or red-eyed damselfly", "blue or blue-tailed damselfly")
    assert {"Coenagrion puella", "Ischnura elegans"} <= set(species_named(skins, found.assessment))


@pytest.mark.parametrize("eye", ["beginner", "practised"])
def test_even_every_mark_of_an_azure_skin_leaves_its_genus_open(skins: Key, eye: str) -> None:
    traits = "tail=gills mask=flat gill-tip=pointed gill-marks=plain gill-joint=clear head-spots=dotted length=13mm"
    found = look(skins, traits, at=HEATH, eye=eye).assessment
    assert found.verdict.word == "narrowed"
    assert {"Coenagrion puella", "Coenagrion pulchellum"} <= set(species_named(skins, found))


def test_a_beginner_gets_a_few_hawkers_for_a_southern_hawker_and_a_practised_eye_the_species(skins: Key) -> None:
    traits = (
        "tail=spines build=torpedo mask=flat eye-shape=bulging mask-width=slender first-side-spine=six "
        "hawker-spine-9=half cerci=half thorax-side=plain length=44mm"
    )
    green = look(skins, traits, at=HEATH, when="2026-07-05", eye="beginner").assessment
    seasoned = look(skins, traits, at=HEATH, when="2026-07-05", eye="practised").assessment.verdict
    assert green.verdict.word == "narrowed"
    assert {"Aeshna cyanea", "Aeshna grandis"} <= set(species_named(skins, green))
    assert {name.partition(" ")[0] for name in species_named(skins, green)} == {"Aeshna"}
    assert (seasoned.word, seasoned.name) == ("settled", "Aeshna cyanea")


def test_chaser_skimmer_and_darter_are_told_from_each_other(skins: Key) -> None:
    """By eyes, hair, spines and the mask's teeth, for a beginner; the species may stay open."""
    squat = "tail=spines build=squat mask=spoon "
    chaser = look(
        skins, squat + "eyes=small hair=shaggy mask-teeth=deep back-spine-8=yes length=24mm", at=HEATH, eye="beginner"
    )
    skimmer = look(
        skins,
        squat + "eyes=small hair=shaggy mask-teeth=shallow back-spine-8=no back-spines=small length=25mm",
        at=HEATH,
        eye="beginner",
    )
    darter = look(
        skins, squat + "eyes=large hair=bare side-spine-9=long back-spines=large length=17mm", at=HEATH, eye="beginner"
    )
    best = [named.key.species[named.assessment.candidates[0].species].name for named in (chaser, skimmer, darter)]
    assert best == ["Libellula depressa", "Orthetrum cancellatum", "Sympetrum striolatum"]
    assert set(species_named(skins, darter.assessment)) == {"Sympetrum striolatum", "Sympetrum sanguineum"}


def test_a_norfolk_hawkers_skin_is_likeliest_by_the_long_side_spines_of_its_tail(skins: Key) -> None:
    found = look(
        skins,
        "tail=spines build=torpedo eye-shape=bulging mask-width=broad cerci=two-thirds length=41mm",
        at=BROADS,
        when="2026-05-25",
        eye="beginner",
    ).assessment
    assert skins.species[found.candidates[0].species].name == "Aeshna isoceles"
    assert "Aeshna isoceles" in species_named(skins, found)
    assert found.verdict.word != "settled", "a beginner should not be told that it is certain"


def test_where_the_southern_damselfly_may_be_every_lens_mark_is_asked_for_as_a_photograph(skins: Key) -> None:
    found = look(
        skins,
        "tail=gills mask=flat gill-tip=pointed gill-marks=plain length=12mm",
        at="SM852315",
        water="stream",
        eye="practised",
    ).assessment
    chance = {skins.species[one.species].name: one.probability for one in found.candidates}
    assert chance["Coenagrion mercuriale"] > 0.01
    asked = [step for step in found.looks.looks if skins.characters[step.character].effort == "hand"]
    assert asked, "nothing with a lens was asked for: the test would prove nothing"
    assert all(step.photograph for step in asked)


def test_the_fringe_below_segment_7_and_the_spine_on_3_part_common_and_vagrant_darter(skins: Key) -> None:
    darter = "tail=spines build=squat mask=spoon eyes=large back-spines=large back-spine-8=yes length=17mm "
    common = look(skins, darter + "side-spine-9=long back-spine-3=no belly-fringe=yes", at=BROADS, eye="practised")
    vagrant = look(skins, darter + "side-spine-9=middling back-spine-3=yes belly-fringe=no", at=BROADS, eye="practised")
    assert "Sympetrum vulgatum" not in species_named(skins, common.assessment)
    chance = {skins.species[one.species].name: one.probability for one in vagrant.assessment.candidates}
    assert chance["Sympetrum vulgatum"] > 0.02, "a stray, but looked for once its marks are seen"


def test_a_groove_below_the_mask_makes_a_squat_skin_an_emerald(skins: Key) -> None:
    """Tennessen 2019: emerald dragonflies have it, chasers, skimmers and darters do not."""
    squat = "tail=spines build=squat mask=spoon back-spines=small small-spines="
    emerald = look(skins, squat + "half mask-groove=yes", at=HEATH, when="2026-05-15", eye="practised")
    chaser = look(skins, squat + "short mask-groove=no", at=HEATH, when="2026-05-15", eye="practised")
    likeliest = [skins.species[named.assessment.candidates[0].species].family for named in (emerald, chaser)]
    assert likeliest == ["Corduliidae", "Libellulidae"]


def test_no_mark_on_which_accounts_contradict_each_other_is_said_to_decide(skins: Key) -> None:
    """The joints of the feelers, and where the tips of the gills of blue damselflies differ from account to account."""
    blues = {"Coenagrion", "Enallagma", "Ischnura", "Erythromma"}
    for species in skins.species:
        for other in species.lookalikes:
            assert "feeler-joints" not in other.decided_by, (species.english, other.name)
            if species.genus in blues:
                assert "gill-tip" not in other.decided_by, (species.english, other.name)


def test_answers_that_fit_no_skin_are_outside(skins: Key) -> None:
    traits = "tail=gills build=squat eyes=large antennae=clubbed mask=spoon gill-thread=yes length=50mm"
    assert look(skins, traits, at=HEATH, eye="practised").assessment.verdict.word == "outside"


# ---- at the command line -------------------------------------------------------------------------------------


def test_the_caution_is_shown_before_anything_is_named(run) -> None:
    ran = run("name", "--key", SKINS, "tail=gills", "antennae=first-long")
    assert ran.stdout.index("Photograph the skin in place") < ran.stdout.index("Narrowed")
    told = json.loads(run("name", "--key", SKINS, "tail=gills", "antennae=first-long", "--json").stdout)
    assert "Photograph the skin in place" in told["caution"]


def test_the_key_to_skins_asks_nothing_of_wings_colours_or_sex(skins: Key) -> None:
    """The engine knows nothing of adults: another key brings other questions, and the same verdicts."""
    ids = {character.id for character in skins.characters}
    assert not ids & {"wings-at-rest", "abdomen-colour", "wing-spot", "claspers", "shoulder-stripes"}
    assert skins.stage == "exuvia"


def test_a_skin_logged_with_its_key_is_recorded_as_an_exuvia(run, tmp_path) -> None:
    ledger = tmp_path / "skins.ledger"
    place = ("--date", "2026-06-12", "--place", "SU 431 118", "--by", "Ada Marsh", "--ledger", ledger)
    ran = run("log", "--key", SKINS, "2 southern hawker", *place)
    assert ran.returncode == 0, ran.stderr
    sighting = json.loads(run("ledger", "list", "--ledger", ledger, "--json").stdout)
    assert sighting["stage"] == "exuvia"
    assert sighting["name"] == "Aeshna cyanea"
