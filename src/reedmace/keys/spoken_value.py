"""A value of one character in somebody's own words: "not closed", "flat and not closed", "everything but red"."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.keys.matching import find_states
from reedmace.keys.model import Character
from reedmace.keys.spoken_words import DENIED, IS, JOINING, SEEN, stretches


def states_said(character: Character, text: str) -> tuple[int, ...]:
    """The states that are left: those said, without those denied; of a denial alone all others. None is no answer.

    Nothing is taken where a part of it means nothing, or could mean several things.
    """
    said: set[int] = set()
    denied: set[int] = set()
    if not all(map(str.strip, text.split("/"))):
        return ()
    for stretch in stretches(text.replace("/", ", "), frozenset()):
        words = stretch.words[1:] if stretch.kind == DENIED else stretch.words
        plain = " ".join(word for word in words if word != IS and word not in JOINING)
        found = find_states(character, plain) if plain else None
        if found is None or isinstance(found, Fault) or stretch.kind not in (SEEN, DENIED):
            return ()
        (denied if stretch.kind == DENIED else said).update(found)
    others = set(range(len(character.states))) if denied else set()
    return tuple(sorted((said or others) - denied))
