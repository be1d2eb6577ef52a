"""The conversation at the pond, as a pure state machine: a state and a typed line give a state and replies.

Any question in any order; the best next look is offered and never imposed. Nothing is read, written or printed
here: the command passes lines in, the terminal shows the replies.
"""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.keys.answers import CANNOT_TELL, CIRCUMSTANCES, Answer, read_trait, too_long
from reedmace.keys.bare_words import has_name, words_meant
from reedmace.keys.hints import elsewhere, or_traits, other_stage
from reedmace.keys.matching import character_names, find_character, fold
from reedmace.keys.model import Character
from reedmace.keys.names import named
from reedmace.keys.remarks import remarked
from reedmace.tasks.naming.conversation_state import State, answered, asked, begin, understood
from reedmace.tasks.naming.conversation_words import BY_ITSELF, COMMANDS, DO, SAID_AS_TRAIT, WITH_WORDS
from reedmace.tasks.naming.own_words import own_words, said_outright, whole_look
from reedmace.tasks.naming.read_reply import read_reply
from reedmace.tasks.naming.replies import Choices, Note, Reply, Standing, Wrong

__all__ = ["COMMANDS", "OFFERED", "State", "begin", "step"]

OFFERED = 3  # looks offered at a time
CHOICES = 6  # meanings of a word put at a time
HOW_TO_ANSWER = "A number or a word; 1/3 for either, a trailing ~ for unsure, can't tell, or back to leave it."
NOT_SURE = "Nothing is asked just now. What can't be told is left out; an answer that is not sure ends in ~ ."
NOTHING_ASKED = "Nothing is asked just now. Type a number of the list, a question's name, or what you saw."
_NOTHING_SAID = {*CANNOT_TELL, "not sure", "unsure", "not-sure", "don't know", "dont know"} - {"?"}


def step(state: State, line: str) -> tuple[State, tuple[Reply, ...]]:
    """Take one typed line."""
    text = line.strip()
    if long := too_long(text):
        return state, (Wrong(long),)
    if (state.choices or state.typing) and re.fullmatch(r"[0-9]{1,2}(?:[\s,+&]+[0-9]{1,2})*", text, re.ASCII):
        return _take_choices(state, [int(number) for number in re.findall("[0-9]+", text)])
    state = state._replace(choices=(), typing=())
    word, _, rest = text.partition(" ")
    command = word.casefold()
    if state.open is None:
        command = BY_ITSELF.get(command, command)
    if command in DO and not (rest and command not in WITH_WORDS):
        return DO[command](state._replace(open=None) if command != "help" else state, rest.strip())
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


def _take_choices(state: State, numbers: list[int]) -> tuple[State, tuple[Reply, ...]]:
    """One of what was put, or several; with a fault in one number none is taken, and all stay."""
    put: tuple[Answer | str, ...] = (*state.choices, *state.typing)
    chosen = [put[number - 1] for number in numbers if 1 <= number <= len(put)]
    said = " ".join(map(str, numbers))
    if len(chosen) < len(numbers):
        wrong = next(number for number in numbers if not 1 <= number <= len(put))
        message, hint = f"There is no choice number {wrong}.", f"numbers 1 to {len(put)} are put"
        return state, (Wrong(Fault("no-such-number", message, hint, str(wrong), typed=True)),)
    answers = [one for one in chosen if not isinstance(one, str)]
    titles = [state.key.characters[answer.character].title for answer in answers]
    twice = next((title for title in titles if titles.count(title) > 1), None)
    if twice is not None:
        message, hint = f'"{twice}" is answered twice.', "take one of the two"
        return state, (Wrong(Fault("answered-twice", message, hint, said, typed=True)),)
    lines = [one for one in chosen if isinstance(one, str)]
    questions = [line for line in lines if " " not in line]
    if len(questions) > 1:
        message, hint = "One question is asked at a time.", f"take one of them, and type the other:  {questions[1]}"
        return state, (Wrong(Fault("answered-twice", message, hint, said, typed=True)),)
    following, notes = state._replace(choices=(), typing=()), []
    replies: tuple[Reply, ...] = ()
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
    return (following, replies) if len(notes) < 2 else _together(following, state, notes)


def _together(following: State, state: State, notes: list[str]) -> tuple[State, tuple[Reply, ...]]:
    return following, (Standing(following.named, "; ".join(notes), state.named),)


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
        again, replies = asked(state, character.index)
        return again, (*replies, Note(HOW_TO_ANSWER))
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
    return (following, replies) if len(notes) < 2 else _together(following, state, notes)


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
            return bare, put
        if loose:
            return loose
    unread = code in ("unknown-character", "unknown-state") or named(state.key, text) is not None
    own = own_words(state, text) if unread else whole_look(state, text)
    return own or (following, replies)


def _called(state: State, word: str) -> bool:
    """True for a question's own name, which may be that of one of its states, too."""
    return any(fold(word) in character_names(one) for one in state.key.characters)


def _bare(state: State, text: str) -> tuple[State, tuple[Reply, ...]]:
    """Words by themselves: the answer that they are, or those that they could be; nothing where they are none."""
    meant = words_meant(state.key, text)
    if meant.clear and not isinstance(find_character(state.key, text), Character):
        (answer,) = meant.answers
        note = f'{understood(state.key, answer)} ("{text}" was taken so;  undo  takes it back)'
        return answered(state, answer, note)
    if not meant.answers:
        return state, ()
    choices = meant.answers[:CHOICES]
    put = Choices(text, state.named, choices, len(meant.answers) - len(choices))
    return state._replace(choices=choices), (put,)


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
