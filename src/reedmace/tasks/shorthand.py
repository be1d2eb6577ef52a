"""One line as people write it in the field → what was seen: `12 common blue m`, `3 cop azure`, `~40 large red`.

The order of the parts is free. Numbers count; words for sex, stage, behaviour, evidence and the like are taken
out; what is left is the name. Everything after `#` and everything in quotes is a remark; a `?` is a doubtful
name. A word that is none of these is a fault: nothing typed is dropped. The grammar: docs/shorthand.md.
"""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from reedmace.faults import Fault, nearest
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, could_mean, find_name, key_words
from reedmace.tasks.field_words import COLOURS, SEXES, VOCABULARY, Word, cut, slip
from reedmace.tasks.line_reader import Counted, read_words
from reedmace.tasks.number_words import couple_told, has_number_word, letter_told
from reedmace.tasks.tallies import Tally


class Line(NamedTuple):
    """A line understood; each of its tallies becomes a sighting."""

    name: FoundName
    said: Counted

    @property
    def typed(self) -> str:
        """The line as typed."""
        return self.said.typed

    @property
    def tallies(self) -> tuple[Tally, ...]:
        """What was counted."""
        return self.said.tallies


def read_line(key: Key, typed: str) -> Line | Fault:
    """Understand one line, or say what is wrong with it and where.

    A short word such as "em" may be a stage or part of a name: where the line does not read with the first, it
    is read with the second, if only one such reading makes sense.
    """
    counted = read_words(typed)
    if isinstance(counted, Fault):
        return counted
    pieces = cut(typed)
    assert not isinstance(pieces, Fault)  # it was read
    if (told := letter_told(pieces.words, typed)) is not None:
        return told
    counted = _coloured(key, counted, pieces.words)
    line = _named(key, counted)
    if isinstance(line, Fault) and has_number_word(counted.left):
        again = read_words(typed, numbers=True)
        return again if isinstance(again, Fault) else _named(key, _coloured(key, again, pieces.words))
    if isinstance(line, Fault) and (told := couple_told(counted.left, typed)) is not None:
        return told
    if isinstance(line, Line) or not counted.left:  # without another word of a name, "ten" is a stage alone
        return line
    others = []
    known = key_words(key)
    for word in _short_words(typed):
        if not any(whole.startswith(word.plain) for whole in known):
            continue
        again = read_words(typed, as_name=word)
        if isinstance(again, Counted) and isinstance(found := _named(key, again), Line):
            others.append(found)
    return others[0] if len(others) == 1 else line


def read_tallies(typed: str) -> Counted | Fault:
    """Understand a line without a name: `2m 1f`, `1 f imm`, `3 cop`."""
    counted = read_words(typed, needed=False)
    if not isinstance(counted, Fault) and counted.left:
        left = " ".join(word.text for word in counted.left)
        return slip(
            "count-not-read",
            f'"{left}" is no count, sex, stage or behaviour.',
            "write, for example,  2m 1f",
            typed,
            counted.left[0].start,
            counted.left[-1].end,
        )
    return counted


def choices(key: Key, typed: str) -> tuple[str, ...]:
    """The scientific names that an ambiguous name in a line could mean, for asking which."""
    counted = read_words(typed, numbers=True)
    if isinstance(counted, Fault) or not counted.left:
        return ()
    return tuple(key.species[one].name for one in could_mean(key, _name_text(counted.left)))


def read_chosen(typed: str, chosen: FoundName) -> Line | Fault:
    """The line with the name that was chosen for it."""
    counted = read_words(typed, numbers=True)
    if isinstance(counted, Fault):
        return counted
    return Line(chosen._replace(typed=_name_text(counted.left)), counted)


def _coloured(key: Key, counted: Counted, words: tuple[Word, ...]) -> Counted:
    """A colour before the sex, apart from the name, as a remark: in "1 blue female emperor" the female was blue."""
    for colour, sex in pairwise(words):
        rest = tuple(word for word in counted.left if word != colour)
        apart = colour in counted.left and colour.plain in COLOURS and sex.plain in SEXES
        if not apart or not rest or any(word.start < colour.start for word in rest):
            continue
        if isinstance(find_name(key, _name_text(rest)), FoundName):
            said = f"{colour.text} {sex.text}"
            return counted._replace(left=rest, remarks="; ".join(filter(None, (said, counted.remarks))))
    return counted


def _short_words(typed: str) -> Iterator[Word]:
    pieces = cut(typed)
    if not isinstance(pieces, Fault):
        for word in pieces.words:
            if not word.quoted and len(word.plain) > 1 and word.plain.isalpha() and word.plain in VOCABULARY:
                yield word


def _name_text(words: tuple[Word, ...]) -> str:
    text = " ".join(word.text for word in words)
    if "/" in text or " or " in text.casefold():
        return re.sub(r"\s+(?:or|/)\s+|\s*/\s*", "/", text, flags=re.IGNORECASE)
    return text


def _named(key: Key, counted: Counted) -> Line | Fault:
    typed, left = counted.typed, counted.left
    start, end = (left[0].start, left[-1].end) if left else (0, len(typed.rstrip()))
    name = _name_text(left)
    found = find_name(key, name)
    if isinstance(found, FoundName):
        return Line(found, counted)
    if found.code == "unknown-name" and len(left) > 1:
        # One word too many, and like no word of a name: that word is told, not the whole.
        for index, word in enumerate(left):
            fewer = (*left[:index], *left[index + 1 :])
            if nearest(word.plain, key_words(key), cutoff=0.75) or not isinstance(
                find_name(key, _name_text(fewer)), FoundName
            ):
                continue
            return slip(
                "word-not-read",
                f'"{word.text}" is no part of a name in this key, nor a word of the shorthand.',
                "to keep it as a remark, put it in quotes or after  #  ; see  reedmace log --words",
                typed,
                word.start,
                word.end,
            )
    return slip(found.code, found.message, found.hint, typed, start, end)
