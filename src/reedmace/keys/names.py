"""Finding what a name means: any unambiguous part of an English or scientific name, old ones included.

A whole name beats whole words, whole words beat beginnings of words, and those beat initials ("lrd"); of
beginnings, those of the name's first words one after another ("s haw") beat others. Where several species answer
alike, the name is ambiguous and all of them are told. `a/b` names a pair that could not be split; a genus, a family
or a trade group may be named too ("darter sp.").
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import NamedTuple

from reedmace.faults import Fault, did_you_mean
from reedmace.keys.model import Group, Key, Species

# "4-spotted" is as good as "Four-spotted".
_NUMBERS = {"1": "one", "2": "two", "3": "three", "4": "four", "5": "five", "6": "six", "7": "seven", "8": "eight"}


class FoundName(NamedTuple):
    """What a typed name means: one species, several that were not split, or a group.

    `others` are species the key does not describe that were not excluded either.
    """

    typed: str
    species: tuple[int, ...]
    group: Group | None = None
    others: tuple[int, ...] = ()


def find_name(key: Key, typed: str) -> FoundName | Fault:
    """The species, pair or group meant by a typed name."""
    if "/" in typed:
        return _pair(key, typed)
    words = list(_words(typed))
    bare = [word for word in words if word not in ("sp", "spp", "species", "agg")]
    if not bare:
        return Fault("name-empty", "There is no name here.", "write a name, such as  common blue", typed, typed=True)
    said_so = len(bare) < len(words)
    found = set() if said_so else _fitting(key, bare, _whole, _names)
    group = None if found else _group(key, bare, said_so=said_so)
    if not (found or group):
        found = _species(key, bare)
    if len(found) == 1 and not said_so:
        return FoundName(typed, tuple(found))
    if group is not None:
        return FoundName(typed, tuple(sorted(group.members)), group)
    if len(found) > 1:
        names = [key.species[index].english for index in sorted(found)]
        shown = f"{', '.join(names[:6])}{' …' if len(names) > 6 else ''}"
        hint = f"write more of one of them: {shown}"
        if not said_so and _group(key, bare, said_so=True):
            hint += f"; or  {typed.strip()} sp.  for the group"
        return Fault("ambiguous-name", f'"{typed.strip()}" could be {len(names)} species.', hint, typed, typed=True)
    known = [name for species in key.species for name in _names(species)]
    hint = did_you_mean(" ".join(bare), known, "write any part of an English or scientific name")
    return Fault("unknown-name", f'Nothing in this key is called "{typed.strip()}".', hint, typed, typed=True)


def could_mean(key: Key, typed: str) -> tuple[int, ...]:
    """The species that an ambiguous name could mean, in the key's order, for asking which."""
    return tuple(sorted(_fits(key, typed)))


def key_words(key: Key) -> frozenset[str]:
    """Every word of the names in a key, as they are compared: lower case, plural endings dropped."""
    names = [name for species in key.species for name in _names(species)]
    names += [name for group in key.groups for name in (group.title, group.scientific or "")]
    return frozenset(word for name in names for word in _words(name))


def _pair(key: Key, typed: str) -> FoundName | Fault:
    parts = [part.strip() for part in typed.split("/")]
    # "azure/variable damselfly": the last part may carry the word that belongs to all.
    shared = parts[-1].partition(" ")[2]
    found = [find_name(key, part) for part in parts]
    if shared:
        longer = [find_name(key, f"{part} {shared}") for part in parts[:-1]]
        found[:-1] = [long if isinstance(long, FoundName) else one for long, one in zip(longer, found, strict=False)]
    genera = {key.species[index].genus for one in found if isinstance(one, FoundName) for index in one.species}
    species: list[int] = []
    for part, one in zip(parts, found, strict=True):
        # "azure/variable": of several Azures the one that could be taken for a Variable is meant.
        related = [] if isinstance(one, FoundName) else [i for i in _fits(key, part) if key.species[i].genus in genera]
        if isinstance(one, Fault) and len(related) != 1:
            return one._replace(said=typed)
        species += one.species if isinstance(one, FoundName) else related
    return FoundName(typed, tuple(dict.fromkeys(species)))


def _fits(key: Key, typed: str) -> set[int]:
    words = list(_words(typed))
    return _fitting(key, words, _whole, _names) or _species(key, words)


def _species(key: Key, words: list[str]) -> set[int]:
    """Species whose names fit best: by whole words, else by beginnings of words, else by initials.

    English names come before aliases and scientific names, so that a second English name never hides a first.
    """
    for names in (_english, _names):
        for fits in (_whole_words, _close_beginnings, _beginnings):
            found = _fitting(key, words, fits, names)
            if len(found) > 1 and fits is _beginnings and (longer := _only_word(key, words)):
                return _fitting(key, longer, _whole, _names) or found
            if found:
                return found
    return _fitting(key, words, _part_initials, _english, _joined) or _fitting(key, words, _initials, _english)


def _only_word(key: Key, words: list[str]) -> list[str] | None:
    """The one word of this key's names that a single typed word begins: "emp" is short for "emperor".

    Then it means what the full word would; "blu" begins "blue" and "bluetail", so it is not one word.
    """
    if len(words) != 1 or len(words[0]) < 2:
        return None
    begun = {word for species in key.species for name in _names(species) for word in _words(name)}
    begun = {word for word in begun if word.startswith(words[0])}
    return list(begun) if len(begun) == 1 else None


def _fitting(
    key: Key,
    words: list[str],
    fits: Callable[[tuple[str, ...], tuple[str, ...]], bool],
    names: Callable[[Species], Iterable[str]],
    split: Callable[[str], tuple[str, ...]] | None = None,
) -> set[int]:
    typed, split = tuple(words), split or _words
    return {species.index for species in key.species if any(fits(typed, split(name)) for name in names(species))}


def _names(species: Species) -> Iterable[str]:
    return (species.english, species.name, *species.aliases, *species.synonyms)


def _english(species: Species) -> Iterable[str]:
    return (species.english,)


def _whole(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    return typed == name


def _whole_words(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    return _in_order(typed, name, lambda one, other: one == other)


def _beginnings(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    # One letter alone could be anything; before another word it is a genus ("C. puella").
    return any(len(word) > 1 for word in typed) and _in_order(typed, name, lambda one, other: other.startswith(one))


def _close_beginnings(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    # Of two words or more only: one beginning alone ("blu") could belong to any word of a name.
    return 1 < len(typed) <= len(name) and all(
        whole.startswith(begun) for begun, whole in zip(typed, name, strict=False)
    )


def _part_initials(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    # "bt sk": a joined word ("black-tailed") by the initials of its parts, another by its beginning.
    return 1 < len(typed) <= len(name) and all(
        whole.startswith(begun) or begun == "".join(part[:1] for part in whole.split("-"))
        for begun, whole in zip(typed, name, strict=False)
    )


def _joined(name: str) -> tuple[str, ...]:
    return tuple(name.casefold().split())


def _initials(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    return len(typed) == 1 and len(typed[0]) > 1 and typed[0] == "".join(word[0] for word in name)


def _in_order(typed: tuple[str, ...], name: tuple[str, ...], same: Callable[[str, str], bool]) -> bool:
    at = 0
    for word in typed:
        while at < len(name) and not same(word, name[at]):
            at += 1
        if at == len(name):
            return False
        at += 1
    return True


def _group(key: Key, words: list[str], *, said_so: bool) -> Group | None:
    """A group by its title or scientific name; with "sp." also by one word of its title ("darter sp.")."""
    text = " ".join(words)
    for group in key.groups:
        if text in (" ".join(_words(group.title)), " ".join(_words(group.scientific or ""))):
            return group
    if said_so and len(words) == 1:
        # Not a pair: its title holds the words of two names, so that "common sp." would be Common or Ruddy Darter.
        wider = (group for group in key.groups if group.rank != "pair")
        return next((group for group in wider if words[0] in _words(group.title)), None)
    return None


@lru_cache(maxsize=4096)  # a key's names are looked through many times for each line
def _words(text: str) -> tuple[str, ...]:
    """Lower-case words, plural endings and hyphens dropped: `Red-eyed Damselflies` → red, eyed, damselfly."""
    plain = text.casefold().replace("’", "").replace("'", "")
    return tuple([_singular(_NUMBERS.get(word, word)) for word in re.split(r"[^\w]+", plain) if word])


def _singular(word: str) -> str:
    # Names and what is typed go through here alike, so that "lestes" loses its last letter on both sides.
    if word.endswith("flies"):
        return word[:-3] + "y"
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is", "as")) and word != "species":
        return word[:-1]
    return word
