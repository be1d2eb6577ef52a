"""What each word of command does in the conversation: `who`, `why`, `drop`, `when` ..."""

from __future__ import annotations

import re

from reedmace.faults import Fault, Refused
from reedmace.keys.answers import CANNOT_TELL, Answer
from reedmace.keys.matching import either_or, find_character, find_states, fold
from reedmace.keys.model import Character
from reedmace.keys.names import find_name
from reedmace.scoring.explain import why
from reedmace.tasks.naming.answer_words import say_answer
from reedmace.tasks.naming.choosing import not_taken
from reedmace.tasks.naming.conversation_state import State, asked, renamed, taken_back
from reedmace.tasks.naming.replies import (
    Against,
    Because,
    Final,
    Given,
    Help,
    Listing,
    Note,
    Reply,
    Running,
    Settling,
    Wrong,
)
from reedmace.tasks.shared.setting import area_said, find_habitat, read_setting

OFFERED = 3  # looks offered at a time
_NONE = {"none", "nothing", *CANNOT_TELL} - {"?"}  # of date, place and habitat: there is none to go by
COMMANDS = {
    "who": "who is in the running",
    "why": "why the first and not the second (or: why NAME)",
    "against": "what speaks against the first",
    "settle": "what would settle it",
    "questions": "every question there is",
    "answers": "what has been answered",
    "undo": "take back the last thing said; so does  back",
    "drop": "take back one answer: drop wings, or drop all",
    "start": "start again: forget every answer",
    "next": "ask the next of the looks that are offered",
    "change": "answer one question anew: change wings",
    "when": "say the date: when 2026-07-12, July or none",
    "where": "say the place: where SU 43 11, a region, or none",
    "habitat": "say the habitat: habitat pond, or habitat none",
    "done": "end with the verdict",
    "quit": "leave without a verdict",
    "help": "these words",
}


def _who(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Running(state.named),)


def _why(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    named = state.named
    candidates = named.assessment.candidates
    if not named.assessment.after.clues:
        return state, (Note("Nothing has been answered yet; so far only date, place and habitat speak."),)
    itself = ""
    rest = re.sub(r"^not\b\s*", "", rest, flags=re.IGNORECASE)
    one, other = candidates[0].species, candidates[1].species if len(candidates) > 1 else None
    if rest:
        found = find_name(state.key, rest)
        if isinstance(found, Fault):
            return state, (Wrong(found),)
        meant = [rival.species for rival in candidates[1:] if rival.species in found.species]
        other = meant[0] if meant else other
        if found.species == (one,):
            itself = f"{state.key.species[one].english} is the first itself; here it is held against its next rival."
    if other is None:
        return state, (Note("There is only one species in this key."),)
    assessment = named.assessment
    weights = why(named.tables, assessment.before, assessment.after, one, other)
    because = Because(named, one, other, weights)
    return state, (Note(itself), because) if itself else (because,)


def _against(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    assessment = state.named.assessment
    best = assessment.candidates[0].species
    worst: dict[int, tuple[Answer, float, int]] = {}
    for candidate in assessment.candidates[1:6]:
        for answer, weight in why(
            state.named.tables, assessment.before, assessment.after, best, candidate.species
        ).answers:
            if weight < -1 and weight < worst.get(answer.character, (answer, 0.0, 0))[1]:
                worst[answer.character] = (answer, weight, candidate.species)
    return state, (Against(state.named, tuple(sorted(worst.values(), key=lambda item: item[1]))),)


def _settle(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Settling(state.named),)


def _questions(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Listing(state.named),)


def _given(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Given(state.named),)


def _undo(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return taken_back(state) if state.past else (state, (Note("There is nothing to take back."),))


def _drop(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    if not rest:
        return _how("drop", state)
    if rest.casefold() in ("all", "everything") and state.answers:
        return renamed(state, (), "taken back: every answer")
    character = _answered_one(state, rest)
    if isinstance(character, Fault):
        return state, (Wrong(character),)
    kept = tuple(answer for answer in state.answers if answer.character != character.index)
    return renamed(state, kept, f"taken back: {character.title}")


def _change(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    if not rest:
        return _how("change", state)
    character = _answered_one(state, rest)
    return (state, (Wrong(character),)) if isinstance(character, Fault) else asked(state, character.index)


def _how(word: str, state: State) -> tuple[State, tuple[Reply, ...]]:
    """How a word is used that was typed alone."""
    return state, (Note(f"To {COMMANDS[word]}"),)


def _answered_one(state: State, rest: str) -> Character | Fault:
    """The character meant of those that were answered: by its own name, or by what was answered to it."""
    character = find_character(state.key, rest)
    given = {answer.character: answer for answer in state.answers}
    if isinstance(character, Fault) or character.index not in given:
        asked_of = [state.key.characters[index] for index in given]
        meant = [one for one in asked_of if _says(one, given[one.index], rest)]
        if len(meant) == 1:
            return meant[0]
        if meant:
            message = f'"{rest}" was answered to {len(meant)} questions.'
            hint = f"say which:  {either_or([one.id for one in meant])}"
            return Fault("ambiguous-character", message, hint, rest, typed=True)
    hint = "type  answers  to see what has been answered"
    if isinstance(character, Fault):
        unknown = character.code == "unknown-character" and not character.hint.startswith("did you mean")
        return character._replace(hint=hint) if unknown else character
    if all(answer.character != character.index for answer in state.answers):
        return Fault("not-answered", f'"{character.title}" has not been answered.', hint, rest, typed=True)
    return character


def _says(character: Character, answer: Answer, typed: str) -> bool:
    """Whether what was typed is what a character was answered with."""
    if fold(typed) in (fold(say_answer(character, answer)), fold(answer.typed)):
        return True
    states = () if character.is_number else find_states(character, typed)
    return not isinstance(states, Fault) and not {*answer.states}.isdisjoint(states)


def _start(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    """Begin anew, once it is said to be meant."""
    if rest.casefold() not in ("again", "over", "anew", "afresh"):
        return state, (Note("To forget every answer, and begin with another insect, type  start again ."),)
    if not state.answers:
        return state._replace(open=None), (Note("Nothing has been answered yet: say what you see."),)
    number = len(state.answers)
    what = "the answer" if number == 1 else f"all {number} answers"
    told = f"Forget {what} and begin again? yes or no. Date, place and habitat stay."
    return state._replace(open=None, asking="start"), (Note(told),)


def _begun_again(state: State, sure: bool) -> tuple[State, tuple[Reply, ...]]:
    if not sure:
        return state, (Note("Nothing was forgotten."),)
    following, replies = renamed(state, (), "begun again;  undo  brings the answers back")
    return following._replace(passed=()), replies


def _next(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    """The first look that is offered; behind the one that is asked, the one after it, and so round."""
    looks = [look.character for look in state.named.assessment.looks.looks[:OFFERED]]
    if not looks:
        return state._replace(open=None), (Note("Nothing is offered now; try  questions ."),)
    at = looks.index(state.open) + 1 if state.open in looks else 0
    return asked(state, looks[at % len(looks)])


def _when(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    return _set(state, rest, None)


def _where(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    return _set(state, None, rest)


def _set(state: State, when: str | None, where: str | None) -> tuple[State, tuple[Reply, ...]]:
    typed = when if when is not None else where
    if typed in (None, "", "?"):
        return _how("when" if when is not None else "where", state)
    if _says_none(typed):
        return _cleared(state, "date" if when else "place")
    try:
        read = read_setting(state.key, when, where, None, today=state.today)
    except Refused as refused:
        return state, tuple(Wrong(fault) for fault in refused.faults)
    old = state.setting
    setting = old._replace(date=read.date or old.date)
    if read.place or read.area:
        setting = setting._replace(place=read.place, regions=read.regions, area=read.area)
    said = []
    if when and setting.date:
        said.append(f"date {setting.date.iso}" + (f" ({setting.date.assumed})" if setting.date.assumed else ""))
    if where and read.place:
        regions = ", ".join(region.title for region in read.regions)
        said.append(f"place {read.place.square or read.place.typed} ({regions or 'no region known'})")
    if where and read.area:
        said.append(f"place {area_said(read)}")
    return renamed(state, state.answers, "; ".join(said), setting)


def _says_none(typed: str) -> bool:
    return typed.casefold().replace("’", "'") in _NONE


def _cleared(state: State, what: str) -> tuple[State, tuple[Reply, ...]]:
    """No date, place or habitat any more."""
    old = state.setting
    if what == "date":
        cleared = old._replace(date=None)
    elif what == "place":
        cleared = old._replace(place=None, regions=(), area="")
    else:
        cleared = old._replace(habitat=None, habitat_typed="")
    if cleared == old:
        return state, (Note(f"No {what} has been said."),)
    return renamed(state, state.answers, f"no {what} any more", cleared)


def _habitat(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    if rest in ("", "?"):
        return state, (Note(f"To {COMMANDS['habitat']}. It knows {', '.join(one.id for one in state.key.habitats)}."),)
    found = find_habitat(state.key, rest)
    if isinstance(found, Fault):
        return _cleared(state, "habitat") if _says_none(rest) else (state, (Wrong(found),))
    habitat, words = found
    setting = state.setting._replace(habitat=habitat, habitat_typed=words)
    return renamed(state, state.answers, f"habitat {habitat.title}", setting)


def _done(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    ended = state._replace(ended="done")
    left = not_taken(state)
    if not left:
        return ended, (Final(state.named),)
    said = ", ".join(f'"{typed}"' for typed in left)
    return ended, (Note(f"Put to be chosen from and never taken, so not counted: {said}."), Final(state.named))


def _quit(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state._replace(ended="quit"), ()


def _help(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Help(),)


DO = {
    "who": _who,
    "why": _why,
    "against": _against,
    "settle": _settle,
    "questions": _questions,
    "answers": _given,
    "undo": _undo,
    "drop": _drop,
    "change": _change,
    "start": _start,
    "restart": lambda state, _: _start(state, "again"),
    "next": _next,
    "when": _when,
    "where": _where,
    "habitat": _habitat,
    "done": _done,
    "quit": _quit,
    "exit": _quit,
    "q": _quit,
    "help": _help,
}
BY_ITSELF = {"back": "undo", "?": "help"}  # what these mean where no question is put
SAID_AS_TRAIT = {"--date": _when, "--place": _where, "--habitat": _habitat}
WITH_WORDS = ("why", "drop", "change", "when", "where", "habitat", "start")
WHILE_ASKED = ("help", "next")  # these leave a question open, or go on from it
PHRASES = {
    "go back": "back",
    "begin again": "start again",
    "next one": "next",
    "next question": "next",
    "next look": "next",
    "why not": "why",
}
ASKED = {"start": _begun_again}  # what follows from a yes or a no
