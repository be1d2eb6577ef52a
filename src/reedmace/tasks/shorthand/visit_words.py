"""The line of a visit cut into words: stops of sentences off, and what says one time of day as one word."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Cut, Word, cut
from reedmace.tasks.shorthand.time_words import one_word_a_time

# A grid reference of some figures, and the words that tell of one.
REFERENCE = r"(?<![^\W_])[A-Za-z]{1,2} ?(?:[0-9]{4}|[0-9]{6}|[0-9]{8}|[0-9]{10}|[0-9]{2,5} [0-9]{2,5})(?![0-9A-Za-z])"
_LEADS = ("at", "ngr", "gr", "os", "osgr", "grid", "ref", "gridref", "reference", "place", "site", "location")


def cut_visit(typed: str) -> Cut | Fault:
    """Cut the line of a visit into the words that its reading takes."""
    pieces = cut(typed)
    if isinstance(pieces, Fault):
        return pieces
    timed = one_word_a_time(pieces.words, typed, hours=True)
    if isinstance(timed, Fault):
        return timed
    words = _referred(tuple(_unstopped(timed, at) for at in range(len(timed))), typed)
    return pieces._replace(words=tuple(_four_figures(words, at) for at in range(len(words))))


def _referred(words: Sequence[Word], typed: str) -> tuple[Word, ...]:
    """`grid ref SU 431 118`, `NGR: SU431118` and `at SU 431 118`: words before a reference say what `@` does."""
    found: list[Word] = []
    for word in words:
        begins = re.match(REFERENCE, typed[word.start :], re.ASCII)
        lead: Word | None = None
        while begins and found and not found[-1].quoted and found[-1].plain.strip(".:") in _LEADS:
            lead = found.pop()
        if lead is not None and (not found or found[-1].plain != "@"):
            found.append(lead._replace(plain="@"))
        found.append(word)
    return tuple(found)


def _four_figures(words: Sequence[Word], at: int) -> Word:
    """`1030` as a time of day, which no year is; within a reference the figures are left."""
    word = words[at]
    found = None if word.quoted else re.fullmatch(r"(0[6-9]|1[0-7])([0-5][0-9])", word.plain, re.ASCII)
    ahead = " ".join(one.plain for one in words[max(0, at - 2) : at])
    if found is None or re.search(r"(?:^| )(?:@|(?!at|to|on|in|by)[a-z]{1,2})(?: [0-9]{4})?$", ahead, re.ASCII):
        return word
    return word._replace(plain=f"{found[1]}:{found[2]}")


def _unstopped(words: Sequence[Word], at: int) -> Word:
    """A word without the stop of a sentence: `Sunny.`, `21C.`; initials, titles and short forms keep theirs.

    Before a capital a stop may be that of a shortened name (`Geo. Marsh`), unless there are figures in the word.
    """
    word = words[at]
    bare = word.text.removesuffix(".")
    if word.quoted or bare == word.text or len(bare) < 3 or "." in bare.rstrip("0123456789"):
        return word
    following = words[at + 1].text if at + 1 < len(words) else ""
    if following[:1].isupper() and not any(sign.isdigit() for sign in bare):
        return word
    return Word(bare, word.plain.removesuffix("."), word.start, word.end - 1)
