"""A short word that is both a sex or a stage and a part of a name: `willow em dam`, `willow em`, `m hawker`."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reedmace.faults import Fault
from reedmace.keys.names import FoundName
from reedmace.tasks.shorthand.field_words import SEXES, STAGES, VOCABULARY, Word, slip
from reedmace.tasks.shorthand.line_said import Counted


def part_of_name(
    with_word: Callable[[Word], FoundName | Fault], name: FoundName, counted: Counted, words: Sequence[Word]
) -> Word | Fault | None:
    """A word that was taken for a sex or a stage and is a part of the line's name, or what is wrong where it may be.

    `with_word` tells what the line names with a word as a part of its name.
    """
    for at, word in enumerate(words):
        if word.quoted or len(word.plain) > 3 or word in counted.left:
            continue
        ahead = _beside(counted, words, at - 1, at)
        behind = _beside(counted, words, at + 1, at)
        kind = VOCABULARY.get(word.plain, ("",))[0]
        if kind == "stage" and ahead:
            found = with_word(word)
            whole = isinstance(found, FoundName)
            if behind and whole and _same(found, name):
                return word  # willow em dam
            longer = whole and _same(found, name._replace(typed=f"{name.typed} {word.text}"), typed=True)
            if longer or (behind and (whole or _several(found))):
                return _either(word, f"a stage ({STAGES[word.plain]})", STAGES[word.plain], name, counted.typed)
        elif kind == "sex" and behind and _bare_group(name, counted) and _letter(word) and _named(with_word(word)):
            return _either(word, SEXES[word.plain], SEXES[word.plain], name, counted.typed)
    return None


def _bare_group(name: FoundName, counted: Counted) -> bool:
    """Whether a line names a group by its word alone: "hawkers", but not "hawker sp."."""
    return name.group is not None and len(counted.left) == 1


def _letter(word: Word) -> bool:
    return len(word.plain) == 1 and word.text.isalpha()


def _beside(counted: Counted, words: Sequence[Word], at: int, word: int) -> bool:
    """Whether the word at `at` is of the name, and nothing but a blank parts it from the other."""
    if not 0 <= at < len(words) or words[at] not in counted.left:
        return False
    first, last = sorted((at, word))
    gap = counted.typed[words[first].end : words[last].start]
    return gap.lstrip(".").isspace()


def _same(found: FoundName | Fault, name: FoundName, *, typed: bool = False) -> bool:
    if isinstance(found, Fault):
        return False
    return (found if typed else found._replace(typed=name.typed)) == name


def _named(found: FoundName | Fault) -> bool:
    return isinstance(found, FoundName)


def _several(found: FoundName | Fault) -> bool:
    return isinstance(found, Fault) and found.code == "ambiguous-name"


def _either(word: Word, what: str, in_full: str, name: FoundName, typed: str) -> Fault:
    sort = "stage" if word.plain in STAGES else "sex"
    return slip(
        f"{sort}-or-name",
        f'"{word.text}" could be {what}, or belong to "{name.typed}".',
        f"write more of the name, or the {sort} in full:  {name.typed}, {in_full}",
        typed,
        word.start,
        word.end,
    )
