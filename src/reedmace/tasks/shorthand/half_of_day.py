"""Times of day that do not say which half of the day: `2.30` is as often half past two in the afternoon."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, slip

_UNCLEAR = r"(?:from|at|c)?([1-6])(?:([.h])([0-5][0-9]))?"


def halves(word: str, *, bare: bool = True) -> tuple[str, str] | None:
    """The two times that a word may be, `HH:MM`; None where it says which, or is none.

    With a colon (`2:30`), two figures for the hour (`02.30`) or am and pm it says which. `bare` takes an hour alone.
    """
    found = re.fullmatch(_UNCLEAR, word, re.ASCII)
    if found is None or not (found[2] or bare):
        return None
    hour, minutes = int(found[1]), found[3] or "00"
    return f"{hour:02}:{minutes}", f"{hour + 12}:{minutes}"


def later_than(start: str, word: str) -> str | None:
    """The one of the two times of a word that comes after `start`; None where both do, or it is no such time."""
    both = halves(word)
    return both[1] if both is not None and both[0] < start < both[1] else None


def half_meant(text: str, after: str | None) -> str | Fault | None:
    """The time of a text that may be two, where it comes after another; else the fault. None where the text says it."""
    unclear = time_unclear(Word(text, text.casefold(), 0, len(text)), text)
    if unclear is None:
        return None
    return (later_than(after, text.casefold()) if after else None) or unclear._replace(where=None)


def time_unclear(word: Word, typed: str, *, bare: bool = False, last: Word | None = None) -> Fault | None:
    """The fault of a time that may be two, with both; None where it is clear. `last` is where the carets end."""
    both = halves(word.plain, bare=bare) if not word.quoted else None
    if both is None:
        return None
    night, afternoon = both
    lasting = "h" in word.plain
    could = f"{night}, {afternoon}, or how long it took" if lasting else f"{night} or {afternoon}"
    hint = f"write  {afternoon}  for the afternoon,  {night}  for the night"
    hint += "; how long it took as a remark after  #" if lasting else ""
    shown = typed[word.start : (last or word).end]
    return slip("time-unclear", f'"{shown}" could be {could}.', hint, typed, word.start, (last or word).end)
