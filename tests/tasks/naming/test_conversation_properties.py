"""Properties of the conversation, on the shipped key, with whatever anybody may type."""

from __future__ import annotations

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.tasks.naming.answer_words import trait_text
from reedmace.tasks.naming.conversation import COMMANDS, State, begin, step
from reedmace.tasks.naming.name_insect import name_insect
from tasks.dialogue import start, typed

VALUES = [
    "1",
    "2",
    "3",
    "1/2",
    "9",
    "33",
    "30-35",
    "33 ruler",
    "3 cm",
    "?",
    "~",
    "blue",
    "black",
    "closed",
    "no",
    "unsure",
    "",
]
ENDING = ("done", "quit", "exit", "q")
SETTINGS = [
    "when 12 July 2026",
    "when 31 June 2026",
    "where SU 43 11",
    "where H 12 34",
    "where nowhere",
    "habitat pond",
    "habitat none",
    "when none",
    "where none",
]
NAMES = [
    "why azure",
    "why darter sp.",
    "why clubtail",
    "why dragonfly",
    "why odonata",
    "drop wings",
    "change wings",
    "drop",
]


def lines(key: Key) -> st.SearchStrategy[list[str]]:
    """Sequences of lines: questions, answers, words of the help, settings, and plain noise."""
    questions = [character.id for character in key.characters]
    pairs = [f"{one.id}{sign}{state.id}" for one in key.characters for state in one.states for sign in (" ", "=")]
    sensible = st.sampled_from([*questions, *pairs, *VALUES, *COMMANDS, *SETTINGS, *NAMES])
    return st.lists(sensible | st.text(max_size=30), max_size=12)


@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_no_sequence_of_typed_lines_raises_or_ends_the_talk_unasked(key: Key, data: st.DataObject) -> None:
    """Faults never end it: only `done`, `quit`, `exit` and `q` do."""
    state = start(key)
    for line in data.draw(lines(key), label="typed"):
        state, replies = step(state, line)
        word = line.strip().casefold()
        assert bool(state.ended) == (word in ENDING)
        if state.ended:
            return
        assert replies
        assert len({answer.character for answer in state.answers}) == len(state.answers)


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_the_talks_answers_say_what_the_same_traits_say_to_name(key: Key, data: st.DataObject) -> None:
    """`reedmace key` and `reedmace name` are one engine: the same answers and setting, the same assessment."""
    typed_lines = [line for line in data.draw(lines(key), label="typed") if line.strip().casefold() not in ENDING]
    state = typed(start(key), typed_lines)
    traits = [trait_text(key, answer) for answer in state.answers]
    named = name_insect(state.tables, state.setting, traits)
    assert [bare(answer) for answer in named.assessment.answers] == [bare(answer) for answer in state.answers]
    assert named.assessment.verdict == state.named.assessment.verdict
    assert named.assessment.candidates == state.named.assessment.candidates
    assert [look.character for look in named.assessment.looks.looks] == [
        look.character for look in state.named.assessment.looks.looks
    ]


def bare(answer: Answer) -> Answer:
    """An answer without the words it was given in."""
    return answer._replace(typed="")


@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_undo_gives_back_exactly_what_stood_before(key: Key, data: st.DataObject) -> None:
    """An answer given to a fresh question and taken back leaves no trace in the ranking."""
    character = data.draw(st.sampled_from([one for one in key.characters if not one.is_number]), label="question")
    answer = data.draw(st.sampled_from(character.states), label="answer")
    before = typed(start(key), ["wings closed"] if character.id != "wings-at-rest" else ["eyes apart"])
    after = typed(before, [f"{character.id}={answer.id}", "undo"])
    assert after.answers == before.answers
    assert after.named.assessment.candidates == before.named.assessment.candidates


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_undo_goes_back_step_by_step_to_the_beginning(key: Key, data: st.DataObject) -> None:
    """Whatever was said, every `undo` lets answers and setting stand as they stood before it."""
    state = start(key)
    stood = [(state.answers, state.setting)]
    for line in data.draw(lines(key), label="typed"):
        if line.strip().casefold() in (*ENDING, "undo", "back"):
            continue
        before = state
        state, _ = step(state, line)
        if (state.answers, state.setting) != (before.answers, before.setting):
            stood.append((state.answers, state.setting))
        elif len(state.past) != len(before.past):  # the same said again
            stood.append(stood[-1])
    for answers, setting in reversed(stood[:-1]):
        state, _ = step(state, "undo")
        assert (state.answers, state.setting) == (answers, setting)
    assert state.named.assessment == start(key).named.assessment


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_a_talk_may_begin_with_answers_already_given(key: Key, data: st.DataObject) -> None:
    """Beginning with a talk's answers stands where that talk stood."""
    state: State = typed(
        start(key), [line for line in data.draw(lines(key)) if not re.match("(?i) *(done|quit|exit)", line)]
    )
    resumed = begin(state.tables, state.setting, state.today, state.answers)
    assert resumed.named.assessment == state.named.assessment
