"""Looks as people have them, against the shipped key: what must be settled, and what must not be."""

from __future__ import annotations

import pytest

from descriptions.looks import DAMSELFLY, LOOKS, MID_JULY
from reedmace.keys.answers import read_trait, read_traits
from reedmace.scoring.assessment import assess
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import NARROWED, OPEN, OUTSIDE, SETTLED


@pytest.fixture(scope="module")
def look(key):
    """Assess traits in SU, by a beginner, unless told otherwise."""
    tables = {eye: Tables(key, eye) for eye in ("beginner", "practised")}

    def assessed(traits, third=MID_JULY, habitat=None, *, flat=False, eye="beginner", square="SU"):
        regions = tuple(i for i, region in enumerate(key.regions) if region.id in key.squares[square])
        answers = read_traits(key, traits.split()) if isinstance(traits, str) else traits
        return assess(tables[eye], Circumstances(regions, third, habitat, flat), answers)

    return assessed


@pytest.mark.parametrize("eye", ["beginner", "practised"])
@pytest.mark.parametrize("name", LOOKS)
def test_the_eleven_looks_come_out_settled(key, look, name, eye):
    wanted, sex, third, habitat, traits = LOOKS[name]
    verdict = look(traits, third, habitat, eye=eye).verdict
    assert (verdict.word, verdict.name) == (SETTLED, wanted)
    if sex:
        assert verdict.sex == sex


@pytest.mark.parametrize("name", LOOKS)
def test_on_flat_priors_they_are_never_settled_on_another(key, look, name):
    wanted, _, third, habitat, traits = LOOKS[name]
    found = look(traits, third, habitat, flat=True)
    named = {key.species[one].name for one in found.verdict.members}
    assert found.verdict.word in (SETTLED, NARROWED)
    assert wanted in named
    assert found.verdict.word == NARROWED or named == {wanted}


@pytest.mark.parametrize("pronotum", ["even", "wavy"])
def test_azure_on_flat_priors_is_settled_by_the_collar_against_variable(key, look, pronotum):
    """Flat priors may leave Azure or Variable; the collar tells these two apart."""
    traits = f"{LOOKS['azure'][4]} pronotum={pronotum}"
    found = look(traits, MID_JULY, "garden-pond", flat=True)
    variable = next(rival for rival in found.verdict.rivals if rival.name == "Coenagrion pulchellum")
    assert variable.separated


def test_the_emperors_sex_is_said_only_when_a_sexing_mark_is_answered(look):
    traits = LOOKS["emperor"][4]
    assert look(traits, MID_JULY, "lake").verdict.sex is None
    assert look(f"{traits} bump=present claspers=claspers", MID_JULY, "lake").verdict.sex == "male"


def test_answers_that_fit_nothing_end_outside_or_open(look):
    """Wings spread, eyes apart, red body, 20 mm, blue tail segments: no such insect."""
    traits = (
        "wings-at-rest=flat eyes=apart abdomen-colour=red length=20mm segment-8=all-blue segment-9=all-blue tip=blue"
    )
    for flat in (False, True):
        for eye in ("beginner", "practised"):
            assert look(traits, MID_JULY, "pond", flat=flat, eye=eye).verdict.word in (OUTSIDE, OPEN)


def test_a_blue_damselfly_in_a_garden_in_july_is_left_open(key, look):
    """It says which are likeliest here and now, and which mark to look for."""
    found = look(f"abdomen-colour=blue {DAMSELFLY.split()[0]}", MID_JULY, "garden-pond")
    assert found.verdict.word in (OPEN, NARROWED)
    assert len(found.verdict.members) != 1
    likeliest = {key.species[one.species].name for one in found.candidates[:2]}
    assert likeliest == {"Coenagrion puella", "Enallagma cyathigerum"}
    assert len(found.looks.looks) >= 3
    assert key.characters[found.looks.looks[0].character].effort in ("glance", "look")


FEMALES = {
    "demoiselle, greenish wings": ("Calopteryx splendens", "Calopteryx virgo", f"{DAMSELFLY} flight=flutters abdomen-colour=metallic-green wing-band=none wing-tint=green ovipositor=blade"),
    "demoiselle, brownish wings": ("Calopteryx splendens", "Calopteryx virgo", f"{DAMSELFLY} flight=flutters abdomen-colour=metallic-green wing-band=none wing-tint=rusty ovipositor=blade"),
    "green and black": ("Coenagrion puella", "Enallagma cyathigerum", f"{DAMSELFLY} abdomen-colour=plain-green top-pattern=mostly-black ovipositor=blade bump=absent claspers=points"),
    "blue and black": ("Coenagrion puella", "Enallagma cyathigerum", f"{DAMSELFLY} abdomen-colour=blue top-pattern=spearheads ovipositor=blade bump=absent claspers=points"),
}  # fmt: skip


@pytest.mark.parametrize("name", FEMALES)
def test_females_of_look_alikes_are_narrowed_until_a_mark_separates_them(key, look, name):
    one, other, traits = FEMALES[name]
    found = look(traits, MID_JULY)
    named = {key.species[member].name for member in found.verdict.members}
    assert found.verdict.word in (NARROWED, OPEN)
    assert found.verdict.word == OPEN or named & {one, other}


@pytest.mark.parametrize("name", LOOKS)
def test_one_wrong_answer_among_the_good_ones_excludes_nothing(key, look, name):
    """Any answer but one replaced by any other state: the right species stays in the running."""
    wanted, _, third, habitat, traits = LOOKS[name]
    good = read_traits(key, traits.split())
    species = next(one.index for one in key.species if one.name == wanted)
    for index, answer in enumerate(good):
        for wrong in range(len(key.characters[answer.character].states)):
            if wrong in answer.states:
                continue
            answers = [*good[:index], answer._replace(states=(wrong,)), *good[index + 1 :]]
            found = look(answers, third, habitat)
            assert found.after.species[species] > 1e-4, (key.characters[answer.character].id, wrong)
            assert species in [one.species for one in found.candidates[:6]], (
                key.characters[answer.character].id,
                wrong,
            )


def test_nothing_short_of_a_separating_mark_settles_azure_against_variable(key, look):
    """Posture, build, colour, tail and legs are the same in both: the verdict holds both."""
    traits = f"{DAMSELFLY} abdomen-colour=blue spur=present segment-8=all-blue legs=black flight=low-and-weak perch=low-plants"
    verdict = look(traits, MID_JULY, "pond").verdict
    assert verdict.word == NARROWED
    assert {"Coenagrion puella", "Coenagrion pulchellum"} <= {key.species[one].name for one in verdict.members}


def test_an_unseen_mark_weighs_nothing_and_is_not_asked_again(key, look):
    asked = look(f"{DAMSELFLY} abdomen-colour=blue", MID_JULY, "pond").looks.looks[0].character
    silent = read_trait(key, f"{key.characters[asked].id}=cant-tell")
    answers = [*read_traits(key, f"{DAMSELFLY} abdomen-colour=blue".split()), silent]
    found = look(answers, MID_JULY, "pond")
    assert asked not in [one.character for one in found.looks.looks]
    assert found.after.species == look(answers[:-1], MID_JULY, "pond").after.species


STRAY = (
    "wings=flat abdomen-colour=red legs=red abdomen-shape=broad eye-colour=red face=red wing-base=yellow-small "
    "wing-spot=pale build=stout thorax-colour=red veins=red bump=yes"
)


def test_a_stray_whose_every_mark_is_right_is_named_and_not_settled(key, look):
    """It is described here, so it is not outside; it is hardly to be expected here, so nobody should be sure of it."""
    found = look(STRAY, square="TQ")
    assert found.after.outside > 0.7
    assert (found.verdict.word, found.verdict.name) == (NARROWED, "Crocothemis erythraea")
    odd = STRAY.replace("legs=red", "legs=black").replace("face=red", "face=blue")
    assert look(odd, square="TQ").verdict.word == OUTSIDE


def test_brown_wings_are_those_of_a_brown_hawker(key, look):
    """Beginners say brown of amber wings as they do of rusty ones."""
    found = look("wing-tint=brown build=big flight=patrolling", 22, "garden-pond")
    assert key.species[found.candidates[0].species].name == "Aeshna grandis"


@pytest.mark.parametrize("marks", ["build=big wings=flat abdomen-colour=green flight=hovers eggs=wood"])
def test_what_can_be_one_kind_is_not_a_hawker_or_a_damselfly(key, look, marks):
    """Two species are named together only where that makes a record, if another two do as well."""
    found = look(marks, 25, "garden-pond", square="TQ")
    assert found.verdict.word == NARROWED
    assert len({key.species[one].family for one in found.verdict.members}) == 1
    assert found.verdict.probability >= 0.95


EARLY = 17  # late June


def test_while_most_are_young_a_pale_wing_spot_and_a_perch_settle_no_willow_emerald(look):
    """Young Emeralds have pale spots too, and sit in bushes; in September they do not."""
    traits = "wings-at-rest=half-open build=thin abdomen-colour=metallic-green wing-spot=pale perch=branches"
    found = look(traits, EARLY).verdict
    assert (found.word, len(found.members)) == (NARROWED, 2)
    assert look(traits, 25).verdict.name == "Chalcolestes viridis"


def test_a_guise_weighs_less_when_it_is_not_about(key):
    """Of an Emerald of late June most weight is on its young, of one of August hardly any; they still add up to 1."""
    [emerald] = [species for species in key.species if species.name == "Lestes sponsa"]
    young = [guise for guise in emerald.guises if key.guises[guise].age == "immature"]
    weights = {}
    for third in (EARLY, 22):
        made = prior(key, Circumstances(third=third))
        assert sum(made.guises) == pytest.approx(1)
        weights[third] = sum(made.guises[guise] for guise in young) / made.species[emerald.index]
    assert weights[EARLY] > 0.6
    assert weights[22] < 0.03
    flat = prior(key, Circumstances(third=EARLY, flat=True))
    assert sum(flat.guises[guise] for guise in young) / flat.species[emerald.index] == pytest.approx(0.18)
