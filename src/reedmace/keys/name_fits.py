"""How typed words fit a name: whole, by whole words, by beginnings of words, by initials."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import lru_cache

from reedmace.keys.model import Key, Species

# "4-spotted" is as good as "Four-spotted".
_NUMBERS = {"1": "one", "2": "two", "3": "three", "4": "four", "5": "five", "6": "six", "7": "seven", "8": "eight"}

Fits = Callable[[tuple[str, ...], tuple[str, ...]], bool]


def fitting(
    key: Key,
    words: Iterable[str],
    fits: Fits,
    names: Callable[[Species], Iterable[str]],
    split: Callable[[str], tuple[str, ...]] | None = None,
) -> set[int]:
    """The species of which one of these names fits the typed words."""
    typed, split = tuple(words), split or words_of
    return {species.index for species in key.species if any(fits(typed, split(name)) for name in names(species))}


def all_names(species: Species) -> Iterable[str]:
    """Every name of a species, old and other ones included."""
    return (species.english, species.name, *species.aliases, *species.synonyms)


def english_name(species: Species) -> Iterable[str]:
    """Its English name."""
    return (species.english,)


def main_names(species: Species) -> Iterable[str]:
    """Its English and its scientific name."""
    return (species.english, species.name)


def whole(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """The whole name."""
    return typed == name


def whole_words(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Whole words of the name, in their order."""
    return _in_order(typed, name, lambda one, other: one == other)


def beginnings(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Beginnings of its words, in their order."""
    # One letter alone could be anything; before another word it is a genus ("C. puella").
    return any(len(word) > 1 for word in typed) and _in_order(typed, name, lambda one, other: other.startswith(one))


def close_beginnings(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Beginnings of its first words, one after another."""
    # Of two words or more only: one beginning alone ("blu") could belong to any word of a name.
    return 1 < len(typed) <= len(name) and all(one.startswith(begun) for begun, one in zip(typed, name, strict=False))


def together(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Beginnings of words that stand one after another in the name, wherever they begin."""
    return any(
        all(one.startswith(begun) for begun, one in zip(typed, name[at:], strict=False))
        for at in range(len(name) - len(typed) + 1)
    )


def part_initials(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """`bt sk`: a joined word ("black-tailed") by the initials of its parts, another by its beginning."""
    return 1 < len(typed) <= len(name) and all(
        one.startswith(begun) or begun == "".join(part[:1] for part in one.split("-"))
        for begun, one in zip(typed, name, strict=False)
    )


def initials(typed: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """`lrd`: the initials of all its words."""
    return len(typed) == 1 and len(typed[0]) > 1 and typed[0] == "".join(word[0] for word in name)


def unvowelled(word: str, whole: str) -> bool:
    """`drt` for "darter": the first letter and others of the word in their order, none of them a vowel."""
    if len(word) < 3 or word[0] != whole[:1] or any(letter in "aeiou" for letter in word[1:]):
        return False
    letters = iter(whole)
    return all(letter in letters for letter in word)


def _in_order(typed: tuple[str, ...], name: tuple[str, ...], same: Callable[[str, str], bool]) -> bool:
    at = 0
    for word in typed:
        while at < len(name) and not same(word, name[at]):
            at += 1
        if at == len(name):
            return False
        at += 1
    return True


def joined(name: str) -> tuple[str, ...]:
    """The words of a name in lower case, joined words left whole."""
    return tuple(name.casefold().split())


@lru_cache(maxsize=4096)  # a key's names are looked through many times for each line
def words_of(text: str) -> tuple[str, ...]:
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
