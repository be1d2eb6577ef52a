"""Where the conversation stands, and what follows from an answer more, less or another."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.answer_words import say_answer
from reedmace.tasks.naming.name_insect import Named, name_answers
from reedmace.tasks.naming.replies import Question, Reply, Standing
from reedmace.tasks.shared.setting import Setting, area_said


class Stood(NamedTuple):
    """How things stood before something was said: what `undo` gives back."""

    answers: tuple[Answer, ...]
    setting: Setting


class State(NamedTuple):
    """Where the conversation stands. `open` is the question put, if one is; `ended` by `done` or `quit`.

    `past` is how things stood before each thing that was said, the latest last; `choices` what was just put to the
    user, of which a number takes one; `typing` are lines put with them, numbered on behind; `offered` is what was
    typed for which they are put, and `passed` what was put so before and never taken, with its characters. `asking` is
    a question of yes or no that stands.
    """

    tables: Tables
    setting: Setting
    today: date
    named: Named
    open: int | None = None
    ended: str = ""
    past: tuple[Stood, ...] = ()
    choices: tuple[Answer, ...] = ()
    typing: tuple[str, ...] = ()
    offered: str = ""
    passed: tuple[tuple[str, tuple[int, ...]], ...] = ()
    asking: str = ""

    @property
    def key(self) -> Key:
        """The key used."""
        return self.tables.key

    @property
    def answers(self) -> tuple[Answer, ...]:
        """The answers in the order they were given."""
        return self.named.assessment.answers


def begin(tables: Tables, setting: Setting, today: date, answers: tuple[Answer, ...] = ()) -> State:
    """A conversation at its beginning; answers it begins with can be taken back one by one."""
    past = tuple(Stood(answers[:count], setting) for count in range(len(answers)))
    return State(tables, setting, today, name_answers(tables, setting, answers), past=past)


def asked(state: State, character: int) -> tuple[State, tuple[Reply, ...]]:
    """Put the question of a character, with what was answered to it."""
    given = next((answer for answer in state.answers if answer.character == character), None)
    return state._replace(open=character), (Question(state.key.characters[character], given),)


def answered(state: State, answer: Answer, note: str = "") -> tuple[State, tuple[Reply, ...]]:
    """Take an answer, in place of an earlier one to the same question; `note` says how it was understood."""
    kept = tuple(other for other in state.answers if other.character != answer.character)
    return renamed(state, (*kept, answer), note or understood(state.key, answer))


def renamed(
    state: State, answers: tuple[Answer, ...], note: str, setting: Setting | None = None
) -> tuple[State, tuple[Reply, ...]]:
    """Name the insect anew by these answers, in this setting; `note` says what was done."""
    setting = setting or state.setting
    named = name_answers(state.tables, setting, answers)
    past = (*state.past, Stood(state.answers, state.setting))
    return state._replace(named=named, setting=setting, open=None, past=past), (Standing(named, note, state.named),)


def together(following: State, state: State, notes: Sequence[str]) -> tuple[State, tuple[Reply, ...]]:
    """How things stand after several things that were said at once."""
    return following, (Standing(following.named, "; ".join(notes), state.named),)


def taken_back(state: State) -> tuple[State, tuple[Reply, ...]]:
    """Let things stand as before the last thing that was said, whatever it was."""
    then = state.past[-1]
    following, replies = renamed(state, then.answers, _taken_back(state, then), then.setting)
    return following._replace(past=state.past[:-1]), replies


def _taken_back(state: State, then: Stood) -> str:
    """Say what goes, and what stands again in its place."""
    now, before = _said(state.key, state.answers, state.setting), _said(state.key, then.answers, then.setting)
    told = []
    for what in dict.fromkeys((*now, *before)):
        gone, again = now.get(what), before.get(what)
        if gone == again:
            continue
        lead = f"taken back: {what}{gone}" if gone else f"back again: {what}{again}"
        told.append(f"{lead}; again{again.removeprefix(':')}" if gone and again else lead)
    return "; ".join(told) or "taken back: it had been said before, so all stands as it did"


def _said(key: Key, answers: tuple[Answer, ...], setting: Setting) -> dict[str, str]:
    """What has been said, by what it is about."""
    said = {}
    for answer in answers:
        character = key.characters[answer.character]
        said[character.title] = f": {say_answer(character, answer)}"
    if setting.date:
        said["date"] = f" {setting.date.iso}"
    if setting.place:
        said["place"] = f" {setting.place.square or setting.place.typed}"
    elif setting.area:
        said["place"] = f" {area_said(setting)}"
    if setting.habitat:
        said["habitat"] = f" {setting.habitat.title}"
    return said


def understood(key: Key, answer: Answer) -> str:
    """Say how an answer was understood."""
    character = key.characters[answer.character]
    return f"{character.title}: {say_answer(character, answer)}"
