"""Insects are met as the key says: where, when, how often, in which guise."""

from __future__ import annotations

from collections import Counter
from math import sqrt
from random import Random

from reedmace.keys.model import Key, Species
from reedmace.trial.nature import BEYOND, STRAY, Encounter, Nature
from reedmace.trial.plan import Plan
from scoring.tables_made import key_of, states

MET = 4000
PLAIN = Plan()


def meet(key: Key, plan: Plan = PLAIN, chosen: tuple[int, ...] = ()) -> list[Encounter]:
    nature = Nature(key, plan, chosen)
    return [nature.meet(Random(f"{run}")) for run in range(MET)]


def near(count: int, of: int, chance: float) -> None:
    assert abs(count / of - chance) < 4 * sqrt(chance * (1 - chance) / of) + 1e-9, (count, of, chance)


def pale(tarn: Key) -> Species:
    """The Pale Rushlet: two guises, common in the lowland."""
    return next(species for species in tarn.species if species.name == "Tarnula pallida")


def test_evenly_means_every_species_alike(tarn: Key) -> None:
    found = Counter(one.species for one in meet(tarn, Plan(even=True)))
    for species in tarn.species:
        near(found[species.index], MET, 1 / len(tarn.species))


def test_by_prior_a_common_species_is_met_more_often_than_a_vagrant(tarn: Key) -> None:
    """In proportion to abundance and to the length of its season, in every region."""
    found = meet(tarn)
    lowland = [one.species for one in found if one.regions == (0,)]
    weights = [species.abundance[0] for species in tarn.species]
    common, local = (Counter(weights).keys() & {0.5}, Counter(weights).keys() & {0.1})
    assert common
    assert local
    often = sum(weights[species] == 0.5 for species in lowland) / weights.count(0.5)
    seldom = sum(weights[species] == 0.1 for species in lowland) / weights.count(0.1)
    assert 3 < often / seldom < 8
    vagrants = [index for index, weight in enumerate(weights) if weight < 0.001]
    assert sum(lowland.count(index) for index in vagrants) < 0.01 * len(lowland)


def test_the_regions_told_are_those_of_a_square_that_holds_it(tarn: Key) -> None:
    assert {one.regions for one in meet(tarn)} == {(0,), (1,), (0, 1)}


def test_a_species_observed_alone_is_met_where_it_lives(tarn: Key) -> None:
    for species in tarn.species:
        home = max(range(2), key=lambda region: species.abundance[region])
        if species.abundance[home] > 50 * species.abundance[1 - home]:
            found = meet(tarn, chosen=(species.index,))
            assert {one.species for one in found} == {species.index}
            assert sum(home in one.regions for one in found) > 0.97 * MET


def test_the_date_lies_in_the_flight_period_and_mostly_in_its_peak(tarn: Key) -> None:
    species = pale(tarn)
    assert species.flight is not None
    first, peak_from, _, last = species.flight
    thirds = Counter(one.third for one in meet(tarn, chosen=(pale(tarn).index,)))
    assert min(third for third in thirds if third is not None) >= first - 1
    assert max(third for third in thirds if third is not None) <= last + 1
    assert thirds[peak_from] > 3 * thirds[first]
    beyond = thirds[first - 1] + thirds[last + 1]
    assert 0 < beyond < MET * 2 * BEYOND


def test_the_habitat_is_its_own_but_for_strays(tarn: Key) -> None:
    """A main habitat three times as often as one also used."""
    own = pale(tarn).habitats
    assert set(own.values()) == {"main", "also"}
    found = Counter(one.habitat for one in meet(tarn, chosen=(pale(tarn).index,)))
    main, also = (next(name for name, how in own.items() if how == wanted) for wanted in ("main", "also"))
    near(found[main], MET, (1 - STRAY) * 0.75 + STRAY / len(tarn.habitats))
    near(found[also], MET, (1 - STRAY) * 0.25 + STRAY / len(tarn.habitats))


def test_guises_are_drawn_by_share_or_evenly_where_the_shares_are_to_be_wrong(tarn: Key) -> None:
    male, female = pale(tarn).guises
    assert (tarn.guises[male].share, tarn.guises[female].share) == (0.6, 0.4)
    near(sum(one.guise == male for one in meet(tarn, chosen=(pale(tarn).index,))), MET, 0.6)
    near(sum(one.guise == male for one in meet(tarn, Plan(shares_wrong=True), (pale(tarn).index,))), MET, 0.5)


def test_guises_are_met_when_the_key_says_that_they_are_about(tarn: Key) -> None:
    """By share times how much of their own time it is; where it is nobody's, by share."""
    male, _ = pale(tarn).guises
    first, peak_from, _, last = pale(tarn).flight or (0, 0, 0, 0)
    early = tarn.guises[male]._replace(flight=(first, first, first, peak_from))
    guises = tuple(early if index == male else guise for index, guise in enumerate(tarn.guises))
    found = meet(tarn._replace(guises=guises), chosen=(pale(tarn).index,))
    assert last > peak_from
    late = [one for one in found if one.third is not None and one.third > peak_from + 1]
    assert late
    assert not any(one.guise == male for one in late)
    at_first = [one for one in found if one.third == first]
    near(sum(one.guise == male for one in at_first), len(at_first), 0.6)


def test_marks_are_drawn_by_frequency(tarn: Key) -> None:
    """The Pale Rushlet's female: body green 0.8, blue 0.2. Her wings are always closed."""
    colour, wings = tarn.character("body-colour"), tarn.character("wings-at-rest")
    female = [one for one in meet(tarn, chosen=(pale(tarn).index,)) if tarn.guises[one.guise].sex == "female"]
    green = next(index for index, state in enumerate(colour.states) if state.id == "green")
    near(sum(one.marks[colour.index] == green for one in female), len(female), 0.8)
    assert {one.marks[wings.index] for one in female} == {0}


def test_what_the_key_does_not_know_is_taken_from_a_congener_else_from_the_whole_key() -> None:
    """The insect has the mark all the same; the observer sees something."""
    cells = [(1.0, 0.0), (0.0, 1.0)]
    names = ["Aus primus", "Aus alter", "Bus primus", "Cus solus"]
    key = key_of([states(0, "m", 2, cells, (0, -1, 1, -1))], names)
    assert {one.marks[0] for one in meet(key, chosen=(1,))} == {0}
    alone = Counter(one.marks[0] for one in meet(key, chosen=(3,)))
    near(alone[0], MET, 0.5)


def test_a_key_without_regions_seasons_or_habitats_can_be_tried_as_well() -> None:
    key = key_of([states(0, "m", 2, [(1.0, 0.0), (0.0, 1.0)], (0, 1))], ["Aus primus", "Bus primus"])
    assert {(one.regions, one.third, one.habitat) for one in meet(key)} == {((), None, None)}
