"""One line as people write it in the field → what was seen: `12 common blue m`, `3 cop azure dam`, `~40 large red`.

The order of the parts is free. Numbers count; words for sex, stage, behaviour, evidence and the like are taken
out; what is left is the name. Everything after `#` and everything in quotes is a remark; a `?` is a doubtful
name. A word that is none of these is a fault: nothing typed is dropped. The grammar: docs/shorthand.md.
"""

from collections.abc import Iterator
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, could_mean, key_words
from reedmace.tasks.shorthand.everyday_words import word_alone
from reedmace.tasks.shorthand.field_words import VOCABULARY, Cut, Word, slip
from reedmace.tasks.shorthand.line_asides import many_told
from reedmace.tasks.shorthand.line_authors import without_authors
from reedmace.tasks.shorthand.line_cut import cut_line
from reedmace.tasks.shorthand.line_headings import heading_told
from reedmace.tasks.shorthand.line_names import (
    coloured,
    name_found,
    name_text,
    number_in_name,
    number_or_name,
)
from reedmace.tasks.shorthand.line_reader import read_words
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.line_several import read_several, several_told
from reedmace.tasks.shorthand.line_signs import crossed_out, empty_box, none_in_words
from reedmace.tasks.shorthand.line_word_or_name import part_of_name
from reedmace.tasks.shorthand.number_words import couple_told, has_number_word, letter_told
from reedmace.tasks.shorthand.places_typed import place_unsigned
from reedmace.tasks.shorthand.tallies import Tally


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


def read_line(key: Key, typed: str, *, listed: bool = True) -> Line | Fault:
    """Understand one line, or say what is wrong with it and where.

    A short word such as "em" may be a stage or part of a name: where the line does not read with the first, it
    is read with the second, if only one such reading makes sense. In a list a bare name may be a heading; where a
    name was asked for (`listed` is False) it is none.
    """
    if ("[" in typed or "(" in typed) and (told := empty_box(typed)) is not None:
        return told
    if ("~~" in typed or not typed.isascii()) and (told := crossed_out(typed)) is not None:
        return told
    line = _read(key, typed)
    if isinstance(line, Fault):
        line = _by_authors(key, typed) or line
    if isinstance(line, Fault):
        return place_unsigned(typed) or several_told(lambda part: _read(key, part), typed, line)
    if listed and (told := heading_told(line.name, line.said) or word_alone(key, line.name, line.said)) is not None:
        return told
    return line


def read_lines(key: Key, typed: str) -> list[Line] | Fault:
    """As `read_line`, for a line that may name several insects: `2 emperor, 3 large red`."""
    line = read_line(key, typed)
    if not isinstance(line, Fault):
        return [line]
    return (line.code == "several-on-line" and read_several(lambda part: _read(key, part), typed)) or line


def _read(key: Key, typed: str) -> Line | Fault:
    counted = read_words(typed)
    pieces = cut_line(typed)
    if not isinstance(pieces, Fault) and (number := number_in_name(key, pieces.words)) is not None:
        told_of = _with_number(key, typed, pieces.words, number, counted)
        if told_of is not None:
            return told_of
    if isinstance(counted, Fault):
        return _in_words(key, typed, pieces) or counted
    assert not isinstance(pieces, Fault)  # it was read
    if (told := letter_told(pieces.words, typed)) is not None:
        return told
    counted = coloured(key, counted, pieces.words)
    line = _named(key, counted)
    if isinstance(line, Fault) and has_number_word(counted.left):
        again = read_words(typed, numbers=True)
        return again if isinstance(again, Fault) else _named(key, coloured(key, again, pieces.words))
    if isinstance(line, Line):
        part = part_of_name(lambda word: _with_word(key, typed, word), line.name, counted, pieces.words)
        if not isinstance(part, Word):
            return part or line
        again = read_words(typed, as_name=part)
        return again if isinstance(again, Fault) else _named(key, again)
    if not counted.left:  # without another word of a name, "ten" is a stage alone
        return line
    told = couple_told(counted.left, typed) or none_in_words(counted.left, typed) or many_told(counted.left, typed)
    return told or _article(key, typed, counted.left) or _with_short_word(key, typed) or line


def _with_short_word(key: Key, typed: str) -> Line | None:
    """The line with a short word as a part of its name, if only one such reading makes sense: `2 em dam`."""
    others = []
    known = key_words(key)
    for word in _short_words(typed):
        if not any(whole.startswith(word.plain) for whole in known):
            continue
        again = read_words(typed, as_name=word)
        if isinstance(again, Counted) and isinstance(found := _named(key, again), Line):
            others.append(found)
    return others[0] if len(others) == 1 else None


def _with_word(key: Key, typed: str, word: Word) -> FoundName | Fault:
    """What a line names with one of its words as a part of the name."""
    again = read_words(typed, as_name=word)
    return again if isinstance(again, Fault) else name_found(key, again)


def _article(key: Key, typed: str, left: tuple[Word, ...]) -> Line | None:
    """`a common blue` is one, where "a" is no part of the name: `A. cyanea`."""
    at = next((word.start for word in left[:-1] if word.text == "a"), None)
    if at is None:
        return None
    again = read_words(typed, one=at)
    line = again if isinstance(again, Fault) else _named(key, again)
    return line if isinstance(line, Line) else None


def _in_words(key: Key, typed: str, pieces: Cut | Fault) -> Line | None:
    """A line that reads once its words for numbers count: `one male + one tandem pair`."""
    if isinstance(pieces, Fault) or not has_number_word(tuple(word for word in pieces.words if word.plain != "ten")):
        return None
    again = read_words(typed, numbers=True)
    line = again if isinstance(again, Fault) else _named(key, coloured(key, again, pieces.words))
    return line if isinstance(line, Line) else None


def read_tallies(typed: str) -> Counted | Fault:
    """Understand a line without a name: `2m 1f`, `1 f imm`, `3 cop`."""
    counted = read_words(typed, needed=False)
    if not isinstance(counted, Fault) and has_number_word(counted.left):
        again = read_words(typed, needed=False, numbers=True)
        counted = again if not isinstance(again, Fault) else counted
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
    return tuple(key.species[one].name for one in could_mean(key, name_text(counted.left)))


def read_chosen(typed: str, chosen: FoundName) -> Line | Fault:
    """The line with the name that was chosen for it."""
    counted = read_words(typed, numbers=True)
    if isinstance(counted, Fault):
        return counted
    return Line(chosen._replace(typed=name_text(counted.left)), counted)


def _with_number(
    key: Key, typed: str, words: tuple[Word, ...], number: Word, counted: Counted | Fault
) -> Line | Fault | None:
    """A line with a figure that may belong to the name: it does where something else is counted, and only so.

    None where the figure is no part of it after all.
    """
    line = counted if isinstance(counted, Fault) else _named(key, coloured(key, counted, words))
    again = read_words(typed, as_name=number)
    named = again if isinstance(again, Fault) else _named(key, again)
    if not isinstance(named, Line):
        return None
    if not any(tally.typed for tally in named.tallies) or (isinstance(line, Line) and line.tallies != named.tallies):
        return number_or_name(typed, words, number)
    return named


def _by_authors(key: Key, typed: str) -> Line | Fault | None:
    """A line that reads once the author behind its scientific name is passed over; the author has to be its own."""
    bare = without_authors(key, typed)
    line = _read(key, bare) if bare != typed else None
    if not isinstance(line, Line):
        return None
    if len(line.name.species) != 1 or without_authors(key, typed, line.name.species[0]) != bare:
        authority = key.species[line.name.species[0]].authority
        message = f'"{line.name.typed}" was described by somebody else: {authority}.'
        return slip("names-differ", message, "leave the author out, or write the other name", typed)
    return line._replace(said=line.said._replace(typed=typed))


def _named(key: Key, counted: Counted) -> Line | Fault:
    found = name_found(key, counted)
    return found if isinstance(found, Fault) else Line(found, counted)


def _short_words(typed: str) -> Iterator[Word]:
    pieces = cut_line(typed)
    if not isinstance(pieces, Fault):
        for word in pieces.words:
            if not word.quoted and len(word.plain) > 1 and word.plain.isalpha() and word.plain in VOCABULARY:
                yield word
