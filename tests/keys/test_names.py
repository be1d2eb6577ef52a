"""Finding what a name means: any unambiguous part of an English or scientific name, old ones included."""

from __future__ import annotations

from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, could_mean, find_name


def named(key: Key, typed: str) -> list[str]:
    """The scientific names of what a typed name means."""
    found = find_name(key, typed)
    assert isinstance(found, FoundName), found
    assert found.typed == typed
    return [key.species[index].name for index in found.species]


def refused(key: Key, typed: str) -> Fault:
    found = find_name(key, typed)
    assert isinstance(found, Fault), found
    assert (found.said, found.typed) == (typed, True)
    assert found.hint
    return found


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Azure Damselfly", "Coenagrion puella"),
        ("azure damsel", "Coenagrion puella"),
        ("variables", "Coenagrion pulchellum"),
        ("azure damselflies", "Coenagrion puella"),
        ("AZURE  DAMSEL", "Coenagrion puella"),
        ("Coenagrion puella", "Coenagrion puella"),
        ("C. puella", "Coenagrion puella"),
        ("puella", "Coenagrion puella"),
        ("Agrion puella", "Coenagrion puella"),
        ("common blue", "Enallagma cyathigerum"),
        ("common blues", "Enallagma cyathigerum"),
        ("common-blue damselfly", "Enallagma cyathigerum"),
        ("Red-eyed Damselfly", "Erythromma najas"),
        ("red eyed damselfly", "Erythromma najas"),
        ("small red eyed", "Erythromma viridulum"),
        ("blue tailed damselfly", "Ischnura elegans"),
        ("emperors", "Anax imperator"),
        ("emperor", "Anax imperator"),
        ("com bl", "Enallagma cyathigerum"),
        ("s haw", "Aeshna cyanea"),
        ("lrd", "Pyrrhosoma nymphula"),
        ("emp", "Anax imperator"),
        ("e cya", "Enallagma cyathigerum"),
        ("bt sk", "Orthetrum cancellatum"),
        ("four spo", "Libellula quadrimaculata"),
        ("4-spot", "Libellula quadrimaculata"),
        ("broad-bodied", "Libellula depressa"),
        ("four spot", "Libellula quadrimaculata"),
        ("ruddy darters", "Sympetrum sanguineum"),
        ("large red", "Pyrrhosoma nymphula"),
        ("banded demoiselles", "Calopteryx splendens"),
    ],
)
def test_any_unambiguous_part_of_a_name_will_do(key: Key, typed: str, name: str) -> None:
    """Plurals, hyphens, case and abbreviated genera make no difference."""
    assert named(key, typed) == [name]


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("blue-tailed", "Ischnura elegans"),
        ("blue tailed", "Ischnura elegans"),
        ("white-faced", "Leucorrhinia dubia"),
    ],
)
def test_a_beginning_that_others_only_lengthen_is_plain_where_they_are_rarer(key: Key, typed: str, name: str) -> None:
    """Whoever saw a Scarce Blue-tailed or a Large White-faced one writes that word."""
    assert named(key, typed) == [name]


@pytest.mark.parametrize("typed", ["red-eyed", "red eyed", "emerald", "azure", "bl tail"])
def test_a_beginning_that_another_as_common_lengthens_is_asked_about(key: Key, typed: str) -> None:
    """Small Red-eyed Damselfly is as common as Red-eyed, and taken for it."""
    assert refused(key, typed).code == "ambiguous-name"


@pytest.mark.parametrize("typed", ["bd", "b dem", "em", "blu", "azure", "northern", "bl tail"])
def test_a_short_form_that_could_be_several_is_never_chosen_for_the_user(key: Key, typed: str) -> None:
    """Initials and beginnings serve where they mean one species, and are asked about otherwise."""
    assert refused(key, typed).code == "ambiguous-name"
    assert len(could_mean(key, typed)) > 1


@pytest.mark.parametrize(
    ("typed", "commonest", "only"),
    [
        ("red darter", "Common Darter", "Red-veined Darter"),
        ("yellow darter", "Common Darter", "Yellow-winged Darter"),
        ("green hawker", "Migrant Hawker", "Norfolk Hawker"),
        ("blue chaser", "Broad-bodied Chaser", "Scarce Chaser"),
        ("small blue", "Common Blue Damselfly", "Scarce Blue-tailed Damselfly"),
        ("green emerald", "Emerald Damselfly", "Willow Emerald Damselfly"),
        ("large damselfly", "Common Blue Damselfly", "Large Red Damselfly"),
        ("gr", "Brown Hawker", "Green Darner"),
        ("im", "Emperor Dragonfly", "Emperor Dragonfly"),
    ],
)
def test_plain_words_that_others_share_are_asked_about_though_one_species_answers(
    key: Key, typed: str, commonest: str, only: str
) -> None:
    """What occurs commonest is told before the rarity that alone has these words among its names."""
    fault = refused(key, typed)
    assert (fault.code, fault.hint[:12]) == ("ambiguous-name", "did you mean")
    assert commonest in fault.hint
    assert only in fault.hint
    asked = [key.species[index].english for index in could_mean(key, typed)]
    assert asked.index(commonest) <= asked.index(only) or commonest == "Emerald Damselfly"


@pytest.mark.parametrize(
    ("typed", "english"),
    [
        ("broad chaser", "Broad-bodied Chaser"),
        ("amber hawker", "Brown Hawker"),
        ("moor haw", "Common Hawker"),
        ("common emerald", "Emerald Damselfly"),
        ("common bluetail", "Blue-tailed Damselfly"),
        ("green-eyed hawker", "Norfolk Hawker"),
        ("blue emperor", "Emperor Dragonfly"),
        ("nomad", "Red-veined Darter"),
        ("willow", "Willow Emerald Damselfly"),
    ],
)
def test_a_word_that_is_no_others_and_another_name_in_full_are_enough(key: Key, typed: str, english: str) -> None:
    found = find_name(key, typed)
    assert isinstance(found, FoundName), found
    assert [key.species[index].english for index in found.species] == [english]


@pytest.mark.parametrize(
    ("typed", "english"),
    [
        ("sh", {"Southern Hawker"}),
        ("mh", {"Migrant Hawker"}),
        ("bh", {"Brown Hawker"}),
        ("gd", {"Golden-ringed Dragonfly", "Green Darner"}),
        ("btd", {"Blue-tailed Damselfly"}),
        ("rd", {"Ruddy Darter", "Red-eyed Damselfly", "Red-veined Darter"}),
    ],
)
def test_initials_come_before_fragments_and_are_asked_about_where_several_share_them(
    key: Key, typed: str, english: set[str]
) -> None:
    """A joined word gives one letter, or one for each of its parts."""
    assert {key.species[index].english for index in could_mean(key, typed)} == english
    assert isinstance(find_name(key, typed), FoundName) == (len(english) == 1)


@pytest.mark.parametrize(
    ("typed", "groups"),
    [("emerald sp.", ("Lestidae", "Corduliidae")), ("red sp.", ("Coenagrionidae", "Sympetrum"))],
)
def test_a_word_of_several_groups_with_sp_is_none_of_them_silently(
    key: Key, typed: str, groups: tuple[str, str]
) -> None:
    """Each group that the hint names can be typed."""
    fault = refused(key, typed)
    assert fault.code == "ambiguous-name"
    for group in groups:
        assert f"{group} (" in fault.hint
        found = find_name(key, group)
        assert isinstance(found, FoundName)
        assert found.group is not None
        assert found.group.scientific == group


def test_a_word_with_sp_is_the_smallest_group_that_holds_all_who_bear_it(key: Key) -> None:
    """`blue sp.` is not the genus of the Blue-tailed Damselfly, for the Common Blue is of another."""
    found = find_name(key, "blue sp.")
    assert isinstance(found, FoundName)
    assert found.group is not None
    assert found.group.scientific == "Coenagrionidae"
    for word in ("emerald", "red"):
        assert "sp." not in refused(key, word).hint
    assert "blue sp." in refused(key, "blue").hint


def test_an_ambiguous_name_lists_its_candidates(key: Key) -> None:
    fault = refused(key, "blue")
    assert fault.code == "ambiguous-name"
    for english in ("Common Blue Damselfly", "Blue-tailed Damselfly"):
        assert english in fault.hint
    assert "Azure" not in fault.hint


def test_a_group_is_offered_only_where_there_is_one(made_key: Key) -> None:
    """What the hint offers can be typed."""
    fault = refused(made_key, "example")
    assert "example sp." in fault.hint
    assert named(made_key, "example sp.") == ["Exemplum primum", "Exemplum alterum"]


def test_sp_after_a_word_that_names_no_group_is_no_species(key: Key) -> None:
    """`common sp.` is not Common or Ruddy Darter, and `ruddy sp.` not Ruddy Darter: whoever writes sp. is unsure."""
    fault = refused(key, "common sp.")
    assert fault.code == "ambiguous-name"
    assert "Common Darter" in fault.hint
    assert "sp." not in fault.hint
    assert refused(key, "ruddy sp.").code == "unknown-name"


@pytest.mark.parametrize(
    ("typed", "pair"),
    [
        ("azure/variable", ["Coenagrion puella", "Coenagrion pulchellum"]),
        ("azure / variable damselfly", ["Coenagrion puella", "Coenagrion pulchellum"]),
        ("common/ruddy darter", ["Sympetrum striolatum", "Sympetrum sanguineum"]),
        ("common/ruddy", ["Sympetrum striolatum", "Sympetrum sanguineum"]),
        ("ruddy/ruddy", ["Sympetrum sanguineum"]),
        ("puella/pulchellum", ["Coenagrion puella", "Coenagrion pulchellum"]),
    ],
)
def test_a_pair_that_could_not_be_split_is_written_with_a_stroke(key: Key, typed: str, pair: list[str]) -> None:
    assert named(key, typed) == pair


def test_a_pair_with_a_slip_in_it_is_refused_whole(key: Key) -> None:
    assert refused(key, "azure/varable damselfly").code == "unknown-name"
    assert refused(key, "ruddy/blue").code == "ambiguous-name"
    assert refused(key, "/").code == "name-empty"


@pytest.mark.parametrize(
    ("typed", "rank", "genus"),
    [
        ("darter sp.", "genus", "Sympetrum"),
        ("darters spp.", "genus", "Sympetrum"),
        ("Sympetrum", "genus", "Sympetrum"),
        ("Sympetrum sp.", "genus", "Sympetrum"),
        ("demoiselle sp.", "genus", "Calopteryx"),
    ],
)
def test_a_genus_or_its_plain_word_is_a_group(key: Key, typed: str, rank: str, genus: str) -> None:
    found = find_name(key, typed)
    assert isinstance(found, FoundName), found
    assert found.group is not None
    assert (found.group.rank, found.group.scientific) == (rank, genus)
    assert {key.species[index].genus for index in found.species} == {genus}
    assert len(found.species) == sum(species.genus == genus for species in key.species)


def test_a_family_and_a_suborder_are_groups_too(key: Key) -> None:
    for scientific in ("Libellulidae", "Zygoptera", "Odonata"):
        found = find_name(key, scientific)
        assert isinstance(found, FoundName)
        assert found.group is not None
        assert found.group.scientific == scientific
        assert set(found.species) == found.group.members


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("azuer damselfly", "Azure Damselfly"),
        ("Coenagrion puela", "Coenagrion puella"),
        ("emporer dragonfly", "Emperor Dragonfly"),
        ("comon darter", "Common Darter"),
    ],
)
def test_for_a_slip_the_nearest_names_are_offered(key: Key, typed: str, meant: str) -> None:
    fault = refused(key, typed)
    assert fault.code == "unknown-name"
    assert meant in fault.hint


@pytest.mark.parametrize("typed", ["", "  ", "sp.", "...", "–"])
def test_nothing_is_no_name(key: Key, typed: str) -> None:
    assert refused(key, typed).code == "name-empty"


# Other names of two words that stand in names of commoner species: people say them of those too.
PLAIN_WORDS = ("Blue Chaser", "Blue Hawker")


def test_every_full_name_of_every_species_finds_exactly_that_species(key: Key) -> None:
    """Or it is ambiguous, because another species bears the very same name."""
    bearers: dict[str, set[int]] = defaultdict(set)
    for species in key.species:
        for name in (species.english, species.name, *species.aliases, *species.synonyms):
            bearers[" ".join(name.casefold().replace("-", " ").split())].add(species.index)
    for species in key.species:
        for name in (species.english, species.name, *species.aliases, *species.synonyms):
            found = find_name(key, name)
            shared = bearers[" ".join(name.casefold().replace("-", " ").split())]
            if isinstance(found, Fault) and name in PLAIN_WORDS:
                assert species.english in found.hint
            elif isinstance(found, Fault):
                assert found.code == "ambiguous-name", (name, found)
                assert len(shared) > 1, f"{name} is {species.name}'s alone"
                assert species.english in found.hint
            else:
                assert found.species == (species.index,), name
                assert found.group is None, name
    assert all(len(bearers[species.name.casefold()]) == 1 for species in key.species)


def test_every_species_is_found_by_its_name_in_any_case_and_without_hyphens(key: Key) -> None:
    for species in key.species:
        for typed in (species.name.upper(), species.english.upper(), species.english.replace("-", " ")):
            found = find_name(key, typed)
            assert isinstance(found, FoundName), found
            assert found.species == (species.index,)


WORDS = st.sampled_from(["first", "example", "sp", "sp.", "/", "e", "ex", "-", "flies", "s", "’", "\ud800", "marsh"])


@settings(deadline=None, max_examples=300)
@given(st.lists(WORDS, max_size=5).map(" ".join) | st.text(max_size=20) | st.text(st.characters(), max_size=20))
def test_whatever_is_typed_is_found_or_is_a_fault(made_key: Key, typed: str) -> None:
    found = find_name(made_key, typed)
    if isinstance(found, Fault):
        assert found.hint
        assert (found.said, found.typed) == (typed, True)
    else:
        assert found.species
        assert all(0 <= index < len(made_key.species) for index in found.species)
