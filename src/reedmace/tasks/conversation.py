"""The conversation at the pond, as a pure state machine: a state and a typed line give a state and replies.

Any question in any order; the best next look is offered and never imposed. Nothing is read, written or printed
here: the command passes lines in, the terminal shows the replies.
"""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.answers import CANNOT_TELL, CIRCUMSTANCES, Answer, read_trait
from reedmace.keys.hints import elsewhere, or_traits
from reedmace.keys.matching import find_character
from reedmace.keys.model import Character, Key
from reedmace.keys.names import find_name
from reedmace.scoring.explain import why
from reedmace.scoring.tables import Tables
from reedmace.tasks.answer_words import say_answer
from reedmace.tasks.name_insect import Named, name_answers
from reedmace.tasks.read_reply import read_reply
from reedmace.tasks.replies import (
    Against,
    Because,
    Final,
    Given,
    Help,
    Listing,
    Note,
    Question,
    Reply,
    Running,
    Settling,
    Standing,
    Wrong,
)
from reedmace.tasks.setting import Setting, find_habitat, read_setting

OFFERED = 3  # looks offered at a time
HOW_TO_ANSWER = "A number or a word; 1/3 for either, a trailing ~ for unsure, can't tell, or back to leave it."
NOT_SURE = "Nothing is asked just now. What can't be told is left out; an answer that is not sure ends in ~ ."
_NOTHING_SAID = {*CANNOT_TELL, "not sure", "unsure", "not-sure", "don't know", "dont know"} - {"?"}

COMMANDS = {
    "who": "who is in the running",
    "why": "why the first and not the second (or: why NAME)",
    "against": "what speaks against the first",
    "settle": "what would settle it",
    "questions": "every question there is",
    "answers": "what has been answered",
    "undo": "take back the last answer; so does  back",
    "drop": "take back one answer: drop wings",
    "change": "answer one question anew: change wings",
    "when": "say the date: when 2026-07-12",
    "where": "say the place: where SU 43 11",
    "habitat": "say the habitat: habitat pond",
    "done": "end with the verdict",
    "quit": "leave without a verdict",
    "help": "these words",
}


class State(NamedTuple):
    """Where the conversation stands. `open` is the question put, if one is; `ended` by `done` or `quit`."""

    tables: Tables
    setting: Setting
    today: date
    named: Named
    open: int | None = None
    ended: str = ""

    @property
    def key(self) -> Key:
        """The key used."""
        return self.tables.key

    @property
    def answers(self) -> tuple[Answer, ...]:
        """The answers in the order they were given."""
        return self.named.assessment.answers


def begin(tables: Tables, setting: Setting, today: date, answers: tuple[Answer, ...] = ()) -> State:
    """A conversation at its beginning."""
    return State(tables, setting, today, name_answers(tables, setting, answers))


def step(state: State, line: str) -> tuple[State, tuple[Reply, ...]]:
    """Take one typed line."""
    text = line.strip()
    word, _, rest = text.partition(" ")
    command = word.casefold()
    if state.open is None:
        command = _BY_ITSELF.get(command, command)
    if command in _DO and not (rest and command not in _WITH_WORDS):
        return _DO[command](state._replace(open=None) if command != "help" else state, rest.strip())
    if state.open is not None:
        return _answer_open(state, text)
    if not text:
        return state, (Standing(state.named, "", None),)
    if text.casefold().replace("’", "'") in _NOTHING_SAID:
        return state, (Note(NOT_SURE),)
    if re.fullmatch(r"[0-9]{1,2}", text, re.ASCII):
        return _take_offer(state, int(text))
    if "=" in text:
        return _trait(state, text)
    return _by_name(state, text)


def _take_offer(state: State, number: int) -> tuple[State, tuple[Reply, ...]]:
    looks = state.named.assessment.looks.looks[:OFFERED]
    if not 1 <= number <= len(looks):
        hint = f"numbers 1 to {len(looks)} are offered" if looks else "nothing is offered now; try  questions"
        return state, (
            Wrong(Fault("no-such-number", f"There is no look number {number}.", hint, str(number), typed=True)),
        )
    return _ask(state, looks[number - 1].character)


def _ask(state: State, character: int) -> tuple[State, tuple[Reply, ...]]:
    given = next((answer for answer in state.answers if answer.character == character), None)
    return state._replace(open=character), (Question(state.key.characters[character], given),)


def _answer_open(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    assert state.open is not None
    character = state.key.characters[state.open]
    if text == "?":
        return (*_ask(state, character.index)[:1], (*_ask(state, character.index)[1], Note(HOW_TO_ANSWER)))
    if not text or text.casefold() in ("back", "leave", "skip"):
        return state._replace(open=None), (Standing(state.named, "", None),)
    if "=" in text:
        return _trait(state._replace(open=None), text)
    answer = read_reply(character, text)
    if isinstance(answer, Fault):
        # It may have been meant for another question: `wings`, or `wings closed`.
        other, replies = _by_name(state._replace(open=None), text)
        if not isinstance(replies[0], Wrong):
            return other, replies
        if _names_another(state, text):
            return state, replies
        hinted = elsewhere(state.key, character, answer, text)
        if hinted == answer and answer.code == "unknown-state":
            hinted = or_traits(state.key, answer, text)
        return state, (Wrong(hinted),)
    return _with(state._replace(open=None), answer)


def _names_another(state: State, text: str) -> bool:
    """True when the line begins with the name of a question other than the one put."""
    meant = find_character(state.key, text.partition(" ")[0])
    return isinstance(meant, Character) and meant.index != state.open


def _trait(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    name, _, value = text.partition("=")
    option = CIRCUMSTANCES.get(name.strip().casefold())
    if option:
        return _SAID_AS_TRAIT[option.partition(" ")[0]](state, value.strip())
    answer = read_trait(state.key, text)
    return (state, (Wrong(answer),)) if isinstance(answer, Fault) else _with(state, answer)


def _by_name(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """A question by name, or a question and its answer: `wings`, `wings closed`."""
    whole = find_character(state.key, text)
    if isinstance(whole, Character):
        return _ask(state, whole.index)
    name, _, value = text.partition(" ")
    character = find_character(state.key, name) if value else whole
    if isinstance(character, Character):
        answer = read_reply(character, value)
        if isinstance(answer, Fault):
            return state, (Wrong(elsewhere(state.key, character, answer, value)),)
        return _with(state, answer)
    if whole.code == "unknown-character":
        hints = [slip.hint for slip in (whole, character) if isinstance(slip, Fault)]
        close = next((hint for hint in hints if hint.startswith("did you mean")), None)
        lead = f"{close} Or type" if close else "type"
        whole = whole._replace(hint=f"{lead}  questions  to see every question, or  help")
    return state, (Wrong(or_traits(state.key, whole, text)),)


def _with(state: State, answer: Answer) -> tuple[State, tuple[Reply, ...]]:
    kept = tuple(other for other in state.answers if other.character != answer.character)
    return _again(state, (*kept, answer), _understood(state.key, answer))


def _again(
    state: State, answers: tuple[Answer, ...], note: str, setting: Setting | None = None
) -> tuple[State, tuple[Reply, ...]]:
    named = name_answers(state.tables, setting or state.setting, answers)
    following = state._replace(named=named, setting=setting or state.setting, open=None)
    return following, (Standing(named, note, state.named),)


def _understood(key: Key, answer: Answer) -> str:
    character = key.characters[answer.character]
    return f"{character.title}: {say_answer(character, answer)}"


def _who(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Running(state.named),)


def _why(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    named = state.named
    candidates = named.assessment.candidates
    if not named.assessment.after.clues:
        return state, (Note("Nothing has been answered yet; so far only date, place and habitat speak."),)
    one, other = candidates[0].species, candidates[1].species if len(candidates) > 1 else None
    if rest:
        found = find_name(state.key, rest)
        if isinstance(found, Fault):
            return state, (Wrong(found),)
        meant = [one.species for one in candidates[1:] if one.species in found.species]
        other = meant[0] if meant else other
    if other is None:
        return state, (Note("There is only one species in this key."),)
    assessment = named.assessment
    weights = why(named.tables, assessment.before, assessment.after, one, other)
    return state, (Because(named, one, other, weights),)


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
    if not state.answers:
        return state, (Note("There is no answer to take back."),)
    return _again(state, state.answers[:-1], f"taken back: {_understood(state.key, state.answers[-1])}")


def _drop(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    character = _answered_one(state, rest)
    if isinstance(character, Fault):
        return state, (Wrong(character),)
    kept = tuple(answer for answer in state.answers if answer.character != character.index)
    return _again(state, kept, f"taken back: {character.title}")


def _change(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    character = _answered_one(state, rest)
    return (state, (Wrong(character),)) if isinstance(character, Fault) else _ask(state, character.index)


def _answered_one(state: State, rest: str) -> Character | Fault:
    character = find_character(state.key, rest)
    if isinstance(character, Fault):
        return character
    if all(answer.character != character.index for answer in state.answers):
        hint = "type  answers  to see what has been answered"
        return Fault("not-answered", f'"{character.title}" has not been answered.', hint, rest, typed=True)
    return character


def _when(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    return _set(state, rest, None)


def _where(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    return _set(state, None, rest)


def _set(state: State, when: str | None, where: str | None) -> tuple[State, tuple[Reply, ...]]:
    word = "when" if when is not None else "where"
    if not (when or where):
        return state, (Note(f"To {COMMANDS[word]}"),)
    try:
        read = read_setting(state.key, when, where, None, today=state.today)
    except Refused as refused:
        return state, tuple(Wrong(fault) for fault in refused.faults)
    old = state.setting
    setting = old._replace(date=read.date or old.date)
    if read.place:
        setting = setting._replace(place=read.place, regions=read.regions)
    said = [f"date {setting.date.iso}"] if when and setting.date else []
    if where and read.place:
        regions = ", ".join(region.title for region in read.regions)
        said.append(f"place {read.place.square or read.place.typed} ({regions or 'no region known'})")
    return _again(state, state.answers, "; ".join(said), setting)


def _habitat(state: State, rest: str) -> tuple[State, tuple[Reply, ...]]:
    found = find_habitat(state.key, rest)
    if isinstance(found, Fault):
        return state, (Wrong(found),)
    return _again(state, state.answers, f"habitat {found.title}", state.setting._replace(habitat=found))


def _done(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state._replace(ended="done"), (Final(state.named),)


def _quit(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state._replace(ended="quit"), ()


def _help(state: State, _: str) -> tuple[State, tuple[Reply, ...]]:
    return state, (Help(),)


_DO = {
    "who": _who,
    "why": _why,
    "against": _against,
    "settle": _settle,
    "questions": _questions,
    "answers": _given,
    "undo": _undo,
    "drop": _drop,
    "change": _change,
    "when": _when,
    "where": _where,
    "habitat": _habitat,
    "done": _done,
    "quit": _quit,
    "exit": _quit,
    "help": _help,
}
_BY_ITSELF = {"back": "undo", "?": "help"}  # what these mean where no question is put
_SAID_AS_TRAIT = {"--date": _when, "--place": _where, "--habitat": _habitat}
_WITH_WORDS = ("why", "drop", "change", "when", "where", "habitat")
