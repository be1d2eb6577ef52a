"""A look in somebody's own words, "red one sitting on the path": what its parts could mean, and what stays unread.

Nothing here is taken for an answer: whoever said it chooses. A part beside a "no" is offered only where the key has a
state for there being nothing.
"""

from __future__ import annotations

import re
from itertools import groupby
from typing import NamedTuple

from reedmace.keys.answers import Answer, split_doubt
from reedmace.keys.bare_words import Meant, words_meant
from reedmace.keys.hints import singular
from reedmace.keys.matching import character_names
from reedmace.keys.model import EFFORTS, Character, Key

MOST_WORDS = 24  # of a line; whoever says more is asked one thing after the other
LONGEST = 4  # words of one part
CHOICES = 6  # answers offered at a time
_JOINING = {"and", "or", "&"}
_COUNTING = {"two", "three", "four", "both", "all", "yes"}  # nothing by themselves, though some state is called so
_BETWEEN = {"one", "ones", "with", "but", "because", "it", "is", "was", "were", "had", "has", "then"}  # part from part
_NEGATING = {"no", "not", "without", "never", "none", "isnt", "wasnt", "wouldnt", "didnt", "hasnt", "hadnt", "couldnt"}
# Words that say nothing of the insect by themselves: they may stand between those that do.
_PASSING = frozenset(
    re.findall(
        "[a-z]+",
        """a an the this that these those its be been have having i we you he she they my our some something of at on in
        out to by like as from for over along near above very quite really rather fairly so too bit little lot far just
        only looked looks look looking saw seen see seemed seems there here which who sort kind type""",
    )
)


class Heard(NamedTuple):
    """What a line could mean: answers, questions that it names, and the words that mean nothing here."""

    answers: tuple[Answer, ...] = ()
    questions: tuple[Character, ...] = ()
    unread: tuple[str, ...] = ()


def heard(key: Key, typed: str, aside: frozenset[str] = frozenset(), order: tuple[int, ...] = ()) -> Heard:
    """The parts of a line that mean something, best first for each.

    `aside` are words already understood; of meanings seen alike those of characters that come first in `order` do too.
    """
    plain, unsure = split_doubt(typed)
    words = re.findall(r"[^\s,;:.!?()\"_-]+|[,;:.!?()]+", plain.casefold().replace("'", "").replace("’", ""))
    if len(words) > MOST_WORDS:
        return Heard()
    found: list[_Part] = []
    for between, group in groupby(words, lambda word: word in _BETWEEN or word in aside or not word[0].isalnum()):
        said = [word for word in group if word not in _PASSING]
        while said and not between:
            found.append(_part(key, said))
            said = said[found[-1].words :]
    parts = [part.meant for part in found if part.meant]
    chosen = _chosen(key, parts, order)
    questions = dict.fromkeys(part.question for part in found if part.question is not None)
    return Heard(
        tuple(answer._replace(unsure=unsure) for answer in chosen),
        tuple(key.characters[index] for index in questions),
        tuple(part.said for part in found if not part.meant and part.question is None and part.said not in _JOINING),
    )


class _Part(NamedTuple):
    """Some words of a line, and what they mean or which question they name."""

    words: int
    said: str
    meant: tuple[Answer, ...] = ()
    question: int | None = None


def _part(key: Key, words: list[str]) -> _Part:
    """The longest part that they begin with."""
    for length in range(min(LONGEST, len(words)), 0, -1):
        part = words[:length]
        if part[0] in _JOINING or part[-1] in _JOINING or (length == 1 and part[0] in _NEGATING):
            continue
        said = " ".join(part)
        if (question := _question(key, part)) is not None:
            return _Part(length, said, question=question.index)
        meant = words_meant(key, said) if part[0] not in _COUNTING or length > 1 else Meant()
        # One word that is but a part of what a state is called, "last" or "back", says too little.
        if meant.answers and not (meant.loose and length == 1):
            return _Part(length, said, meant.answers)
        if part[0] in _NEGATING and length > 1 and (none := _nothing(key, part[1:], said)):
            return _Part(length, said, none)
    # What is denied must not be offered as if it had been seen.
    taken = 2 if words[0] in _NEGATING else 1
    return _Part(taken, " ".join(words[:taken]))


def _question(key: Key, words: list[str]) -> Character | None:
    """The question called so, in this order of words or another: "spots on the wings" are wing spots."""
    wanted = sorted(map(singular, words))
    for character in key.characters:
        if any(wanted == sorted(map(singular, name.split("-"))) for name in character_names(character)):
            return character
    return None


def _nothing(key: Key, words: list[str], said: str) -> tuple[Answer, ...]:
    """The state of a question for there being nothing to see: of "no shoulder stripes"."""
    question = _question(key, words)
    absent = tuple(at for at, state in enumerate(question.states) if state.absent) if question else ()
    return (Answer(question.index, said, absent),) if question and absent else ()


def _chosen(key: Key, parts: list[tuple[Answer, ...]], order: tuple[int, ...]) -> tuple[Answer, ...]:
    """As many meanings for each part, what is seen most easily first."""

    def rank(answer: Answer) -> tuple[int, int]:
        at = order.index(answer.character) if answer.character in order else len(order)
        return EFFORTS.index(key.characters[answer.character].effort), at

    each = max(1, CHOICES // max(1, len(parts)))
    chosen = {(answer.character, answer.states): answer for meant in parts for answer in sorted(meant, key=rank)[:each]}
    return tuple(chosen.values())[:CHOICES]
