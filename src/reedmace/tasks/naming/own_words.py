"""What is said in the conversation in somebody's own words: a date or water by itself, a size, a name, a whole look."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.keys.group_marks import marks_of_group
from reedmace.keys.hints import SEXES, habitat_called, other_stage, sexing, when_where
from reedmace.keys.matching import character_names, either_or, fold, near_misses, state_names
from reedmace.keys.model import Character, Key
from reedmace.keys.names import FoundName, named
from reedmace.keys.regions import regions_called, without_article
from reedmace.keys.remarks import remarked
from reedmace.keys.spoken import Heard, heard
from reedmace.keys.spoken_vocabulary import one_off
from reedmace.places.place import read_place
from reedmace.tasks.naming.conversation_state import State
from reedmace.tasks.naming.conversation_words import DO
from reedmace.tasks.naming.replies import Choices, Note, Reply
from reedmace.tasks.naming.sizes import compared, size_alone, size_within
from reedmace.tasks.shared.dates import read_time_of_year

WHOLE = 3  # words from which a line may be a whole look, and letters of a word from which it may be a slip
# Words that a beginner says often and that are a letter away from a word of a key: no slip.
_ORDINARY = frozenset(
    (
        *("back", "way", "fast", "every", "time", "first", "tent", "sunny", "think", "three", "high"),
        *("year", "early"),
    )
)


def said_outright(state: State, text: str) -> tuple[State, tuple[Reply, ...]] | None:
    """What needs no question: `July`, `garden pond`, `35 mm`; and the sex, which is read off marks. Else None."""
    plain = " ".join(text.casefold().split())
    if plain in SEXES and (marks := [one.id for one in sexing(state.key)]):
        return state, (Note(f"Male or female is read off its marks: type  {either_or(marks)}  to be asked."),)
    if habitat_called(state.key, plain):
        return DO["habitat"](state, plain)
    if regions_called(state.key, plain):
        return DO["where"](state, without_article(text))
    if _is_date(state, plain):
        return DO["when"](state, text.strip())
    if any(map(str.isdecimal, plain)) and not isinstance(read_place(text), Fault):
        return DO["where"](state, text.strip())
    return size_alone(state, plain)


def own_words(state: State, text: str) -> tuple[State, tuple[Reply, ...]] | None:
    """A whole look, "red one on the path in October": what its parts could be. None where none of it is understood.

    A name that is no description is told apart: names come last.
    """
    key = state.key
    aside = remarked(key, text)
    if aside.told and not aside.rest:
        return state, (Note(" ".join(aside.told)),)
    where = _place_in(aside.rest)
    plain = aside.rest.replace(where, " ") if where else aside.rest
    plain, size, measure = size_within(key, plain)
    plain = plain.replace(size, " ") if size else plain
    options = when_where(key, plain)
    said_apart = frozenset(word for part in options for word in part.split())
    order = tuple(look.character for look in state.named.assessment.looks.looks)
    found = heard(key, plain, said_apart, order)
    found = found._replace(unread=tuple(part for part in found.unread if not aside.words.issuperset(part.split())))
    said = [
        option.removeprefix("--").replace("date", "when", 1).replace("place", "where", 1).replace('"', "")
        for option in options.values()
    ]
    said += [f"where {where}"] if where else []
    said += [measure] if measure else []
    to_type = tuple(dict.fromkeys((*said, *(question.id for question in found.questions))))
    called = found.names if not (found.answers or to_type or found.left) else ()
    name = named(key, text)
    if called or (
        name is not None and not aside.told and (found.unread or not found.answers or _in_full(key, name, text))
    ):
        name = name or next((one for part in called if (one := named(key, part))), None)
        told = called[0] if len(called) == 1 and fold(called[0]) != fold(text) else text.strip()
        note = f'"{told}" is a name, and names come last: say what you saw of it.'
        if marks := " or ".join(mark.id for mark in marks_of_group(key, told)):
            note += f" What makes it one is asked by  {marks} ."
        if state.named.assessment.after.clues and name is not None:
            note += f" How it stands so far:  why {name.typed.strip()}"
        return state, (Note(note),)
    shown = [mark.id for mark in _of_groups(key, found)]
    to_type = tuple(dict.fromkeys((*to_type, *shown)))
    unread = tuple(_perhaps(key, word) for word in found.unread)
    several = len(found.parts) > 1
    notes = (
        *aside.told,
        *_told_apart(key, found, shown),
        *compared(key, plain),
        *_of_stages(key, plain),
        *(_hidden(found) if several else ()),
    )
    if not (found.answers or to_type or notes or any(word.endswith("?)") for word in unread)):
        return None
    if not (found.answers or to_type or unread) and (len(notes) == 1 or aside.told):
        return state, (Note(" ".join(notes)),)
    others = 0 if several else sum(count for _, count in found.hidden)
    put = Choices(text, state.named, found.answers, others, to_type, unread, notes)
    return state._replace(choices=found.answers, typing=to_type, offered=text.strip()), (put,)


def whole_look(state: State, text: str) -> tuple[State, tuple[Reply, ...]] | None:
    """A line that plainly is a look of several parts, and not all about the question put; else None."""
    if len(text.split()) < WHOLE:
        return None
    own = own_words(state._replace(open=None), text)
    put = own[1][0] if own else None
    if not isinstance(put, Choices):
        return None
    here = {answer.typed for answer in put.answers if answer.character == state.open}
    parts = {answer.typed for answer in put.answers} | {line for line in put.to_type if " " in line}
    return own if len(parts) > 1 and parts - here else None


def _place_in(text: str) -> str:
    """A grid reference within a line, as it was typed; else nothing."""
    for match in re.finditer(r"\b[A-Za-z]{1,2} ?[0-9]{2,5}(?: ?[0-9]{2,5})?\b", text, re.ASCII):
        if match[0] != text.strip() and not isinstance(read_place(match[0]), Fault):
            return match[0]
    return ""


def _told_apart(key: Key, found: Heard, shown: Sequence[str]) -> tuple[str, ...]:
    """What was understood and is no answer: slips, names, the sex, what was denied or not seen."""
    notes = [f'"{typed}" was read as "{read}".' for typed, read in found.slips]
    if found.names:
        told = f" What makes it one is asked by  {'  and  '.join(shown)} ." if shown else ""
        notes.append(f"Names come last and are no marks: {', '.join(found.names)}.{told}")
    if found.sexed and (marks := [one.id for one in sexing(key)]):
        notes.append(f"Male or female is read off its marks: type  {either_or(marks)}  to be asked.")
    if found.left:
        notes.append(f"Left out, since it was denied, compared or not seen: {', '.join(found.left)}.")
    return tuple(notes)


def _hidden(found: Heard) -> tuple[str, ...]:
    """That parts could mean more than is put: each by itself shows all of it."""
    told = [f'"{said}" ({count})' for said, count in found.hidden]
    return (f"More readings, each shown when typed by itself: {', '.join(told)}.",) if told else ()


def _of_groups(key: Key, found: Heard) -> tuple[Character, ...]:
    """The marks that show what was only named, a "damselfly", but for those of which something was said."""
    said = {answer.character for answer in found.answers}
    marks = {mark.index: mark for name in found.names for mark in marks_of_group(key, name)}
    return tuple(mark for index, mark in marks.items() if index not in said)


def _of_stages(key: Key, text: str) -> tuple[str, ...]:
    """What is said of cast skins and larvae where the key names adults."""
    words = re.findall("[a-z]+", text.casefold())
    parts = [" ".join(words[at : at + count]) for count in (2, 1) for at in range(len(words) - count + 1)]
    told = next((hint for part in parts if (hint := other_stage(key, part))), "")
    return (f"{told[0].upper()}{told[1:]} .",) if told else ()


def _perhaps(key: Key, word: str) -> str:
    """A word that means nothing here, with the words of questions and states that it is a slip away from."""
    if word in _ORDINARY or len(word) < WHOLE:
        return word
    questions = {name for one in key.characters for name in character_names(one)}
    states = {name for one in key.characters for state in one.states for name in state_names(state)}
    # Only a letter more or less: another letter makes another word too easily.
    near = sorted(name for name in states if name[0] == word[0] and len(name) != len(word) and one_off(word, name))
    near = near or near_misses(fold(word), (name for name in questions if abs(len(name) - len(word)) < 2))
    return f"{word} (did you mean {either_or(near)}?)" if near else word


def _in_full(key: Key, name: FoundName, text: str) -> bool:
    return any(fold(key.species[index].english) == fold(text) for index in name.species)


def _is_date(state: State, plain: str) -> bool:
    if not any(sign.isalpha() for sign in plain) and not re.fullmatch(r"[0-9]{4}-[0-9]{2}(-[0-9]{2})?", plain):
        return False
    read = read_time_of_year(plain, state.today)
    return not isinstance(read, Fault) or read.code == "impossible-date"
