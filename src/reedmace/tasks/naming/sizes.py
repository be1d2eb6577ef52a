"""Sizes in the conversation: `7 cm long` by itself, within a look, or told by a finger."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.keys.answers import read_value
from reedmace.keys.lengths import in_figures
from reedmace.keys.model import Character, Key
from reedmace.tasks.naming.conversation_state import State, answered
from reedmace.tasks.naming.replies import Reply, Wrong

_ABOUT = r"(?:about|around|roughly|some|nearly|almost|approximately|maybe|~|ca?\.?)"
_SIZE = re.compile(
    rf"(?:{_ABOUT} ?)?([0-9][0-9.,–-]*(?: ?(?:to|-|–) ?[0-9][0-9.,]*)? ?[a-z\"]+)(?: (?:long|in length))?"
)
# "in" is too short to be an inch within a line: "2 in the reeds".
_WITHIN = re.compile(
    rf"(?:{_ABOUT} )?\b([0-9][0-9.]*(?: ?(?:-|–|to) ?[0-9][0-9.]*)? ?(?:mm|cm|inch(?:es)?\b|\"))(?: long| in length)?"
)
_ACROSS = re.compile(r"span|across|wide")  # that is no length
_COMPARED = re.compile(
    r"\b(?:(?:as )?(?:long|big|large) as|(?:the )?(?:size|length) of|(?:longer|shorter|bigger|smaller) than)"
    r" (?:an? |my |your |the )?(?:\w+ )?"
    r"(?:finger|fingers|thumb|thumbnail|hand|palm|match|matchstick|pencil|pen|nail|coin|needle|key|toothpick)\b"
)


def _measured(key: Key) -> Character | None:
    """What the key measures, where it is one thing only."""
    measured = [one for one in key.characters if one.is_number]
    return measured[0] if len(measured) == 1 else None


def size_alone(state: State, plain: str) -> tuple[State, tuple[Reply, ...]] | None:
    """A number with its unit, where the key measures one thing only; None for anything else."""
    character = _measured(state.key)
    if character is None:
        return None
    plain = in_figures(plain) if character.unit == "mm" else plain
    plain = re.sub(r"^between ([0-9.]+)(?: ?mm| ?cm)? and (?=[0-9])", r"\1 to ", plain)
    match = _SIZE.fullmatch(re.sub(r"([0-9]) ?(?:mm|cm) (?=to [0-9.]+ ?(?:mm|cm))", r"\1 ", plain))
    if match is None:
        return None
    answer = read_value(character, match[1])
    if isinstance(answer, Fault):
        return (state, (Wrong(answer),)) if answer.code != "unknown-unit" else None
    return answered(state, answer)


def size_within(key: Key, text: str) -> tuple[str, str, str]:
    """A line with its sizes in figures, a size in it, and the line that answers with it; both empty where none is."""
    character = _measured(key)
    if character is None or character.unit != "mm":
        return text, "", ""
    plain = in_figures(text)
    match = _WITHIN.search(plain)
    if match is None or _ACROSS.search(plain) or isinstance(read_value(character, match[1]), Fault):
        return text, "", ""
    return plain, match[0], f"{character.id} {match[1]}"


def compared(key: Key, text: str) -> tuple[str, ...]:
    """A word to whoever tells the size by a finger or a match: that is a help where it is laid on a ruler."""
    if _measured(key) is None or not (match := _COMPARED.search(text.casefold())):
        return ()
    told = (
        f'"{match[0]}" is no length yet: lay that on a ruler and say it, as  65-75 mm  or  7 cm ; about is good enough.'
    )
    return (told,)
