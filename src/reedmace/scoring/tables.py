"""What the engine derives from a key once for an eye: the readings of each character, worked out when asked for."""

from __future__ import annotations

from collections import Counter
from typing import Any

from reedmace.keys.answers import Answer
from reedmace.keys.borrowing import kinship
from reedmace.keys.model import Character, Key
from reedmace.scoring.assumptions import DEFAULTS, Assumptions
from reedmace.scoring.channel import (
    Readings,
    by_chance,
    foreseen_numbers,
    number_likelihood_of_one,
    number_likelihoods,
    state_readings,
)


class Tables:
    """A key seen through one eye (`beginner` or `practised`) under given assumptions. Remembers, never changes.

    `many` says that it will be asked thousands of times, so that loading numpy (where it is installed) pays.
    """

    def __init__(
        self, key: Key, eye: str = "beginner", assumptions: Assumptions = DEFAULTS, *, many: bool = False
    ) -> None:
        self.key = key
        self.eye = eye
        self.assumptions = assumptions
        self.many = many
        self._kin = kinship((key.species[one.species].genus, one.sex, one.age) for one in key.guises)
        self._doubting: Tables | None = None
        genera = Counter(species.genus for species in key.species)
        # Guises weighed evenly over species, and evenly over genera: each by its share of the species.
        self.of_species = [guise.share / len(key.species) for guise in key.guises]
        self.of_genera = [guise.share / len(genera) / genera[key.species[guise.species].genus] for guise in key.guises]
        self._readings: dict[int, Readings] = {}
        self.contrasts: dict[tuple[int, int, int], Any] = {}  # what reach.contrast worked out before
        self.clues: dict[tuple[Answer, ...], Any] = {}  # what posterior.weigh worked out before
        self.tails: dict[tuple[Answer, ...], float | None] = {}  # what fit.lower_tail worked out before
        self.oddest: dict[tuple[Answer, ...], float] = {}  # … and fit.oddest
        self.layouts: dict[int, Any] = {}  # what gains sorted before, by character
        self.arrays: Any = None  # what gains_by_array made of the whole key

    @property
    def doubting(self) -> Tables:
        """The same key under the same eye, for an observer who errs far more often."""
        if self._doubting is None:
            more = self.assumptions._replace(error_factor=self.assumptions.doubt_factor, doubt=0.0)
            self._doubting = Tables(self.key, self.eye, more, many=self.many)
        return self._doubting

    def forget(self) -> None:
        """Forget what was worked out for answers, before it fills the memory."""
        for one in (self, self._doubting):
            if one is not None:
                one.clues.clear()
                one.tails.clear()
                one.oddest.clear()

    def readings(self, character: Character) -> Readings:
        """What may be reported of a character; for a number in steps by eye."""
        found = self._readings.get(character.index)
        if found is None:
            if character.is_number:
                found = foreseen_numbers(self._kin, character, self.eye, self.assumptions)
            else:
                found = state_readings(character, self.eye, self.assumptions)
            self._readings[character.index] = found
        return found

    def likelihoods(self, answer: Answer) -> tuple[list[float], float]:
        """L(answer | guise) for every guise, and L(answer | outside): 1/K per state, 1/range for a number."""
        character = self.key.characters[answer.character]
        if character.is_number:
            values = number_likelihoods(self._kin, character, answer, self.eye, self.assumptions)
            chance = by_chance(character, answer, self.assumptions)
        else:
            readings = self.readings(character)
            chance = len(answer.states) / len(character.states)
            of_row = readings.within(answer.states)
            values = [of_row[row] for row in readings.row_of]
        if answer.unsure:
            share = self.assumptions.unsure
            values = [(1 - share) * value + share * chance for value in values]
        return values, chance

    def likelihood_of_number(self, answer: Answer, guise: int) -> float:
        """L(answer | guise) for one guise and a number, which is quicker than for all."""
        character = self.key.characters[answer.character]
        value = number_likelihood_of_one(self._kin, character, answer, self.eye, self.assumptions, guise)
        if not answer.unsure:
            return value
        share = self.assumptions.unsure
        return (1 - share) * value + share * by_chance(character, answer, self.assumptions)
