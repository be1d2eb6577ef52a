"""When one species answers to a typed name and could still be the wrong one, and which others it could be.

Plain words such as a colour and the word of a family are how people say what they saw, before they look for the
insect's name. Where only some rarity answers to them, through another of its names or with a word left out between, the
commoner ones are meant as often.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from reedmace.keys.model import Key, Species
from reedmace.keys.name_fits import (
    all_names,
    beginnings,
    close_beginnings,
    english_name,
    fitting,
    initials,
    joined,
    main_names,
    part_initials,
    together,
    whole,
    whole_words,
    words_of,
)

_RARER = 5  # times, where each is commonest: what is as much rarer would be named in full


def commonest_first(key: Key, species: Iterable[int]) -> tuple[int, ...]:
    """These species by how common they are where they are commonest, then in the key's order."""
    return tuple(sorted(species, key=lambda index: (-_common(key, index), index)))


def likeliest_first(key: Key, words: Iterable[str], species: Iterable[int]) -> tuple[int, ...]:
    """The same, after those whose initials begin with the two letters that were typed."""
    typed = tuple(words)
    ordered = commonest_first(key, species)
    first = begun_initials(key, typed[0]) if len(typed) == 1 and len(typed[0]) == 2 else set()
    return (*(one for one in ordered if one in first), *(one for one in ordered if one not in first))


def begun_initials(key: Key, letters: str) -> set[int]:
    """The species whose initials begin so: "gr" for a name of a joined word that has them."""
    return {
        species.index
        for species in key.species
        if any("".join(word[0] for word in split(species.english)).startswith(letters) for split in (words_of, joined))
    }


def plainly(key: Key, words: Iterable[str], found: Iterable[int]) -> int | None:
    """The one of several that the words mean plainly: they begin its English name, which the others only lengthen.

    "Blue-tailed" is no Scarce Blue-tailed Damselfly, as nobody who saw that would leave the first word out; but
    "red-eyed" may be either, for Small Red-eyed Damselfly is as common.
    """
    typed, several = tuple(words), tuple(found)
    for index in several:
        name = words_of(key.species[index].english)
        others = [key.species[other] for other in several if other != index]
        lengthened = all(words_of(other.english)[-len(name) :] == name for other in others)
        if name[: len(typed)] == typed and lengthened:
            common = _common(key, index)
            return index if all(_common(key, other.index) * _RARER <= common for other in others) else None
    return None


def in_doubt(key: Key, words: tuple[str, ...], found: int) -> tuple[int, ...]:
    """What the words could mean beside the one species that they fit, the commonest first; empty where it is sure."""
    species = key.species[found]
    if any(whole(words, words_of(name)) for name in main_names(species)):
        return ()
    others = _sharing(key, words, found)
    if any(whole(words, words_of(name)) for name in all_names(species)):
        # Another name typed whole is meant, but for two plain words of others' names ("blue" and "chaser").
        plain = len(words) == 2 and all(_owners(key, word, english_name, found) for word in words)
        return others if plain and not _is_commonest(key, found, others) else ()
    if len(words) == 1:
        return _short(key, words, found)
    if any(together(words, words_of(name)) for name in main_names(species)) or _joined_initials(words, species):
        return ()
    by_main = any(beginnings(words, words_of(name)) for name in main_names(species))
    if by_main:
        # With a word left out between: sure where one of the words is no other's.
        return () if any(not _owners(key, word, main_names, found) for word in words) else others
    if any(not _owners(key, word, all_names, found) for word in words):
        return ()
    # "Common" before a name adds nothing to it: the rest begins the English name.
    return () if close_beginnings((*words[1:], ""), words_of(species.english)) else others


def _joined_initials(words: tuple[str, ...], species: Species) -> bool:
    """`bt sk`: one of the words is the initials of a joined word, and not merely its beginning."""
    name = joined(species.english)
    parts = {"".join(part[:1] for part in one.split("-")) for one in name if "-" in one}
    return part_initials(words, name) and any(word in parts for word in words)


def _short(key: Key, words: tuple[str, ...], found: int) -> tuple[int, ...]:
    """Two letters mean a species by its initials only; by a word that begins so they are asked about."""
    species = key.species[found]
    if len(words[0]) > 2 or any(initials(words, split(species.english)) for split in (words_of, joined)):
        return ()
    if any(whole_words(words, words_of(name)) for name in all_names(species)):
        return ()
    could_be = fitting(key, words, beginnings, all_names) | begun_initials(key, words[0]) | {found}
    return likeliest_first(key, words, could_be)


def _sharing(key: Key, words: tuple[str, ...], found: int) -> tuple[int, ...]:
    """The species found and those that share the typed words, by the last one that others have in their names."""
    for word in reversed(words):
        bearers = fitting(key, (word,), whole_words, english_name) or fitting(key, (word,), beginnings, english_name)
        if bearers - {found}:
            return commonest_first(key, bearers | {found})
    return (found,)


def _owners(key: Key, word: str, names: Callable[[Species], Iterable[str]], besides: int) -> set[int]:
    """The other species with a word that begins so in their names."""
    return {
        species.index
        for species in key.species
        if species.index != besides and any(one.startswith(word) for name in names(species) for one in words_of(name))
    }


def _is_commonest(key: Key, found: int, others: tuple[int, ...]) -> bool:
    return all(_common(key, found) >= _common(key, other) for other in others)


def _common(key: Key, index: int) -> float:
    return max(key.species[index].abundance, default=0.0)
