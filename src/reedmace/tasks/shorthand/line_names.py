"""The name on a line: what is left of its words once everything else was read."""

import re
from collections.abc import Sequence
from itertools import pairwise

from reedmace.faults import Fault, nearest
from reedmace.keys.model import Key
from reedmace.keys.name_fits import all_names, words_of
from reedmace.keys.names import FoundName, could_mean, find_name, key_words
from reedmace.tasks.shorthand.everyday_words import everyday, too_little
from reedmace.tasks.shorthand.field_words import COLOURS, SEXES, VOCABULARY, Word, slip
from reedmace.tasks.shorthand.line_said import Counted
from reedmace.tasks.shorthand.tallies import Layout

_LONGEST = 12  # words that may be a name, as it was written with all that belongs to it
_PLACE_WORDS = ("at", "by", "from", "in", "near", "on", "over")


def coloured(key: Key, counted: Counted, words: tuple[Word, ...]) -> Counted:
    """A colour before the sex, apart from the name, as a remark: in "1 blue female emperor" the female was blue."""
    for colour, sex in pairwise(words):
        rest = tuple(word for word in counted.left if word != colour)
        apart = colour in counted.left and colour.plain in COLOURS and sex.plain in SEXES
        if not apart or not rest or any(word.start < colour.start for word in rest):
            continue
        if isinstance(find_name(key, name_text(rest)), FoundName):
            said = f"{colour.text} {sex.text}"
            return counted._replace(left=rest, remarks="; ".join(filter(None, (said, counted.remarks))))
    return counted


def name_text(words: Sequence[Word]) -> str:
    """The words of a name as one text, "or" between two names as a stroke."""
    text = " ".join(word.text for word in words)
    if "/" in text or " or " in text.casefold():
        return re.sub(r"\s+(?:or|/)\s+|\s*/\s*", "/", text, flags=re.IGNORECASE)
    return text


def name_found(key: Key, counted: Counted) -> FoundName | Fault:
    """What the words that are left on a line name, or what is wrong with them and where."""
    typed, left = counted.typed, counted.left
    start, end = (left[0].start, left[-1].end) if left else (0, len(typed.rstrip()))
    found = _too_short(left, typed) or find_name(key, name_text(left))
    if isinstance(found, Fault) and found.code == "unknown-name" and len(left) > 1:
        found = _bracketed(key, counted) or _turned(key, counted) or _word_too_many(key, counted) or found
    if isinstance(found, FoundName):
        found = everyday(key, left, found) or _part_of_a_word(key, left, found) or found
    if isinstance(found, FoundName) or found.where is not None:
        return found
    return slip(found.code, found.message, found.hint, typed, start, end)


def _part_of_a_word(key: Key, left: Sequence[Word], found: FoundName) -> Fault | None:
    """What is wrong with `wings` and `large white`: they are the half of a joined word, and may be no name at all."""
    if found.group is not None or len(found.species) != 1:
        return None
    species = key.species[found.species[0]]
    typed = words_of(name_text(left))
    joined = [[words_of(word) for word in name.split()] for name in all_names(species)]
    begun = [
        {part for word in name for part in word[:1] for one in typed if part.startswith(one)}
        | {part for part in typed if part == "".join(word[0] for word in name for _ in word[:1])}
        for name in joined
    ]
    later = any(part.startswith(one) for name in joined for word in name for part in word[1:] for one in typed)
    half = typed[-1:] and typed[-1] in COLOURS and not _whole_words_end(joined, typed)
    if not ((later and not any(begun)) or half):
        return None
    return too_little(name_text(left), species.english)


def _whole_words_end(joined: list[list[tuple[str, ...]]], typed: tuple[str, ...]) -> bool:
    """Whether the last of the typed words ends a word of a name: `blue` in Common Blue, and not in Blue-tailed."""
    ends = {word[-1] for name in joined for word in name if word}
    return typed[-1] in ends


def _too_short(left: Sequence[Word], typed: str) -> Fault | None:
    """What is wrong with two letters after "or": they are no second name, whatever begins with them."""
    for index, word in enumerate(left):
        rest = left[index + 1 :]
        if word.plain == "or" and (not rest or sum(sign.isalnum() for one in rest for sign in one.plain) < 3):
            shown = " ".join(one.text for one in rest)
            return slip(
                "ambiguous-name",
                f'After "or" comes another name; "{shown}" is too little of one.',
                "write more of the other name, or a number for  or so  to belong to:  20 or so",
                typed,
                word.start,
                (rest or [word])[-1].end,
            )
    return None


def _bracketed(key: Key, counted: Counted) -> FoundName | Fault | None:
    """`large red (Pyrrhosoma nymphula)`: the name in brackets is another one of the same insect."""
    layout = Layout(counted.typed)
    inside = [word for word in counted.left if layout.in_brackets(word.start)]
    outside = [word for word in counted.left if word not in inside]
    if not inside or not outside:
        return None
    one, other = find_name(key, name_text(outside)), find_name(key, name_text(inside))
    if not isinstance(other, FoundName):
        return None
    could_be = one.species if isinstance(one, FoundName) else could_mean(key, name_text(outside))
    if set(other.species) <= set(could_be):
        return other._replace(typed=name_text(counted.left))
    if isinstance(one, Fault) and one.code == "unknown-name":
        return one
    return slip(
        "names-differ",
        f'"{name_text(outside)}" is not "{name_text(inside)}".',
        "leave out the one that is wrong; initials of a person stand behind  by",
        counted.typed,
        outside[0].start,
        inside[-1].end,
    )


def _turned(key: Key, counted: Counted) -> FoundName | Fault | None:
    """`skimmer, black-tailed`: the word of the family first, and a comma."""
    left = counted.left
    for index, (one, other) in enumerate(pairwise(left), start=1):
        if counted.typed[one.end : other.start].strip() == ",":
            found = find_name(key, name_text((*left[index:], *left[:index])))
            if isinstance(found, FoundName) or found.code == "ambiguous-name":
                return found
    return None


def _word_too_many(key: Key, counted: Counted) -> Fault | None:
    """Words beside a name, and like no word of one: these are told, not the whole."""
    left, known = counted.left, key_words(key)
    strange = [not nearest(word.plain, known, cutoff=0.75) or word.plain in _PLACE_WORDS for word in left]
    for length in range(max(1, len(left) - _LONGEST), len(left)):
        for start in range(len(left) - length + 1):
            rest = (*left[:start], *left[start + length :])
            part = left[start : start + length]
            # Behind "on" a word may be like one of a name, reeds and red: only one that is of a name belongs to it.
            where = part[0].plain in _PLACE_WORDS and known.isdisjoint(
                one for word in part[1:] for one in words_of(word.plain)
            )
            if not (where or all(strange[start : start + length])):
                continue
            if not isinstance(find_name(key, name_text(rest)), FoundName):
                continue
            first, last = left[start], left[start + length - 1]
            if (two := _two_names(key, counted, part, rest)) is not None:
                return two
            text = counted.typed[first.start : last.end]
            what = "are" if " " in text else "is"
            hint = "to keep it as a remark, put it in quotes or after  #  ; see  reedmace log --words"
            if first.plain in _PLACE_WORDS:
                hint = f'for its place:  @ SU 433 119 "outflow ditch"  ; {hint}'
            if length == 1 and re.fullmatch(r"[a-z]{1,2}(?:[0-9]{2}){2,5}", first.plain, re.ASCII):
                hint = f"for its place:  @ {text}"
            elif length == 1 and re.fullmatch(r"[a-z]{2,5}_?[0-9]{3,}(?:-[0-9]+)?", first.plain, re.ASCII):
                hint = f'for a photograph write its file with the ending:  {text}.jpg  ; or  photo "{text}"'
            message = f'"{text}" {what} no part of a name in this key, nor a word of the shorthand.'
            return slip("word-not-read", message, hint, counted.typed, first.start, last.end)
    return None


def _two_names(key: Key, counted: Counted, part: Sequence[Word], rest: Sequence[Word]) -> Fault | None:
    """What is wrong with `emp 1m chasing 4-spot`: each of the two is a name of its own."""
    if not isinstance(find_name(key, name_text(part)), FoundName):
        return None
    first, second = sorted((part, rest), key=lambda words: words[0].start)
    return slip(
        "several-on-line",
        f'A line is for one insect, and this one names "{name_text(first)}" and "{name_text(second)}".',
        "write a line for each; what one did with the other in quotes, initials of a person behind  by",
        counted.typed,
        second[0].start,
        second[-1].end,
    )


def number_in_name(key: Key, words: Sequence[Word]) -> Word | None:
    """A figure that stands apart from the next word, and could begin a name of the key with it: `4 spot`."""
    for one, other in pairwise(words):
        if len(one.plain) != 1 or not one.plain.isdigit() or other.quoted or other.plain in VOCABULARY:
            continue
        joined = words_of(f"{one.text} {other.text}")
        if len(joined) != 2 or len(joined[1]) < 3:
            continue
        names = (words_of(name) for species in key.species for name in all_names(species))
        if any(a == joined[0] and b.startswith(joined[1]) for name in names for a, b in pairwise(name)):
            return one
    return None


def number_or_name(typed: str, words: Sequence[Word], number: Word) -> Fault:
    """What is wrong with `4 spot chaser`: four of them, or the name."""
    name = words[words.index(number) + 1]
    joined = f"{number.text}-{name.text}"
    return slip(
        "number-or-name",
        f'The {number.text} could be how many, or belong to "{name.text}".',
        f"write  {joined}  for the name,  {number.text} {joined}  for {number.text} of them",
        typed,
        number.start,
        name.end,
    )
