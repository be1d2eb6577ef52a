"""What tells look-alikes apart: the trade's habitually confused sets, in the shipped key."""

from __future__ import annotations

from itertools import combinations

import pytest

from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.tell_apart import HAND, LOOK, NOTHING, TOGETHER, tell_apart

# Sets that field recorders habitually confuse (common practice).
CONFUSED = [
    ["azure damselfly", "variable", "common blue", "southern damselfly"],
    ["red-eyed damselfly", "small red-eyed"],
    ["blue-tailed damselfly", "scarce blue-tailed"],
    ["large red", "small red damselfly"],
    ["banded demoiselle", "beautiful demoiselle"],
    ["emerald damselfly", "scarce emerald", "willow emerald"],
    ["common darter", "ruddy darter", "black darter"],
    ["common darter", "red-veined darter", "vagrant darter"],
    ["migrant hawker", "common hawker", "southern hawker", "southern migrant hawker"],
    ["emperor dragonfly", "lesser emperor"],
    ["black-tailed skimmer", "keeled skimmer"],
    ["black-tailed skimmer", "scarce chaser"],
    ["broad-bodied chaser", "scarce chaser"],
    ["downy emerald", "brilliant emerald"],
]


@pytest.fixture(scope="module")
def tables(key: Key) -> Tables:
    return Tables(key)


def numbers(key: Key, names: list[str]) -> tuple[int, ...]:
    found = [find_name(key, name) for name in names]
    assert all(isinstance(one, FoundName) and len(one.species) == 1 for one in found), found
    return tuple(one.species[0] for one in found)


@pytest.mark.parametrize("names", CONFUSED, ids=lambda names: "/".join(names))
def test_every_habitually_confused_set_has_its_deciding_mark_or_says_that_none_decides(key, tables, names):
    for pair in tell_apart(tables, numbers(key, names)).pairs:
        one, other = key.species[pair.one].english, key.species[pair.other].english
        assert pair.listed, f"{one} and {other} are not listed as look-alikes"
        assert pair.marks
        assert pair.unseen
        assert pair.how in (LOOK, HAND, TOGETHER, NOTHING)
        assert bool(pair.deciding) == (pair.how in (LOOK, HAND))


def test_every_listed_pair_of_the_key_says_what_settles_it(key, tables):
    pairs = {
        tuple(sorted((species.index, entry.species)))
        for species in key.species
        for entry in species.lookalikes
        if entry.species is not None
    }
    assert len(pairs) > 60
    for one, other in sorted(pairs):
        (pair,) = tell_apart(tables, (one, other)).pairs
        assert pair.marks, (key.species[one].english, key.species[other].english)
        assert pair.how in (LOOK, HAND, TOGETHER, NOTHING)


def test_only_the_collar_settles_azure_and_variable(key, tables):
    """One mark alone, in the hand; everything else only points the way."""
    (pair,) = tell_apart(tables, numbers(key, ["azure damselfly", "variable"])).pairs
    assert pair.how == HAND
    assert [key.characters[index].id for index in pair.deciding] == ["pronotum"]
    assert "Azure or Variable" in pair.unseen


def test_the_black_tailed_skimmers_wing_spot_decides_nothing(key):
    """Sources contradict each other on its colour, so no pair may rest on it."""
    skimmer = numbers(key, ["black-tailed skimmer"])[0]
    for species in key.species:
        for entry in species.lookalikes:
            if species.index == skimmer or entry.species == skimmer:
                assert "wing-spot" not in entry.decided_by, (species.english, entry.name)


def test_the_best_mark_comes_first_and_each_sex_has_its_own(key, tables):
    apart = tell_apart(tables, numbers(key, ["banded demoiselle", "beautiful demoiselle"]))
    males, females = apart.chapters[:2]
    assert (males.sex, females.sex) == ("male", "female")
    for chapter in apart.chapters:
        weights = [mark.weight for mark in chapter.marks]
        assert weights == sorted(weights, reverse=True)
    best = key.characters[males.marks[0].character]
    assert best.id == "wing-band"
    assert [best.states[shown[0]].id for shown in males.marks[0].shows] == ["middle", "whole"]
    assert "wing-band" not in [key.characters[mark.character].id for mark in females.marks]


def test_a_mark_not_known_of_one_is_never_named(key, tables):
    """What is borrowed from relatives tells nothing apart."""
    for one, other in combinations(numbers(key, ["southern damselfly", "dainty", "irish damselfly"]), 2):
        for chapter in tell_apart(tables, (one, other)).chapters:
            for mark in chapter.marks:
                character = key.characters[mark.character]
                for species in (one, other):
                    cells = [
                        character.column[guise]
                        for guise in key.species[species].guises
                        if key.guises[guise].age == chapter.age
                    ]
                    assert any(0 <= cell < character.described for cell in cells)
