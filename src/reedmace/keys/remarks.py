"""What a key says of words that are no mark: another animal, or what tells nothing of the kind, as being joined."""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.keys.hints import singular
from reedmace.keys.model import Key
from reedmace.keys.spoken_words import APOSTROPHES, NEGATING

_COMPARING = {"like", "than", "as", "of", *NEGATING}
_SMALL = {"a", "an", "the", "some", "any"}


class Remarked(NamedTuple):
    """What is told of a line, the line without words that are no mark, and the words that were told of."""

    told: tuple[str, ...]
    rest: str
    words: frozenset[str]


def remarked(key: Key, typed: str) -> Remarked:
    """What the key tells of the words of a line. "Striped like a wasp" and "not a moth" speak of no such animal."""
    told: list[str] = []
    known: set[str] = set()
    rest = typed
    said = set(map(singular, _words(typed)))
    for remark in key.remarks:
        if said & {singular(word) for word in remark.unless}:
            continue
        for phrase in sorted(remark.words, key=len, reverse=True):
            found = _found(phrase, rest)
            if found is None:
                continue
            told += [remark.tell] if remark.tell not in told else []
            known.update(_words(phrase))
            if remark.instead:
                rest = f"{rest[: found.start()]}, {rest[found.end() :]}"
    return Remarked(tuple(told), rest.strip(" ,") if told else typed, frozenset(known))


def _found(phrase: str, text: str) -> re.Match[str] | None:
    """Where a phrase stands in a text, with one of them or more of it, and is not compared with or denied."""
    wanted = r"[\s_-]+".join(re.escape(word) for word in _words(phrase))
    for match in re.finditer(rf"(?<!\w){wanted}(?!\w)", re.sub(APOSTROPHES, " ", text), re.IGNORECASE):
        before = [word for word in _words(text[: match.start()]) if word not in _SMALL]
        if not before or before[-1] not in _COMPARING:
            return match
    return None


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.casefold())
