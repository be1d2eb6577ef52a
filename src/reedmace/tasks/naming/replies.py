"""What the conversation answers with: plain values, which the terminal shows."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.answers import Answer
from reedmace.keys.model import Character
from reedmace.scoring.explain import Why
from reedmace.tasks.naming.name_insect import Named


class Question(NamedTuple):
    """A question put to the user, with the answer given before, if any."""

    character: Character
    given: Answer | None


class Explained(NamedTuple):
    """A question explained: what its states are called otherwise, how it is seen, and how it can be answered."""

    character: Character


class Standing(NamedTuple):
    """How things stand after an answer: shown short. `note` says what was just understood."""

    named: Named
    note: str
    before: Named | None


class Running(NamedTuple):
    """Who is in the running."""

    named: Named


class Because(NamedTuple):
    """Why one species and not another."""

    named: Named
    one: int
    other: int
    why: Why


class Against(NamedTuple):
    """Answers that speak against the first species, each with its strongest weight and for whom it speaks."""

    named: Named
    answers: tuple[tuple[Answer, float, int], ...]


class Settling(NamedTuple):
    """What would settle it."""

    named: Named


class Listing(NamedTuple):
    """Every question, with what has been answered."""

    named: Named


class Given(NamedTuple):
    """What has been answered."""

    named: Named


class Choices(NamedTuple):
    """What words could mean, put to the user: a number takes one, several numbers take several.

    `to_type` is what says the rest of them, numbered on behind the answers; `unread` are those that mean nothing here,
    and `notes` say what was understood and is no answer.
    """

    typed: str
    named: Named
    answers: tuple[Answer, ...]
    others: int
    to_type: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


class Note(NamedTuple):
    """A plain word to the user."""

    text: str


class Wrong(NamedTuple):
    """Something typed that could not be used."""

    fault: Fault


class Help(NamedTuple):
    """The words that are understood."""


class Final(NamedTuple):
    """The verdict at the end."""

    named: Named


Told = Standing | Running | Because | Against | Settling | Listing | Given | Note | Wrong | Help | Final
Reply = Question | Choices | Explained | Told
