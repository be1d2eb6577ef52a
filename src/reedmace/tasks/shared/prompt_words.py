"""Words at a prompt: those of command, which are never taken for data, and the many ways of yes and no."""

from __future__ import annotations

import re

from reedmace.faults import Fault

LEAVING = ("quit", "exit", "q")
BACK = ("back", "go back", "undo")
HELP = ("help", "?")
# All that commands something somewhere: in the conversation, at a prompt, or in a list of lines.
OF_COMMAND = frozenset(
    (
        *(*LEAVING, *BACK, *HELP, "done", "next", "who", "why", "against", "settle", "questions", "answers"),
        *(
            "drop",
            "drop all",
            "change",
            "when",
            "where",
            "habitat",
            "start",
            "restart",
            "start again",
            "start over",
            "stop",
        ),
    )
)

_YES = frozenset(
    (
        *("y", "yes", "ye", "yep", "yeah", "yea", "yup", "ya", "aye", "ok", "okay", "sure", "certainly", "absolutely"),
        *("please", "go", "log", "write", "record", "save", "keep", "right", "correct", "true", "definitely"),
    )
)
_NO = frozenset(("n", "no", "nope", "nah", "nay", "not", "never", "dont", "later", "neither", "none"))
_WITH_YES = frozenset(
    (
        *("it", "that", "this", "them", "please", "do", "of", "course", "ahead", "then", "thanks", "thank"),
        *("you", "down", "i", "is", "am", "the", "sighting", "one", "all", "now", "lets", "so"),
    )
)
_WITH_NO = _WITH_YES | {"yet", "today", "log", "write", "record", "save", "keep", "right", "correct"}


def plain_word(text: str) -> str:
    """What was typed, without case, further blanks and the stop behind it."""
    return " ".join(text.casefold().split()).rstrip(".!") or text.strip()


def said_yes(text: str) -> bool | None:
    """True for a yes, False for a no, however it is said; None for what is neither."""
    words = re.findall(r"[a-z]+", re.sub("['’]", "", text.casefold()))
    if not words or re.search(r"[^\W\d_a-z]|[0-9?]", text.casefold()):
        return None
    first, rest = words[0], set(words[1:])
    if first in ("of", "do") and rest:  # "of course", "do it"
        return True if set(words) <= _WITH_YES and rest & {"course", "it", "that", "so"} else _denied(words)
    if first in _YES and rest <= _YES | _WITH_YES:
        return True
    return _denied(words)


def _denied(words: list[str]) -> bool | None:
    first, rest = words[0], set(words[1:])
    if (first in _NO and rest <= _NO | _WITH_NO) or words[:2] == ["do", "not"]:
        return False
    return None


def own_text(text: str) -> str | Fault:
    """Words of somebody's own, such as a place's name: without quotes that stand around all of them.

    A word of command is refused: it was hardly meant so. What is really called so goes in quotes.
    """
    quoted = re.fullmatch(r"\"([^\"]*)\"|“([^”]*)”|‘([^’]*)’|'([^']*)'", text.strip())
    if quoted:
        return next(part for part in quoted.groups() if part is not None).strip()
    word = plain_word(text)
    if word not in OF_COMMAND:
        return text.strip()
    hint = f'what is really called so goes in quotes:  "{text.strip()}"'
    message = f'"{text.strip()}" is a word of command, and does nothing here.'
    return Fault("word-of-command", message, hint, text.strip(), typed=True)


def own_place(text: str) -> str | Fault:
    """The name of a place, in its own words; empty for `none`."""
    return "" if plain_word(text) in ("none", "no", "nothing", "-", "–") else own_text(text)
