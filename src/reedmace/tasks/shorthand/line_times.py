"""Times of day within a line of something seen: after "at", and four figures that could be a time or a count."""

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, clock, slip
from reedmace.tasks.shorthand.half_of_day import time_unclear

FOUR_FIGURES = r"([01][0-9]|2[0-3])([0-5][0-9])"


def time_after_at(word: Word | None, typed: str) -> str | Fault | None:
    """The time that a word behind "at" gives: `at 2pm`, `at 11:40`, `at 1140`."""
    if word is None or word.quoted:
        return None
    found = re.fullmatch(FOUR_FIGURES, word.plain, re.ASCII)
    if found is None and word.plain.isdecimal():
        hint = f"write it with minutes, or with am or pm:  11:00 , 2pm ; a count without  at :  {word.text}"
        return slip("time-not-read", f'"at {word.text}" is no time.', hint, typed, word.start, word.end)
    if clock(word.plain) and (unclear := time_unclear(word, typed)) is not None:
        return unclear
    return f"{found[1]}:{found[2]}" if found else clock(word.plain)


def count_or_time(words: Sequence[Word], at: int, typed: str) -> Fault | None:
    """What is wrong with `emperor 1130 m`: four figures are as often a time as a count."""
    word = words[at]
    if not word.text[:4].isdecimal() or len(word.text) < 4:
        return None
    found = re.fullmatch(rf"{FOUR_FIGURES}(?:[-–]{FOUR_FIGURES})?", word.text, re.ASCII)
    if found is None or (at and words[at - 1].plain in ("x", "×")):
        return None
    time = f"{found[1]}:{found[2]}"
    count = f"x{word.text}" if found[3] else f"x{word.text}  or  {word.text[:1]},{word.text[1:]}"
    return slip(
        "count-or-time",
        f'"{word.text}" could be a count, or a time.',
        f"write  {time}  for the time,  {count if word.text[0] != '0' else f'x{word.text}'}  for the count",
        typed,
        word.start,
        word.end,
    )
