"""Where the conversation stands, and what follows from an answer more, less or another."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.scoring.tables import Tables
from reedmace.tasks.answer_words import say_answer
from reedmace.tasks.name_insect import Named, name_answers
from reedmace.tasks.replies import Question, Reply, Standing
from reedmace.tasks.setting import Setting


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


def asked(state: State, character: int) -> tuple[State, tuple[Reply, ...]]:
    """Put the question of a character, with what was answered to it."""
    given = next((answer for answer in state.answers if answer.character == character), None)
    return state._replace(open=character), (Question(state.key.characters[character], given),)


def answered(state: State, answer: Answer) -> tuple[State, tuple[Reply, ...]]:
    """Take an answer, in place of an earlier one to the same question."""
    kept = tuple(other for other in state.answers if other.character != answer.character)
    return renamed(state, (*kept, answer), understood(state.key, answer))


def renamed(
    state: State, answers: tuple[Answer, ...], note: str, setting: Setting | None = None
) -> tuple[State, tuple[Reply, ...]]:
    """Name the insect anew by these answers, in this setting; `note` says what was done."""
    named = name_answers(state.tables, setting or state.setting, answers)
    following = state._replace(named=named, setting=setting or state.setting, open=None)
    return following, (Standing(named, note, state.named),)


def understood(key: Key, answer: Answer) -> str:
    """Say how an answer was understood."""
    character = key.characters[answer.character]
    return f"{character.title}: {say_answer(character, answer)}"
