"""Which characters are left to be asked: not answered yet, and not of something that was said not to be there."""

from __future__ import annotations

from collections.abc import Iterable

from reedmace.keys.answers import Answer
from reedmace.keys.model import Character, Key


def left_to_ask(key: Key, answers: Iterable[Answer]) -> list[Character]:
    """The characters that may still be asked, in the key's order.

    What colour the stripes are is no question once there are none; an unsure "none" leaves it open.
    """
    given = {answer.character: answer for answer in answers}
    return [one for one in key.characters if one.index not in given and not _nothing_there(key, one, given)]


def _nothing_there(key: Key, character: Character, given: dict[int, Answer]) -> bool:
    """Whether what it is about was said not to be there, or that in turn by which it is."""
    if character.needs is None:
        return False
    needed = key.characters[character.needs]
    answer = given.get(needed.index)
    if answer is None:
        return _nothing_there(key, needed, given)
    return bool(answer.states) and not answer.unsure and all(needed.states[at].absent for at in answer.states)
