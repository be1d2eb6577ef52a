"""What is said in the conversation in somebody's own words: a date or water by itself, a size, a name, a whole look."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.keys.answers import read_value
from reedmace.keys.hints import SEXES, habitat_called, sexing, when_where
from reedmace.keys.matching import character_names, fold, near_misses
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, named
from reedmace.keys.spoken import heard
from reedmace.places.place import read_place
from reedmace.tasks.naming.conversation_state import State, answered
from reedmace.tasks.naming.conversation_words import DO
from reedmace.tasks.naming.replies import Choices, Note, Reply, Wrong
from reedmace.tasks.shared.dates import read_time_of_year

_SIZE = re.compile(
    r"(?:about |around |roughly |some |~ ?)?([0-9][0-9.,–-]*(?: ?(?:to|-|–) ?[0-9][0-9.,]*)? ?[a-z\"]+)(?: long)?"
)


def said_outright(state: State, text: str) -> tuple[State, tuple[Reply, ...]] | None:
    """What needs no question: `July`, `garden pond`, `35 mm`; and the sex, which is read off marks. Else None."""
    plain = " ".join(text.casefold().split())
    if plain in SEXES and (marks := [one.id for one in sexing(state.key)]):
        return state, (Note(f"Male or female is read off its marks: type  {_or(marks)}  to be asked."),)
    if habitat_called(state.key, plain):
        return DO["habitat"](state, plain)
    if _is_date(state, plain):
        return DO["when"](state, text.strip())
    if any(map(str.isdecimal, plain)) and not isinstance(read_place(text), Fault):
        return DO["where"](state, text.strip())
    return _size(state, plain)


def own_words(state: State, text: str) -> tuple[State, tuple[Reply, ...]] | None:
    """A whole look, "red one on the path in October": what its parts could be. None where none of it is understood.

    A name that is no description is told apart: names come last.
    """
    options = when_where(state.key, text)
    aside = frozenset(word for part in options for word in part.split())
    order = tuple(look.character for look in state.named.assessment.looks.looks)
    found = heard(state.key, text, aside, order)
    said = [option.removeprefix("--").replace("date", "when", 1) for option in options.values()]
    to_type = (*said, *(question.id for question in found.questions))
    name = named(state.key, text)
    if name is not None and (found.unread or not found.answers or _in_full(state.key, name, text)):
        note = f'"{text.strip()}" is a name, and names come last: say what you saw of it.'
        if state.named.assessment.after.clues:
            note += f" How it stands so far:  why {text.strip()}"
        return state, (Note(note),)
    if not (found.answers or to_type):
        return None
    unread = tuple(_perhaps(state.key, word) for word in found.unread)
    put = Choices(text, state.named, found.answers, 0, to_type, unread)
    return state._replace(choices=found.answers), (put,)


def _perhaps(key: Key, word: str) -> str:
    """A word that means nothing here, with the questions that it is a slip away from."""
    near = near_misses(fold(word), (name for one in key.characters for name in character_names(one)))
    return f"{word} (did you mean {_or(near)}?)" if near else word


def _in_full(key: Key, name: FoundName, text: str) -> bool:
    return any(fold(key.species[index].english) == fold(text) for index in name.species)


def _is_date(state: State, plain: str) -> bool:
    if not any(sign.isalpha() for sign in plain) and not re.fullmatch(r"[0-9]{4}-[0-9]{2}(-[0-9]{2})?", plain):
        return False
    read = read_time_of_year(plain, state.today)
    return not isinstance(read, Fault) or read.code == "year-missing"


def _size(state: State, plain: str) -> tuple[State, tuple[Reply, ...]] | None:
    """A number with its unit, where the key measures one thing only."""
    measured = [one for one in state.key.characters if one.is_number]
    match = _SIZE.fullmatch(plain)
    if match is None or len(measured) != 1:
        return None
    answer = read_value(measured[0], match[1])
    if isinstance(answer, Fault):
        return (state, (Wrong(answer),)) if answer.code != "unknown-unit" else None
    return answered(state, answer)


def _or(words: list[str]) -> str:
    return " or ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} or {words[-1]}"
