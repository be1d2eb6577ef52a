"""What is out there: a species and guise, where and when it is met, and what its marks truly are.

Written from the key's statements alone; it shares nothing with the engine.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from random import Random
from typing import NamedTuple

from reedmace.keys.model import NOT_APPLICABLE, Character, Key
from reedmace.trial.plan import Plan

# Choices of how insects are met (practice): in the peak of the flight period, at its two ends, and one third beyond.
PEAK, END, BEYOND = 1.0, 0.15, 0.03
HABITAT = {"main": 3.0, "also": 1.0}
STRAY = 0.03  # met in a habitat that is none of its own: insects roam
THIRDS = 36


class Encounter(NamedTuple):
    """One insect met. `marks[c]` is its true state of character c, its measure, or None where there is none.

    `regions` are those of the 100 km square it was met in (the insect's own among them); `third` 0 to 35.
    """

    species: int
    guise: int
    regions: tuple[int, ...]
    third: int | None
    habitat: str | None
    marks: tuple[float | None, ...]


class Nature:
    """Draws encounters for a key and a plan; `chosen` are the species that may be met (none: all of them)."""

    def __init__(self, key: Key, plan: Plan, chosen: tuple[int, ...] = ()) -> None:
        self.key = key
        self.plan = plan
        self._season = [_season(species.flight) for species in key.species]
        self._chosen = chosen
        self._squares = [
            [named for named in key.squares.values() if region.id in named] or [(region.id,)] for region in key.regions
        ]
        self._number = {region.id: index for index, region in enumerate(key.regions)}
        self._kin: dict[tuple[str, str | None, str], list[int]] = {}
        for index in range(len(key.guises)):
            self._kin.setdefault(self._kind(index), []).append(index)
        self._known: dict[tuple[int, int], list[int]] = {}

    def meet(self, random: Random) -> Encounter:
        """One insect, drawn."""
        region, species = self._where_and_what(random)
        regions: tuple[int, ...] = ()
        if region is not None:
            square = random.choice(self._squares[region])
            regions = tuple(self._number[name] for name in square if name in self._number)
        season = self._season[species]
        third = pick(season, random.random()) if season else self._any_third(random)
        guise = self._guise(species, region, third, random)
        marks = [self.mark(character, guise, random) for character in self.key.characters]
        there = tuple(without_what_needs(self.key.characters, marks))
        return Encounter(species, guise, regions, third, self._habitat(species, random), there)

    def mark(self, character: Character, guise: int, random: Random) -> float | None:
        """The true state of a character in one insect of a guise, a measure for a number, None for not applicable.

        What the key does not know is taken from a congener of the same sex and age, else from any guise of the key.
        """
        cell = character.column[guise]
        if cell == NOT_APPLICABLE:
            return None
        if not 0 <= cell < character.described:
            known = self._known_relatives(character, guise)
            if not known:
                return None
            cell = character.column[random.choice(known)]
        values = character.cells[cell]
        if character.is_number:
            mean, sd = values
            return random.gauss(mean, sd)
        return pick(values, random.random())

    def any_guise(self, random: Random) -> int:
        """Some guise of the key: any species, and a guise of it by share."""
        species = random.randrange(len(self.key.species))
        return self._guise(species, None, None, random)

    def other_guise(self, guise: int, random: Random) -> int | None:
        """Another guise of the same species that differs in sex or age; None where there is none."""
        mine = self.key.guises[guise]
        others = [
            other
            for other in self.key.species[mine.species].guises
            if (self.key.guises[other].sex, self.key.guises[other].age) != (mine.sex, mine.age)
        ]
        return random.choice(others) if others else None

    def _where_and_what(self, random: Random) -> tuple[int | None, int]:
        """Region and species. By prior: any region, then a species by how common it is there and for how long it flies.

        Evenly, or where only some species may be met: any of those, then a region by how common it is in each.
        """
        species = self.key.species
        if self.plan.even or self._chosen or not self.key.regions:
            found = random.choice(self._chosen) if self._chosen else random.randrange(len(species))
            return (pick(species[found].abundance, random.random()) if self.key.regions else None), found
        region = random.randrange(len(self.key.regions))
        weights = [
            one.abundance[region] * (sum(season) or 1.0) for one, season in zip(species, self._season, strict=True)
        ]
        return region, pick(weights, random.random())

    def _guise(self, species: int, region: int | None, third: int | None, random: Random) -> int:
        numbers = self.key.species[species].guises
        if self.plan.shares_wrong:
            return random.choice(numbers)
        guises = [self.key.guises[number] for number in numbers]
        shares = [dict(one.share_in).get(-1 if region is None else region, one.share) for one in guises]
        if third is not None:
            # Where none of its forms is about at this time of the year, none is more likely than at any other.
            about = [
                share * when[third] if (when := _season(one.flight)) else share
                for one, share in zip(guises, shares, strict=True)
            ]
            shares = about if any(about) else shares
        return numbers[pick(shares, random.random())]

    def _habitat(self, species: int, random: Random) -> str | None:
        own = self.key.species[species].habitats
        everywhere = [habitat.id for habitat in self.key.habitats]
        if not everywhere:
            return None
        if not own or random.random() < STRAY:
            return random.choice(everywhere)
        names = sorted(own)
        return names[pick([HABITAT.get(own[name], 1.0) for name in names], random.random())]

    def _any_third(self, random: Random) -> int | None:
        seasons = [season for season in self._season if season]
        return pick([sum(of) for of in zip(*seasons, strict=True)], random.random()) if seasons else None

    def _kind(self, guise: int) -> tuple[str, str | None, str]:
        one = self.key.guises[guise]
        return self.key.species[one.species].genus, one.sex, one.age

    def _known_relatives(self, character: Character, guise: int) -> list[int]:
        at = (character.index, guise)
        found = self._known.get(at)
        if found is None:
            found = [g for g in self._kin[self._kind(guise)] if 0 <= character.column[g] < character.described]
            found = found or [g for g, cell in enumerate(character.column) if 0 <= cell < character.described]
            self._known[at] = found
        return found


def without_what_needs(characters: Sequence[Character], marks: Sequence[float | None]) -> list[float | None]:
    """The marks with None for those of something that is not there: stripes that are none have no colour."""

    def there(number: int) -> bool:
        character, mark = characters[number], marks[number]
        if character.needs is not None and not there(character.needs):
            return False
        return mark is None or character.is_number or not character.states[int(mark)].absent

    return [
        None if one.needs is not None and not there(one.needs) else mark
        for one, mark in zip(characters, marks, strict=True)
    ]


def _season(flight: tuple[int, int, int, int] | None) -> list[float]:
    """Weights of the thirds of the year: most in the peak, evenly falling to the ends, a little just beyond."""
    if flight is None:
        return []
    first, peak_from, peak_to, last = flight
    weights = [0.0] * THIRDS
    for third in range(first, last + 1):
        if third < peak_from:
            weights[third] = END + (PEAK - END) * (third - first) / (peak_from - first)
        elif third > peak_to:
            weights[third] = END + (PEAK - END) * (last - third) / (last - peak_to)
        else:
            weights[third] = PEAK
    for third in (first - 1, last + 1):
        if 0 <= third < THIRDS:
            weights[third] = BEYOND
    return weights


def pick(weights: Sequence[float], draw: float) -> int:
    """The index that a draw (0 to 1) falls on, each as wide as its weight; all alike where all weigh nothing."""
    sums = list(accumulate(weights))
    if sums[-1] <= 0:
        return int(draw * len(sums))
    line = draw * sums[-1]
    return next(index for index, upto in enumerate(sums) if line < upto)
