"""What is put to the user to be chosen from: numbers, `both`, `all`, `none`, a yes; and what was left of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.answers import Answer, split_doubt
from reedmace.tasks.naming.conversation_state import State, answered, together, understood
from reedmace.tasks.naming.replies import Note, Reply, Standing, Wrong
from reedmace.tasks.shared.prompt_words import said_yes

Step = Callable[[State, str], tuple[State, tuple[Reply, ...]]]

_NUMBERS = re.compile(
    r"(?:numbers? |no\.? ?|# ?)?([0-9]{1,2}(?:(?: ?(?:[,+&/–-]|\b(?:and|or|to)\b) ?| )[0-9]{1,2})*)", re.ASCII
)
_BEHIND = re.compile(r" (?:of|from) (?:them|these|those|it|the list)$")
_ALL = ("all", "everything", "all three", "all four")
_NONE = ("none", "neither", "no one", "not any", "nothing")


class Chosen(NamedTuple):
    """What was chosen of a list: its numbers, from 1; `either` where one of them is meant, `whole` where all are."""

    numbers: tuple[int, ...]
    unsure: bool = False
    either: bool = False
    whole: bool = False


def read_chosen(text: str, many: int) -> Chosen | Fault | None:
    """A reply to a list of so many; None for what is said of something else."""
    plain, unsure = split_doubt(" ".join(text.casefold().split()))
    plain = plain.removesuffix(".")
    if match := _NUMBERS.fullmatch(plain):
        return Chosen(_numbers(match[1]), unsure, bool(re.search(r"/|or", match[1])))
    word = _BEHIND.sub("", plain)
    every = tuple(range(1, many + 1))
    if word in _ALL or (word == "both" and many == 2):
        return Chosen(every, unsure, whole=True)
    yes = said_yes(plain)
    if word in _NONE or yes is False:
        return Chosen(())
    if yes and many == 1:
        return Chosen(every, unsure)
    if yes or word == "both":
        message, hint = f"There are {many} to choose from.", "type their numbers, as  1 2 , or  all  or  none"
        return Fault("no-such-number", message, hint, text, typed=True)
    return None


def _numbers(text: str) -> tuple[int, ...]:
    """Numbers and ranges: `1, 3-5`."""
    found: list[int] = []
    for first, last in re.findall(r"([0-9]+)(?: ?(?:-|–|to) ?([0-9]+))?", text):
        found += range(int(first), int(last or first) + 1) or (int(first), int(last))
    return tuple(found)


def take(state: State, text: str, chosen: Chosen, step: Step) -> tuple[State, tuple[Reply, ...]]:
    """Take what was chosen; with a fault in one part nothing is taken, and all stays put. `step` takes a line."""
    if not chosen.numbers:
        return state._replace(choices=(), typing=(), offered=""), (Note("None of them was taken."),)
    put: tuple[Answer | str, ...] = (*state.choices, *state.typing)
    wrong = next((number for number in chosen.numbers if not 1 <= number <= len(put)), None)
    if wrong is not None:
        message, hint = f"There is no choice number {wrong}.", f"numbers 1 to {len(put)} are put"
        return state, (Wrong(Fault("no-such-number", message, hint, str(wrong), typed=True)),)
    taken = [put[number - 1] for number in chosen.numbers]
    answers = [one._replace(unsure=one.unsure or chosen.unsure) for one in taken if isinstance(one, Answer)]
    lines = [one for one in taken if isinstance(one, str)]
    if chosen.whole and (answers or any(" " in line for line in lines)):
        questions = [line for line in lines if " " not in line]
        lines = [line for line in lines if " " in line or len(questions) == 1]
    if chosen.either or chosen.whole:
        answers = _either(answers)
    fault = _fault(state, text, chosen, answers, lines)
    return (state, (Wrong(fault),)) if fault else _taken(state, answers, lines, step)


def _fault(state: State, text: str, chosen: Chosen, answers: Sequence[Answer], lines: Sequence[str]) -> Fault | None:
    """What is wrong with a choice, if anything."""
    if chosen.either and len(answers) + len(lines) > 1:
        message, hint = "These answer several questions, so all of them can hold.", f"take them all:  {_all(chosen)}"
        return Fault("answered-twice", message, f"{hint} , or the one that you are sure of", text, typed=True)
    titles = [state.key.characters[answer.character].title for answer in answers]
    twice = next((title for title in titles if titles.count(title) > 1), None)
    if twice is not None:
        either = (
            f", or either of them:  {'/'.join(map(str, chosen.numbers))}"
            if len(answers) == titles.count(twice) and len(chosen.numbers) == len(answers)
            else ""
        )
        return Fault(
            "answered-twice", f'"{twice}" is answered twice.', f"take one of the two{either}", text, typed=True
        )
    questions = [line for line in lines if " " not in line]
    if len(questions) > 1:
        hint = f"take one of them, and type the other:  {questions[1]}"
        return Fault("answered-twice", "One question is asked at a time.", hint, text, typed=True)
    return None


def _all(chosen: Chosen) -> str:
    return " ".join(map(str, chosen.numbers))


def _either(answers: Sequence[Answer]) -> list[Answer]:
    """Answers to one question made one: either of them."""
    one: dict[int, Answer] = {}
    for answer in answers:
        before = one.get(answer.character)
        states = tuple(sorted({*answer.states, *(before.states if before else ())}))
        one[answer.character] = answer._replace(states=states)
    return list(one.values())


def _taken(
    state: State, answers: Sequence[Answer], lines: Sequence[str], step: Step
) -> tuple[State, tuple[Reply, ...]]:
    following, notes = state._replace(choices=(), typing=(), offered=""), []
    replies: tuple[Reply, ...] = ()
    questions = [line for line in lines if " " not in line]
    for answer in answers:
        following, replies = answered(following, answer)
        notes.append(understood(state.key, answer))
    for line in sorted(lines, key=lambda line: line in questions):
        following, replies = step(following, line)
        if any(isinstance(reply, Wrong) for reply in replies):
            return state, replies
        notes += [reply.note for reply in replies if isinstance(reply, Standing)]
    if questions and notes:
        return following, (Note("; ".join(notes)), *replies)
    return (following, replies) if len(notes) < 2 else together(following, state, notes)


def passed(state: State) -> State:
    """The state once a line chose nothing of what was put: it is kept, until it is answered otherwise."""
    characters = tuple(answer.character for answer in state.choices)
    kept = (*state.passed, (state.offered, characters))
    return state._replace(choices=(), typing=(), offered="", passed=kept)


def not_taken(state: State) -> tuple[str, ...]:
    """What was put and never taken, in the words that were typed, without what was answered otherwise since."""
    known = {answer.character for answer in state.answers}
    return tuple(dict.fromkeys(typed for typed, characters in state.passed if known.isdisjoint(characters)))
