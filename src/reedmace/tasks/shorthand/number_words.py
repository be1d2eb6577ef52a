"""Numbers in words, and letters that some forms have for numbers."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import NUMBERS, TENS, TIMES, Word, slip


def in_figures(words: tuple[Word, ...]) -> tuple[Word, ...]:
    """The words of a line with those for numbers in figures: `twelve`, `twenty-five`, `a dozen`, `two hundred`."""
    found: list[Word] = []
    for word in words:
        figures = None if word.quoted else _figures(word.plain)
        before = found[-1] if found and not found[-1].quoted else None
        taken = [word]
        if figures is None:
            pass
        elif word.plain in TIMES and before is not None and before.plain in ("a", "half", "½"):
            taken.insert(0, found.pop())
            half = (
                before if before.plain in ("half", "½") else found[-1] if found and found[-1].plain == "half" else None
            )
            if half is not None:
                figures = str(TIMES[word.plain] // 2)
            if half is not None and half is not before:
                taken.insert(0, found.pop())
        elif word.plain in TIMES and before is not None and before.plain.isdecimal():
            figures = str(int(before.plain) * TIMES[word.plain])
            taken = [found.pop(), word]
        elif before is not None and before.text.casefold() in TENS and len(figures) == 1 and word.plain != "an":
            figures = str(int(before.plain) + int(figures))
            taken = [found.pop(), word]
        elif word.plain == "ten" and before is not None and before.plain.isdecimal():
            figures = None  # 3 ten: three tenerals
        if figures is None:
            found.append(word)
        else:
            found.append(Word(" ".join(one.text for one in taken), figures, taken[0].start, word.end))
    return tuple(found)


def _figures(plain: str) -> str | None:
    tens, sign, ones = plain.partition("-")
    if sign and tens in TENS and len(NUMBERS.get(ones, "")) == 1:
        return str(int(TENS[tens]) + int(NUMBERS[ones]))
    return NUMBERS.get(plain)


def has_number_word(words: tuple[Word, ...]) -> bool:
    """Whether a line has a word for a number, outside quotes."""
    return any(not word.quoted and _figures(word.plain) for word in words)


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
