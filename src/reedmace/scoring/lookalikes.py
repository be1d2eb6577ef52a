"""Look-alikes: which species must be told apart from the best one, and whether the answers do it.

Two are separated when the evidence without prior (best guise against best guise) is strong enough and rests on
two differing answers that are no echoes of each other, or on one that the key marks as deciding. A look-alike
that the key does not describe is separated only by an answer that decides. One that is a thousand times less
likely here and now (by place, season and habitat) is named but need not be separated.
"""

from typing import NamedTuple

from reedmace.keys.model import Key, Lookalike
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables

DECIBANS = 10 / 2.302585092994046  # decibans in a nat (10 / ln 10)


class Rival(NamedTuple):
    """A look-alike of the best species: `species` is its number, or None when the key does not describe it.

    `separated` by the answers; `excused` because it is far too unlikely here and now; `entry` is what the
    key says about the pair, None when only the other species names this one.
    """

    name: str
    species: int | None
    undescribed: int | None
    entry: Lookalike | None
    separated: bool
    excused: bool

    @property
    def caps(self) -> bool:
        """True while this look-alike keeps the verdict from being settled."""
        return not (self.separated or self.excused)


def best_guise(key: Key, after: Posterior, species: int) -> int:
    """The guise of a species with the strongest evidence, without prior; the first of equals."""
    return max(key.species[species].guises, key=lambda guise: after.logs[guise])


def rivals(tables: Tables, before: Prior, after: Posterior, best: int) -> tuple[Rival, ...]:
    """All look-alikes of species `best` that matter to the guise it most likely is, in the key's order."""
    key = tables.key
    species = key.species[best]
    mine = likeliest_guise(key, after, best)
    found: dict[str, Rival] = {}
    for entry in species.lookalikes:
        if entry.guises and key.guises[mine].id not in entry.guises:
            continue
        decided = _decided(key, entry, after)
        found[entry.name] = _rival(tables, before, after, best, entry.name, entry, decided)
    for other in (key.species[number] for number in species.named_by):
        for entry in other.lookalikes:
            if entry.species != best or other.name in found:
                continue
            theirs = likeliest_guise(key, after, other.index)
            if entry.guises and key.guises[theirs].id not in entry.guises:
                continue
            found[other.name] = _rival(tables, before, after, best, other.name, None, decided=False, other=other.index)
    return tuple(found.values())


def likeliest_guise(key: Key, after: Posterior, species: int) -> int:
    """The most probable guise of a species."""
    return max(key.species[species].guises, key=lambda guise: after.guises[guise])


def _rival(
    tables: Tables,
    before: Prior,
    after: Posterior,
    best: int,
    name: str,
    entry: Lookalike | None,
    decided: bool,
    other: int | None = None,
) -> Rival:
    species = entry.species if entry else other
    undescribed = entry.undescribed if entry else None
    if species is not None:
        weight = before.raw[species]
        separated = _separated(tables, after, best, species, decided)
    else:
        weight = before.undescribed[undescribed] if undescribed is not None else 0.0
        separated = decided
    excused = weight < tables.assumptions.excused * before.raw[best]
    return Rival(name, species, undescribed, entry, separated, excused)


def _decided(key: Key, entry: Lookalike, after: Posterior) -> bool:
    """True when one sure answer lies within the states that the key names as deciding."""
    return any(
        not answer.unsure and answer.states and set(answer.states) <= set(states)
        for clue in after.clues
        for answer in clue.answers
        if (states := entry.decided_by.get(key.characters[answer.character].id)) is not None
    )


def _separated(tables: Tables, after: Posterior, best: int, other: int, decided: bool) -> bool:
    key = tables.key
    mine, theirs = best_guise(key, after, best), best_guise(key, after, other)
    weights = [(clue.logs[mine] - clue.logs[theirs]) * DECIBANS for clue in after.clues]
    if sum(weights) < tables.assumptions.separation:
        return False
    return decided or sum(weight >= tables.assumptions.differing for weight in weights) >= 2
