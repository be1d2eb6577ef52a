"""Strokes of a tally, and the number of a line in a list: marks beside a name that could be taken for a count.

`|||` and `II` are as many as there are strokes; four may be a five, for nobody types the stroke across. `1.` before a
name counts the lines of a list as often as the insects.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, slip

_STROKES = r"[|¦ǀ]{2,}|I{2,}"
_ONE = ("|", "¦", "ǀ", "I")
_FOUR = 4


def in_strokes(words: Sequence[Word], typed: str) -> tuple[Word, ...] | Fault:
    """The words of a line with strokes, such as `||| ||`, as their number; those that may be more are a fault."""
    found: list[Word] = []
    groups: list[Word] = []
    table = typed.lstrip().startswith("|")  # where a stroke alone parts the cells
    for word in (*words, None):
        if word is not None and not word.quoted and _is_group(word, more=bool(groups) and not table):
            groups.append(word)
            continue
        if groups:
            number = sum(len(one.text) for one in groups)
            if any(len(one.text) == _FOUR for one in groups):
                return _may_be_five(groups, number, typed)
            first, last = groups[0], groups[-1]
            found.append(Word(typed[first.start : last.end], str(number), first.start, last.end))
            groups = []
        if word is not None:
            found.append(word)
    return tuple(found)


def _is_group(word: Word, *, more: bool) -> bool:
    """Whether a word is of strokes; `more` says that it stands behind others, where it may be one alone."""
    return re.fullmatch(_STROKES, word.text) is not None or (more and word.text in _ONE)


def _may_be_five(groups: Sequence[Word], number: int, typed: str) -> Fault:
    crossed = number + sum(len(one.text) == _FOUR for one in groups)
    first, last = groups[0], groups[-1]
    return slip(
        "strokes-unclear",
        f'"{typed[first.start : last.end]}" could be {number}, or {crossed} where a stroke goes across four.',
        f"write the number:  {number}  or  {crossed}",
        typed,
        first.start,
        last.end,
    )


def list_number(words: Sequence[Word], typed: str) -> Fault | None:
    """What is wrong with `1. large red` and `2) azure`: how many there were, or which line of a list it is."""
    found = re.match(r"\s*(\(?([0-9]{1,3})[.)])\s", typed, re.ASCII)
    if found is None or len(words) < 2 or words[1].quoted:
        return None
    said, number = found[1], found[2]
    return slip(
        "count-or-line",
        f'"{said}" could be how many there were, or the number of the line in a list.',
        f"write  {number}  for how many; leave the number of a line out",
        typed,
        found.start(1),
        found.end(1),
    )
