"""Insects described from the key itself, and what the verdict makes of them.

Two questions are asked of a key. What does a complete and true description of each guise come to, with every
mark that can be seen at a look? And who comes first when a short description holds one wrong answer?
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Character, Guise, Key, Species
from reedmace.scoring.assessment import Assessment, assess
from reedmace.scoring.looknext import gains_over_all
from reedmace.scoring.posterior import posterior
from reedmace.scoring.prior import Circumstances, Prior, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import NARROWED, SETTLED, judge, ranked

REGULAR = ("abundant", "common", "local", "scarce", "rare")
SEEN = ("glance", "look")
FEW = 6  # a wider group is no partnership: only the three likeliest stand for the species then


def regular(species: Species) -> bool:
    """Whether it lives somewhere in the area of the key, not only as a stray."""
    return any(level in REGULAR for level in species.more.levels.values())


def at_home(key: Key, species: Species) -> Circumstances:
    """Where it is commonest, in the middle of its peak, at its own water."""
    region = max(range(len(key.regions)), key=lambda one: species.abundance[one])
    assert species.flight is not None
    habitat = next(habitat for habitat, how in species.habitats.items() if how == "main")
    return Circumstances((region,), (species.flight[1] + species.flight[2]) // 2, habitat)


def described(key: Key, guise: int) -> list[tuple[Character, int]]:
    """Every character seen at a glance or a look that the guise shows and the key describes, with its usual state."""
    found = []
    for character in key.characters:
        if character.effort in SEEN and not character.is_number and 0 <= character.column[guise] < character.described:
            shares = character.cells[character.column[guise]]
            found.append((character, shares.index(max(shares))))
    return found


def complete(key: Key, guise: int) -> list[Answer]:
    """The complete and true description of a guise, as far as a look goes."""
    return [Answer(character.index, "", (state,)) for character, state in described(key, guise)]


class Told(NamedTuple):
    """A guise completely described, and what became of it."""

    species: Species
    guise: Guise
    found: Assessment

    @property
    def settled_on_another(self) -> bool:
        """The one thing that must not happen."""
        verdict = self.found.verdict
        return verdict.word == SETTLED and verdict.members != (self.species.index,)

    @property
    def narrowed_rightly(self) -> bool:
        """Left among several, itself among them."""
        verdict = self.found.verdict
        return verdict.word == NARROWED and self.species.index in verdict.members


def all_described(key: Key, eye: str) -> Iterator[Told]:
    """Every guise of every regular species, completely described at home."""
    tables = Tables(key, eye)
    for species in key.species:
        if regular(species):
            circumstances = at_home(key, species)
            for guise in species.guises:
                yield Told(species, key.guises[guise], assess(tables, circumstances, complete(key, guise)))


class Ranked(NamedTuple):
    """Shares of runs with the right species (or one that a look cannot tell from it) first, and among three."""

    runs: int
    first: float
    among_three: float
    itself_first: float
    misled: list[tuple[str, int]]


def one_wrong_in_eight(key: Key, runs: int, seed: int) -> Ranked:
    """Short descriptions on flat priors: eight answers in the order of look next, one of them wrong at random.

    Species are drawn evenly and guises by their share. The answers are the usual states of what is seen at a
    glance or a look. Partners are the species that the complete description leaves possible.
    """
    tables = Tables(key, "beginner")
    flat = prior(key, Circumstances(flat=True))
    partners: dict[int, set[int]] = {}
    chance, counted, misled = Random(seed), Counter[str](), Counter[str]()
    for _ in range(runs):
        species = chance.choice(key.species)
        guise = chance.choices(species.guises, [key.guises[one].share for one in species.guises])[0]
        if guise not in partners:
            partners[guise] = _partners(tables, flat, guise)
        left = {character.index: state for character, state in described(key, guise)}
        wrong, answers = chance.randrange(8), list[Answer]()
        while len(answers) < 8 and left:
            gains = gains_over_all(tables, posterior(tables, flat, answers), answers)
            looks = [look for look in gains if look.character in left]
            if not looks:
                break
            best = max(looks, key=lambda look: (look.gain / look.effort, -look.character))
            character = key.characters[best.character]
            state = left.pop(character.index)
            if len(answers) == wrong:
                state = chance.choice([other for other in range(len(character.states)) if other != state])
            answers.append(Answer(character.index, "", (state,)))
        weights = posterior(tables, flat, answers).species
        order = sorted(range(len(weights)), key=lambda one: -weights[one])
        counted["first"] += order[0] in partners[guise]
        counted["three"] += bool(set(order[:3]) & partners[guise])
        counted["itself"] += order[0] == species.index
        if order[0] not in partners[guise]:
            misled[f"{key.species[order[0]].english} for {species.english}, {key.guises[guise].title}"] += 1
    shares = [counted[what] / runs for what in ("first", "three", "itself")]
    return Ranked(runs, *shares, misled.most_common(10))


def _partners(tables: Tables, flat: Prior, guise: int) -> set[int]:
    """The species that a look cannot tell from this guise, and its own."""
    after = posterior(tables, flat, complete(tables.key, guise))
    verdict = judge(tables, flat, after)
    named = list(verdict.members) if len(verdict.members) <= FEW else ranked(after)[:3]
    return {*named, tables.key.guises[guise].species}
