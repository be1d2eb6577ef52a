"""An answer in words: as a person would say it, and as a trait that can be typed again."""

from __future__ import annotations

from reedmace.keys.answers import Answer
from reedmace.keys.matching import fold
from reedmace.keys.model import Character, Key


def say_answer(character: Character, answer: Answer) -> str:
    """An answer in plain words."""
    if answer.says_nothing:
        said = "can't tell"
    elif answer.low is not None and answer.high is not None:
        number = f"{answer.low:g}" if answer.low == answer.high else f"{answer.low:g} to {answer.high:g}"
        said = f"{number} {character.unit}"
    else:
        said = " or ".join(character.states[state].title for state in answer.states)
    return f"{said} (unsure)" if answer.unsure else said


def in_brackets(character: Character, answer: Answer) -> str:
    """An answer in plain words and in brackets, with none inside these."""
    return f"({say_answer(character, answer).replace(' (', ', ').replace(')', '')})"


def in_own_words(character: Character, answer: Answer) -> bool:
    """True where states were typed, and otherwise than by their own ids or titles."""
    value = answer.typed.rpartition("=")[2].strip().removesuffix("~")
    own = {
        fold(word) for state in answer.states for word in (character.states[state].id, character.states[state].title)
    }
    return bool(own) and fold(value) not in own and any(fold(part) not in own for part in value.split("/"))


def trait_text(key: Key, answer: Answer) -> str:
    """An answer as a trait that can be typed again: `spur=present~`."""
    character = key.characters[answer.character]
    if answer.says_nothing:
        value = "cant-tell"
    elif answer.low is not None and answer.high is not None:
        value = f"{answer.low:g}" if answer.low == answer.high else f"{answer.low:g}-{answer.high:g}"
        value += character.unit + (f":{answer.instrument}" if answer.instrument != "eye" else "")
    else:
        value = "/".join(character.states[state].id for state in answer.states)
    return f"{character.id}={value}{'~' if answer.unsure else ''}"
