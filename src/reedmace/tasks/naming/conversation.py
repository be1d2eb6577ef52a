"""The conversation at the pond, as a pure state machine: a state and a typed line give a state and replies.

Any question in any order; the best next look is offered and never imposed. Nothing is read, written or printed
here: the command passes lines in, the terminal shows the replies.
"""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.keys.answers import CANNOT_TELL, CIRCUMSTANCES, Answer, read_trait, too_long
from reedmace.keys.bare_words import SELDOM, has_name, words_meant
from reedmace.keys.hints import elsewhere, or_traits, other_stage
from reedmace.keys.matching import SMALL, character_names, find_character, fold
from reedmace.keys.model import Character
from reedmace.keys.names import named
from reedmace.keys.remarks import remarked
from reedmace.tasks.naming.choosing import not_taken, passed, read_chosen, take
from reedmace.tasks.naming.conversation_state import State, answered, asked, begin, together, understood
from reedmace.tasks.naming.conversation_words import (
    ASKED,
    BY_ITSELF,
    COMMANDS,
    DO,
    OFFERED,
    PHRASES,
    SAID_AS_TRAIT,
    WHILE_ASKED,
    WITH_WORDS,
)
from reedmace.tasks.naming.own_words import own_words, said_outright, whole_look
from reedmace.tasks.naming.read_reply import read_reply
from reedmace.tasks.naming.replies import Choices, Explained, Note, Reply, Standing, Wrong
from reedmace.tasks.shared.prompt_words import plain_word, said_yes

__all__ = ["COMMANDS", "OFFERED", "State", "begin", "step"]

CHOICES = 6  # meanings of a word put at a time
NOT_SURE = "Nothing is asked just now. What can't be told is left out; an answer that is not sure ends in ~ ."
NOTHING_ASKED = "Nothing is asked just now. Type a number of the list, a question's name, or what you saw."
_NOTHING_SAID = {*CANNOT_TELL, "not sure", "unsure", "not-sure", "don't know", "dont know"} - {"?"}


def step(state: State, line: str) -> tuple[State, tuple[Reply, ...]]:
    """Take one typed line."""
    text = line.strip()
    if long := too_long(text):
        return state, (Wrong(long),)
    if state.asking and (said := said_yes(text)) is not None:
        return ASKED[state.asking](state._replace(asking=""), said)
    state = state._replace(asking="")
    if not (state.choices or state.typing):
        return _said(state, text)
    chosen = read_chosen(text, len(state.choices) + len(state.typing))
    if isinstance(chosen, Fault):
        return state, (Wrong(chosen),)
    if chosen is not None:
        return take(state, text, chosen, step)
    left = passed(state)
    following, replies = _said(left, text)
    if following.open in {answer.character for answer in state.choices} or text in state.typing:
        return following._replace(passed=state.passed), replies  # as good as a number of the list
    if following.ended or state.offered not in not_taken(following):
        return following, replies
    return following, (Note(f'Nothing was taken of "{state.offered}".'), *replies)


def _said(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """Take a line that is no reply to a list."""
    text = PHRASES.get(plain_word(text), text)
    word, _, rest = text.partition(" ")
    command = word.casefold()
    if state.open is None:
        command = BY_ITSELF.get(command, command)
    if command in DO and not (rest and command not in WITH_WORDS):
        return DO[command](state if command in WHILE_ASKED else state._replace(open=None), rest.strip())
    if state.open is not None:
        return _answer_open(state, text)
    if not text:
        return state, (Standing(state.named, "", None),)
    if text.casefold().replace("’", "'") in _NOTHING_SAID or fold(text) in CANNOT_TELL:
        return state, (Note(NOT_SURE),)
    if text.casefold() in ("yes", "no", "y", "n"):
        return state, (Note(NOTHING_ASKED),)
    if re.fullmatch(r"[0-9]{1,2}", text, re.ASCII):
        return _take_offer(state, int(text))
    if "=" in text:
        return _traits(state, text)
    return _by_name(state, text)


def _take_offer(state: State, number: int) -> tuple[State, tuple[Reply, ...]]:
    looks = state.named.assessment.looks.looks[:OFFERED]
    if not 1 <= number <= len(looks):
        hint = f"numbers 1 to {len(looks)} are offered" if looks else "nothing is offered now; try  questions"
        return state, (
            Wrong(Fault("no-such-number", f"There is no look number {number}.", hint, str(number), typed=True)),
        )
    return asked(state, looks[number - 1].character)


def _answer_open(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    assert state.open is not None
    character = state.key.characters[state.open]
    if text == "?":
        return state, (Explained(character),)
    if not text or text.casefold() in ("back", "leave", "skip"):
        return state._replace(open=None), (Standing(state.named, "", None),)
    if "=" in text:
        return _traits(state._replace(open=None), text)
    answer = read_reply(character, text)
    if isinstance(answer, Fault):
        if look := whole_look(state, text):
            return look
        # It may have been meant for another question: `wings`, or `wings closed`. Two or three letters are too few
        # for that: `up` is about the wings, not the upper claspers.
        name = text.partition(" ")[0]
        called = _called(state, name)
        if called or _called(state, text) or len(name) > 3:
            other, replies = _by_question(state._replace(open=None), text)
            if called or not isinstance(replies[0], Wrong):
                return (state, replies) if isinstance(replies[0], Wrong) else (other, replies)
        if stage := other_stage(state.key, text):
            return state, (Wrong(answer._replace(hint=stage)),)
        hinted = elsewhere(state.key, character, answer, text)
        if hinted == answer and answer.code == "unknown-state":
            hinted = or_traits(state.key, answer, text)
        return state, (Wrong(hinted),)
    return answered(state._replace(open=None), answer)


def _traits(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """One trait or several on a line; with a fault in one of them none is taken."""
    following = state
    replies: tuple[Reply, ...] = ()
    notes: list[str] = []
    wrong: list[Wrong] = []
    for trait in re.split(r"[\s,;]+(?=[^\s=,;]+\s*=)", text):
        following, replies = _trait(following, trait)
        notes += [reply.note for reply in replies if isinstance(reply, Standing)]
        wrong += [reply for reply in replies if isinstance(reply, Wrong)]
    if wrong:
        return state, tuple(wrong)
    return (following, replies) if len(notes) < 2 else together(following, state, notes)


def _trait(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    name, _, value = text.partition("=")
    option = CIRCUMSTANCES.get(name.strip().casefold())
    if option:
        return SAID_AS_TRAIT[option.partition(" ")[0]](state, value.strip())
    answer = read_trait(state.key, text)
    if isinstance(answer, Fault):
        # Here states have numbers, and there is more than one way to say that one is not sure.
        character = find_character(state.key, name)
        reply = read_reply(character, value) if isinstance(character, Character) and not character.is_number else answer
        if isinstance(reply, Answer):
            return answered(state, reply._replace(typed=text))
        answer = reply if reply.code == "no-such-number" else answer
    return (state, (Wrong(answer),)) if isinstance(answer, Fault) else answered(state, answer)


def _by_name(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """A question by name, a question and its answer, or words that by themselves are an answer: `folded`."""
    exactly = _called(state, text)
    stage = "" if exactly else other_stage(state.key, text)
    if stage:
        message = f'The key asks nothing called "{text}".'
        return state, (Wrong(Fault("unknown-character", message, stage, text, typed=True)),)
    if not exactly and remarked(state.key, text).told and (own := own_words(state, text)):
        return own
    if not exactly and has_name(state.key, text):
        return _bare(state, text)
    following, replies = _by_question(state, text)
    if exactly or not isinstance(replies[0], Wrong):
        return following, replies
    code = replies[0].fault.code
    if code == "unknown-character":
        if (outright := said_outright(state, text)) is not None:
            return outright
        bare, put = _bare(state, text)
        # "black all over" has only the words of one state's name: what is called so is put before it.
        loose = own_words(state, text) if words_meant(state.key, text).loose else None
        if put and not (loose and loose[0].choices):
            return _only_one(bare, put, text)
        if loose:
            return _only_one(*loose, text)
    unread = code in ("unknown-character", "unknown-state") or named(state.key, text) is not None
    own = own_words(state, text) if unread else whole_look(state, text)
    return _only_one(*own, text) if own else (following, replies)


def _only_one(state: State, replies: tuple[Reply, ...], text: str) -> tuple[State, tuple[Reply, ...]]:
    """What was put, or, where words of two or more have one reading only, that reading taken and said back.

    One word may stand for much else: "held" and "water" are put. So is what can seldom be seen, and what there is not:
    what was denied may be meant of more than was heard.
    """
    (put, *_) = replies
    words = [word for word in fold(text).split("-") if word not in SMALL]
    if not isinstance(put, Choices) or len(put.answers) != 1 or len(words) < 2:
        return state, replies
    if put.others or put.to_type or put.unread or put.notes:
        return state, replies
    (answer,) = put.answers
    character = state.key.characters[answer.character]
    if character.visible < SELDOM or any(character.states[index].absent for index in answer.states):
        return state, replies
    return answered(state._replace(choices=(), typing=(), offered=""), answer, _taken_so(state, answer, text))


def _taken_so(state: State, answer: Answer, text: str) -> str:
    return f'{understood(state.key, answer)} ("{text}" was taken so;  undo  takes it back)'


def _called(state: State, word: str) -> bool:
    """True for a question's own name, which may be that of one of its states, too."""
    return any(fold(word) in character_names(one) for one in state.key.characters)


def _bare(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """Words by themselves: the answer that they are, or those that they could be; nothing where they are none."""
    meant = words_meant(state.key, text)
    if meant.clear and not isinstance(find_character(state.key, text), Character):
        (answer,) = meant.answers
        return answered(state, answer, _taken_so(state, answer, text))
    if not meant.answers:
        return state, ()
    choices = meant.answers[:CHOICES]
    put = Choices(text, state.named, choices, len(meant.answers) - len(choices))
    return state._replace(choices=choices, offered=text), (put,)


def _by_question(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """A question by name, or a question and its answer: `wings`, `wings closed`."""
    whole = find_character(state.key, text)
    if isinstance(whole, Character):
        return asked(state, whole.index)
    name, _, value = text.partition(" ")
    character = find_character(state.key, name) if value else whole
    if isinstance(character, Character):
        answer = read_reply(character, value)
        if not isinstance(answer, Fault):
            return answered(state, answer)
        if _called(state, name) or whole.code != "unknown-character":
            return state, (Wrong(elsewhere(state.key, character, answer, value)),)
    if whole.code == "unknown-character":
        hints = [slip.hint for slip in (whole, character) if isinstance(slip, Fault)]
        close = next((hint for hint in hints if hint.startswith("did you mean")), None)
        lead = f"{close} Or type" if close else "type"
        whole = whole._replace(hint=f"{lead}  questions  to see every question, or  help")
    return state, (Wrong(or_traits(state.key, whole, text)),)
