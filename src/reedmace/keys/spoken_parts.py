"""The parts of a stretch of words, and what each could mean: an answer, a question, a name, or nothing."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.bare_words import Meant
from reedmace.keys.hints import SEXES, singular, words_of
from reedmace.keys.matching import state_names
from reedmace.keys.model import EFFORTS, Key
from reedmace.keys.spoken_denied import denied, question_called
from reedmace.keys.spoken_vocabulary import Words
from reedmace.keys.spoken_words import COMPARED, DENIED, IS, JOINING, SEEN, UNSEEN, Stretch

NAME, SEX = "name", "sex"
LONGEST = 4  # words of one part
_COUNTING = {"two", "three", "four", "both", "all", "yes"}  # nothing by themselves, though some state is called so
# Shades of a colour that a key need not know: "navy blue" is some blue.
_SHADES = {"dark", "light", "pale", "bright", "deep", "dull", "vivid", "rich", "faint", "soft", "electric", "neon"}
_SHADES |= {"navy", "royal", "baby", "powder", "dusty", "creamy", "dirty", "shiny", "slight"}
_SIZES = {"big", "large", "huge", "small", "tiny", "little", "long", "short"}
_WHOLE = {"body"}  # what is small or fat of it is the insect


class Part(NamedTuple):
    """Some words of a line, and what they mean or which questions they name."""

    words: int
    said: str
    meant: tuple[Answer, ...] = ()
    questions: tuple[int, ...] = ()
    unread: bool = False
    kind: str = SEEN


def parts_of(words: Words, stretch: Stretch) -> list[Part]:
    """The parts of a stretch."""
    said = list(stretch.words)
    if stretch.kind == DENIED:
        meant = denied(words, said)
        asked = () if meant else _asked(words, [words.read(word) for word in said[1:]])
        parts = [Part(len(said), " ".join(said), meant, asked, kind=SEEN if meant else DENIED)]
    elif stretch.kind == COMPARED:
        parts = [Part(len(said), " ".join(said), questions=_sized(words.key, said), kind=COMPARED)]
    elif stretch.kind == UNSEEN:
        parts = [Part(len(said), " ".join(said), questions=_asked(words, said), kind=UNSEEN)]
    else:
        read = [word if word == IS else words.read(word) for word in said]
        parts = []
        while read:
            if read[0] == IS or read[0] in JOINING:
                said, read = said[1:], read[1:]
                continue
            part = _part(words, read)
            parts.append(part._replace(said=" ".join(word for word in said[: part.words] if word != IS)))
            said, read = said[part.words :], read[part.words :]
        parts = _on_what_follows(words.key, parts)
    return [
        part._replace(
            meant=tuple(answer._replace(typed=part.said, unsure=stretch.unsure) for answer in part.meant),
        )
        for part in parts
    ]


def _on_what_follows(key: Key, parts: list[Part]) -> list[Part]:
    """Parts without what they cannot be: a line "on the legs" is none along the abdomen's side.

    Where a part of the insect is named right behind, answers about others go; with none left its own questions that
    know a word of it are asked, and without any it is not understood.
    """
    places = {singular(one.part) for one in key.characters}
    found = []
    for part, after in zip(parts, (*parts[1:], None), strict=True):
        place = singular(after.said) if after and not after.meant else ""
        if part.meant and place in places:
            meant = tuple(one for one in part.meant if singular(key.characters[one.character].part) == place)
            asked = () if meant else _asked_of(key, place, part.said)
            found.append(part._replace(meant=meant, questions=asked or part.questions, unread=not meant and not asked))
        else:
            found.append(part)
    return found


def _asked_of(key: Key, place: str, said: str) -> tuple[int, ...]:
    """The questions about a part of the insect that know one of these words: of the thorax, its side."""
    own = {singular(word) for word in said.split()} - {place}
    return tuple(one.index for one in key.characters if singular(one.part) == place and own & words_of(one))


def _part(words: Words, read: list[str]) -> Part:
    """The part that they begin with: a name, else what is called so in most words, else a part of what is."""
    if (plainly := _named_or_bound(words, read)) is not None:
        return plainly
    most = next((at for at, word in enumerate(read) if word == IS or (at and _is_name(words, word))), len(read))
    loose: Part | None = None
    for length in range(min(LONGEST, most), 0, -1):
        part = read[:length]
        if part[-1] in JOINING:
            continue
        said = " ".join(part)
        if length > 1 and (of_it := _of_what_is_named(words.key, part, words.meant(said))) and words.exact(said):
            return Part(length, "", of_it)
        if question := question_called(words.key, part):
            # "gills" is a question, and in another what is seen at a glance.
            seen = tuple(answer for answer in words.exact(said) if _glanced(words.key, answer))
            return _bound(words, read, length) or Part(length, "", seen, (question.index,))
        if part[0] in _COUNTING and length == 1:
            continue
        if length == 1 and (early := _shade(words, read, most) or _of_no_part(words, read)):
            return early
        meant = words.meant(said)
        if meant.exact:
            return _noun(words, read, length) or _two(words, read, length, meant) or Part(length, "", _best(meant))
        if length > 1 and (of_it := _of_what_is_named(words.key, part, meant)):
            return Part(length, "", of_it)
        # A loose word alone, "last" or "back", says too little; of several the last must be what has the others.
        if meant.answers and length > 1 and loose is None and words.has_part(part[-1]):
            loose = Part(length, "", meant.answers)
    if loose is not None:
        return loose
    return _noun(words, read, 1) or Part(1, "", questions=_asked(words, read[:1]))


def _of_what_is_named(key: Key, part: list[str], meant: Meant) -> tuple[Answer, ...]:
    """The answers about what the last word names, or the first: "black spots on the wings"."""
    said = set(map(singular, part))

    def of_it(answer: Answer) -> bool:
        character = key.characters[answer.character]
        words = words_of(character)
        states = {singular(name) for at in answer.states for name in state_names(character.states[at])}
        # "spots on the wings" says nothing of them yet, though some state has wings in its name.
        return bool({singular(part[0]), singular(part[-1])} & words) and (not said <= words or bool(said & states))

    exact = tuple(filter(of_it, _best(meant)))
    return exact or tuple(filter(of_it, meant.answers))


def _named_or_bound(words: Words, read: list[str]) -> Part | None:
    """A name or a sex; or a part of the insect with what was seen of it, "the body was blue"."""
    if length := _name(words, read):
        return Part(length, "", kind=SEX if singular(read[0]) in SEXES else NAME)
    return _bound(words, read, 1) if read[1:2] == [IS] and words.has_part(read[0]) else None


def _is_name(words: Words, word: str) -> bool:
    """Whether a name begins here: "blue hawker" is blue, and has no mark that is asked of hawkers."""
    return words.named(word) or word in words.kinds or singular(word) in words.kinds


def _of_no_part(words: Words, read: list[str]) -> Part | None:
    """A size of the whole insect, where "big" is called so of some part of it only: its length is asked."""
    if read[0] not in _SIZES or any(_glanced(words.key, answer) for answer in words.exact(read[0])):
        return None
    length = _sized(words.key, ["size"])
    beside = read[1:2] != [] and words.has_part(read[1])
    return Part(1, "", questions=length) if length and not beside else None


def _glanced(key: Key, answer: Answer) -> bool:
    return key.characters[answer.character].effort == "glance"


def _shade(words: Words, read: list[str], most: int) -> Part | None:
    """What follows a shade, "navy blue": the colour, whatever the shade."""
    if read[0] not in _SHADES or most < 2 or words.has_part(read[1]) or read[1] in JOINING:
        return None
    after = _part(words, read[1:])
    return after._replace(words=after.words + 1) if after.meant else None


def _best(meant: Meant) -> tuple[Answer, ...]:
    return meant.answers[: meant.exact]


def _name(words: Words, read: list[str]) -> int:
    """How many words are a name: a whole one that has a word of its own, "chaser", or such a word by itself."""
    for length in range(min(LONGEST, len(read)), 1, -1):
        part = read[:length]
        if "".join(part) in words.kinds:  # "dragon fly"
            return length
        own = [word for word in part if words.named(word) and word not in words.kinds]
        # "Black Darter" is a name, and a black one may have been seen all the same.
        seen = length == 2 and words.exact(part[0])
        if " ".join(part) in words.full_names and own and not seen:
            return length
    return int(words.named(read[0]) or read[0] in words.kinds or singular(read[0]) in (*words.kinds, *SEXES))


def _bound(words: Words, read: list[str], noun: int) -> Part | None:
    """What was seen of the thing named first: "eyes bright green", "its wings were dark"."""
    start = noun + (read[noun : noun + 1] == [IS])
    for end in range(min(len(read), start + LONGEST - 1), start, -1):
        value = read[start:end]
        if IS in value or value[-1] in JOINING:
            continue
        for first in range(len(value)):
            if any(word not in _SHADES for word in value[:first]):
                break
            part = [*read[:noun], *value[first:]]
            meant = words.meant(" ".join(part))
            if answers := _best(meant) or _of_what_is_named(words.key, part, meant):
                return Part(end, "", answers)
    return None


def _noun(words: Words, read: list[str], length: int) -> Part | None:
    """Where what follows has its own colour or shape, these words are of it: "bright red eyes", "blue spots"."""
    noun = read[length : length + 1]
    if not noun or noun == [IS] or not words.has_part(noun[0]) or any(map(words.has_part, read[:length])):
        return None
    if "or" in read[:length] and (either := _either(words, read[:length], noun[0])):
        return Part(length + 1, "", either)
    for first in range(length):
        meant = words.meant(" ".join(read[first : length + 1]))
        if meant.answers:
            return Part(length + 1, "", _best(meant) or meant.answers)
    questions = _asked(words, noun)
    # "swollen end" is of the end, which is asked about, and not of a bloom that is at the ends.
    if exact := tuple(one for one in words.exact(noun[0]) if not questions or _glanced(words.key, one)):
        return Part(length + 1, "", exact, questions)
    own = words.exact(" ".join(read[:length]))
    if not own:
        return None  # a word unknown here, "lovely eyes", is told by itself
    near = {words.key.characters[question].part for question in questions}
    if own and noun[0] not in _WHOLE:  # "drooping tail": of the same part, though the question is not called so
        own = tuple(answer for answer in own if words.key.characters[answer.character].part in near)
    if own:
        return Part(length + 1, "", own)
    return Part(length + 1, "", questions=questions, unread=True)


def _either(words: Words, read: list[str], noun: str) -> tuple[Answer, ...]:
    """Either of two of the thing named behind both: "blue or green eyes"; none where one of them means nothing."""
    found = []
    for said in " ".join(read).split(" or "):
        meant = words.meant(f"{said} {noun}")
        found.append({answer.character: answer for answer in _best(meant) or meant.answers})
    known = [character for character in found[0] if all(character in one for one in found)]
    return tuple(
        found[0][character]._replace(states=tuple(sorted({at for one in found for at in one[character].states})))
        for character in known
    )


def _two(words: Words, read: list[str], length: int, meant: Meant) -> Part | None:
    """Two words side by side for the same thing, "reddish brown": either of them."""
    if length > 1 or len(read) < 2 or read[1] == IS or _noun(words, read[1:], 1):
        return None

    def easiest(answers: tuple[Answer, ...]) -> set[int]:
        efforts = {one.character: EFFORTS.index(words.key.characters[one.character].effort) for one in answers}
        return {character for character, effort in efforts.items() if effort == min(efforts.values())}

    other = words.exact(read[1])
    if not other or not easiest(other) & easiest(_best(meant)):
        return None
    of_other = {answer.character: answer.states for answer in other}
    both = tuple(
        answer._replace(states=tuple(sorted({*answer.states, *of_other[answer.character]})))
        for answer in _best(meant)
        if answer.character in of_other
    )
    return Part(2, "", both)


def _asked(words: Words, said: list[str]) -> tuple[int, ...]:
    """The questions that single words name."""
    named = (question_called(words.key, [word]) for word in said)
    return tuple(dict.fromkeys(one.index for one in named if one))


def _sized(key: Key, said: list[str]) -> tuple[int, ...]:
    """The question of a size, where a size was compared and the key measures one thing only."""
    measured = [one.index for one in key.characters if one.is_number]
    of_size = {"bigger", "larger", "smaller", "longer", "shorter", "big", "large", "small", "long", "size", "length"}
    return tuple(measured) if len(measured) == 1 and of_size & set(said) else ()
