"""Groups of a key by what they are called: a title, a scientific name, or a word with "sp." (`darter sp.`)."""

from __future__ import annotations

from reedmace.keys.model import Group, Key
from reedmace.keys.name_fits import english_name, fitting, whole_words, words_of


def group_called(key: Key, words: list[str], *, said_so: bool) -> Group | None:
    """The group that is meant; with "sp." also by one word.

    A title is the whole group of that title. A word of titles is the smallest group with it in the title that holds
    every species with this word in its English name; where none does, the word means no group.
    """
    text = " ".join(words)
    titled = [
        group
        for group in key.groups
        if text in (" ".join(words_of(group.title)), " ".join(words_of(group.scientific or "")))
    ]
    if titled:
        return max(titled, key=lambda group: len(group.members))
    if not said_so or len(words) != 1:
        return None
    bearers = fitting(key, words, whole_words, english_name)
    holding = [group for group in _with_word(key, words[0]) if bearers <= group.members]
    return min(holding, key=lambda group: len(group.members), default=None)


def groups_with(key: Key, words: list[str]) -> tuple[Group, ...]:
    """Where a word means no single group: the widest groups with it in their title, then genera of what is left."""
    if len(words) != 1:
        return ()
    titled = _with_word(key, words[0])
    widest = [group for group in titled if not any(group.members < other.members for other in titled)]
    widest = list({group.members: group for group in widest}.values())
    if not widest:
        return ()
    held = {index for group in widest for index in group.members}
    left = {key.species[index].genus for index in fitting(key, words, whole_words, english_name) - held}
    return (*widest, *(group for group in key.groups if group.rank == "genus" and group.scientific in left))


def _with_word(key: Key, word: str) -> list[Group]:
    # Not a pair: its title holds the words of two names, so that "common sp." would be Common or Ruddy Darter.
    return [group for group in key.groups if group.rank != "pair" and word in words_of(group.title)]
