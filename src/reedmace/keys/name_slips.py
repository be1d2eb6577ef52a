"""Names typed with a slip (`ruddy dater`) or without their vowels (`ruddy drt`): what was nearly typed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice, product

from reedmace.faults import nearest
from reedmace.keys.matching import near_misses
from reedmace.keys.model import Key, Species
from reedmace.keys.name_doubts import commonest_first
from reedmace.keys.name_fits import all_names, beginnings, english_name, fitting, unvowelled, words_of

_MOST = 64  # ways to read the words of one name that are tried


def near_species(key: Key, words: Sequence[str]) -> tuple[int, ...]:
    """The species meant by words each of which begins a word of a name, or is a slip away from one."""
    ways = list(_ways(key, words))
    for names in (english_name, all_names):
        found = {index for way in ways for index in fitting(key, way, beginnings, names)}
        if found:
            return commonest_first(key, found)
    return ()


def _ways(key: Key, words: Sequence[str]) -> Iterable[tuple[str, ...]]:
    """The words typed, those that begin no word of a name by the words that they nearly are."""
    known = {word for species in key.species for name in all_names(species) for word in words_of(name)}
    near = [[word] if any(one.startswith(word) for one in known) else near_misses(word, known) for word in words]
    return islice(product(*near), _MOST)


def nearest_names(key: Key, words: Sequence[str], otherwise: str) -> str:
    """The hint for a name that nothing fits: what a slip would explain, else the names that look like it."""
    ways = list(_ways(key, words))
    near = [_called(key.species[one], ways) for one in near_species(key, words)]
    if not near:
        whole = {name: name for species in key.species for name in english_name(species)}
        # "lg red" is a slip for Large Red, without its "Damselfly".
        main = {name.rpartition(" ")[0]: name for name in whole if name.count(" ") > 1} | whole
        other = {
            name: f"{name} (the {species.english})"
            for species in key.species
            for name in (species.name, *species.aliases, *species.synonyms)
        }
        typed = " ".join(words)
        near = list(dict.fromkeys(main[name] for name in nearest(typed, main)))
        near += [other[name] for name in nearest(typed, other)]
    return f"did you mean {' or '.join(near[:3])}?" if near else otherwise


def _called(species: Species, ways: Sequence[tuple[str, ...]]) -> str:
    """A species by its English name, or by the other name that was nearly typed."""
    name = next(name for name in all_names(species) if any(beginnings(way, words_of(name)) for way in ways))
    return name if name == species.english else f"{name} (the {species.english})"


def with_vowels(key: Key, words: Sequence[str]) -> set[tuple[str, ...]]:
    """The words in full of English names that they fit, where one or more of them are written without their vowels."""
    found = set()
    for species in key.species:
        name = words_of(species.english)
        full: list[str] = []
        at = 0
        for word in words:
            fits = [i for i in range(at, len(name)) if name[i].startswith(word) or unvowelled(word, name[i])]
            if not fits:
                break
            full.append(name[fits[0]])
            at = fits[0] + 1
        if len(full) == len(words) and any(not one.startswith(word) for word, one in zip(words, full, strict=True)):
            found.add(tuple(full))
    return found
