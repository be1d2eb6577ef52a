"""Conversations as text: lines after `> ` are typed, the others are the replies, each in a few words.

> wings closed
understood Wings at rest: closed along the back
> who
ranks Pale Rushlet, Misty Rushlet
"""

from __future__ import annotations

from textwrap import dedent

from reedmace.keys.model import Key
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming import conversation as talk
from reedmace.tasks.naming import replies as told
from reedmace.tasks.naming.answer_words import say_answer
from reedmace.tasks.shared.setting import Setting
from tarn import TODAY


def start(key: Key) -> talk.State:
    """A conversation of a beginner who has said nothing yet."""
    return talk.begin(Tables(key, "beginner"), Setting(), TODAY)


def typed(state: talk.State, lines: list[str]) -> talk.State:
    """The state after typing lines one after another."""
    for line in lines:
        state, _ = talk.step(state, line)
    return state


def lines_of(script: str) -> list[str]:
    """What is typed in a script."""
    return [line[2:] for line in dedent(script).strip().splitlines() if line.startswith("> ") or line == ">"]


def hold(state: talk.State, script: str) -> tuple[talk.State, str]:
    """Hold the conversation of a script: the state after it, and the script as it really went."""
    went = []
    for line in lines_of(script):
        state, replies = talk.step(state, line)
        went += [f"> {line}".rstrip(), *(short(reply) for reply in replies)]
    return state, "\n".join(went)


def check(state: talk.State, script: str) -> talk.State:
    """Hold a conversation and compare it, word for word, with its script."""
    state, went = hold(state, script)
    assert went == dedent(script).strip(), f"the conversation went differently:\n{went}"
    return state


def short(reply: told.Reply) -> str:
    """A reply in a few words."""
    match reply:
        case told.Question(character, given):
            was = f", so far {say_answer(character, given)}" if given else ""
            return f"asks: {character.question}{was}"
        case told.Explained(character):
            return f"explains: {character.question}"
        case told.Standing(_, note, _):
            return f"understood {note}" if note else "as before"
        case told.Running(named):
            first = [named.key.species[one.species].english for one in named.assessment.candidates[:2]]
            return f"ranks {', '.join(first)}"
        case told.Because(named, one, other, _):
            return f"why {named.key.species[one].english} and not {named.key.species[other].english}"
        case told.Against(named, answers):
            said = [
                f"{named.key.characters[answer.character].id} for {named.key.species[species].english}"
                for answer, _, species in answers
            ]
            return f"against: {', '.join(said) or 'nothing'}"
        case told.Settling(named):
            looks = [named.key.characters[look.character].id for look in named.assessment.looks.looks]
            return f"would settle it: {', '.join(looks)}"
        case told.Choices(_, named, answers, others, to_type, unread, notes):
            rows = [(named.key.characters[answer.character], answer) for answer in answers]
            listed = "; ".join(f"{character.id}={say_answer(character, answer)}" for character, answer in rows)
            more = f" and {others} more" if others else ""
            more += f" | type {', '.join(to_type)}" if to_type else ""
            more += f" | not understood {', '.join(unread)}" if unread else ""
            more += f" | {' '.join(notes)}" if notes else ""
            return f"could be {listed}{more}"
        case told.Note(text):
            return f"note: {text}"
        case told.Wrong(fault):
            return f"fault {fault.code}: {fault.hint}"
        case told.Final(named):
            return f"ends {named.assessment.verdict.word}: {named.assessment.verdict.vernacular}"
        case _:
            return type(reply).__name__.casefold()
