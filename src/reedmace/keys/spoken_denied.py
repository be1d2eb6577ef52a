"""What was denied, "no bar", "no spots on the wings": the states for there being nothing that it could be."""

from __future__ import annotations

import re

from reedmace.keys.answers import Answer
from reedmace.keys.hints import singular
from reedmace.keys.matching import character_names, fold, state_names
from reedmace.keys.model import EFFORTS, Character, Key
from reedmace.keys.spoken_vocabulary import Words

LONGEST = 4  # words of one part
# What may be said of many a mark, wherever it is.
_SPOTS = frozenset(("spot", "mark", "marking", "patch", "patche", "dot", "blotch"))


def denied(words: Words, said: list[str]) -> tuple[Answer, ...]:
    """The states for there being nothing, "no bar", "no dark patches on the wings"; none where there is no such."""
    whole = " ".join(said)
    key = words.key
    if said[0] == "never" and (never := words.exact("never")):  # "never landing", but not "never blue"
        about = {answer.character for answer in never}
        if all({answer.character for answer in words.exact(word)} <= about for word in said[1:]):
            return never
    for length in range(min(len(said), LONGEST), 1, -1):
        meant = words.exact(" ".join(said[:length]))
        if meant := tuple(one for one in meant if not _of_another(key, key.characters[one.character], said[length:])):
            return meant
    read = [words.read(word) for word in said[1:]]
    for length in range(min(len(read), LONGEST), 0, -1):
        for start in range(len(read) - length + 1):
            named = read[start : start + length]
            question = question_called(key, named)
            others = [*read[:start], *read[start + length :]]
            if (
                question
                and (none := _nothing(question))
                and all(_adds_nothing(words, question, word) for word in others)
            ):
                turned = not _as_named(question, named) and not _SPOTS.isdisjoint(map(singular, named))
                marks = [one for one in _spots_of(key, question.part) if turned and one != question]
                return (
                    *(Answer(one.index, whole, _nothing(one)) for one in marks),
                    Answer(question.index, whole, none),
                )
    if any(singular(word) in _SPOTS for word in read):
        parts = {one.part for one in key.characters} & set(read)
        return tuple(Answer(one.index, whole, _nothing(one)) for part in sorted(parts) for one in _spots_of(key, part))
    return ()


def question_called(key: Key, words: list[str]) -> Character | None:
    """The question called so, in this order of words or another: "spots on the wings" are wing spots."""
    wanted = sorted(map(singular, words))
    for character in key.characters:
        if any(wanted == sorted(map(singular, name.split("-"))) for name in character_names(character)):
            return character
    return None


def _as_named(question: Character, said: list[str]) -> bool:
    """Whether they are its name as it is: "wing spots", and not "spots on the wings", which many marks could be."""
    wanted = [singular(word) for word in said]
    return any(wanted == [singular(word) for word in name.split("-")] for name in character_names(question))


def _spots_of(key: Key, part: str) -> tuple[Character, ...]:
    """The questions of spots and patches on a part that need no close look and have a state for there being none."""
    looks = EFFORTS[: EFFORTS.index("look") + 1]
    return tuple(
        one
        for one in key.characters
        if one.part == part and one.effort in looks and _nothing(one) and _is_of_spots(one)
    )


def _is_of_spots(question: Character) -> bool:
    names = [*character_names(question), *(fold(state.title) for state in question.states)]
    return any(singular(word) in _SPOTS for name in names for word in re.split(r"[^\w]+", name))


def _nothing(question: Character) -> tuple[int, ...]:
    """The state for there being nothing to see, where it is called so: all-black legs are no absence of legs."""
    return tuple(
        at
        for at, state in enumerate(question.states)
        if state.absent and any({"no", "none", "nothing"} & set(name.split("-")) for name in state_names(state))
    )


def _of_another(key: Key, question: Character, said: list[str]) -> bool:
    """Whether another part of the insect is named: "no marks on the wings" says nothing of the abdomen."""
    parts = {singular(one.part) for one in key.characters} - {singular(question.part)}
    return not parts.isdisjoint(map(singular, said))


def _adds_nothing(words: Words, question: Character, word: str) -> bool:
    """True for a part of the insect, and for a word that fits all that can be there: "no broad stripes" may be thin."""
    if _of_another(words.key, question, [word]):
        return False
    there = {at for at, state in enumerate(question.states) if not state.absent}
    fits = {at for at in there if singular(word) in map(singular, state_names(question.states[at]))}
    return fits == there or (not fits and words.has_part(word))
