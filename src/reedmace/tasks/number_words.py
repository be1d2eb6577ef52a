"""Numbers in words, and letters that some forms have for numbers."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.tasks.field_words import NUMBERS, Word, slip


def in_figures(words: tuple[Word, ...]) -> tuple[Word, ...]:
    """The words of a line with those for numbers in figures; what "a dozen" and "half a dozen" begin with goes too."""
    found: list[Word] = []
    for word in words:
        figures = None if word.quoted else NUMBERS.get(word.plain)
        if figures is None:
            found.append(word)
            continue
        taken = [word]
        if word.plain == "dozen" and found and found[-1].plain == "a":
            taken.insert(0, found.pop())
        if word.plain == "dozen" and found and found[-1].plain == "half":
            taken.insert(0, found.pop())
            figures = "6"
        found.append(Word(" ".join(one.text for one in taken), figures, taken[0].start, word.end))
    return tuple(found)


def has_number_word(words: tuple[Word, ...]) -> bool:
    """Whether a line has a word for a number, outside quotes."""
    return any(not word.quoted and word.plain in NUMBERS for word in words)


def couple_told(words: tuple[Word, ...], typed: str) -> Fault | None:
    """What is wrong with "a couple": it may be two insects, or one pair."""
    for word in words:
        if word.plain == "couple":
            message = "A couple could be two insects, or a pair."
            hint = "write  2  for two insects,  1 tan  or  1 cop  for a pair"
            return slip("couple-unclear", message, hint, typed, word.start, word.end)
    return None


def letter_told(words: tuple[Word, ...], typed: str) -> Fault | None:
    """A single capital A to F where a number could stand: some forms have such letters for bands."""
    said = [word for word in words if word.plain != "?" and not word.quoted]
    if len(said) < 2 or any(sign.isdigit() for word in said for sign in word.plain):
        return None
    for word in (said[-1], said[0]):
        # At the beginning it may be a genus: "C puella"; there only F would be taken for something else.
        if word.text in ("A", "B", "C", "D", "E", "F") and (word is said[-1] or word.text == "F"):
            hint = "write a count, or a band such as  2-5" + (" ; for females  f" if word.text == "F" else "")
            message = f'"{word.text}" could be a letter for how many.'
            return slip("letter-for-count", message, hint, typed, word.start, word.end)
    return None
