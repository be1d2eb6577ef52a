"""Numbers on a line that count no insects: the 12 of noon, how many photographs, and three of five."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import SEXES, VOCABULARY, Word, slip

NOON = ("noon", "midday")
_SEVERAL = ("photos", "pics", "photographs", "pictures")


# Words for how many that say no number, by one that they could stand for.
_MANY = {
    5: ("handful",),
    30: ("dozens", "10s", "scores", "score"),
    200: ("hundreds", "100s"),
    2000: ("thousands", "1000s"),
}


def near_told(word: Word, following: Word | None, typed: str) -> Fault | None:
    """What is wrong with `nr "inlet"`: no name follows the sign, so it may say where the insect was."""
    if not word.plain.startswith("nr") or (following is not None and not following.quoted):
        return None
    place = following.text if following is not None else "the inlet"
    return slip(
        "word-not-read",
        f'"{word.text}" could be near a place, or the sign before a name that the insect is like.',
        f'for the place write  "{word.text} {place}"  in quotes; the sign stands before the name',
        typed,
        word.start,
        following.end if following is not None else word.end,
    )


def photos_counted(words: Sequence[Word], at: int, typed: str) -> bool:
    """Whether the number at `at` says how many photographs there are: `3 photos`."""
    word, following = words[at], words[at + 1] if at + 1 < len(words) else None
    if following is None or following.quoted or following.plain not in _SEVERAL or not word.plain.isdecimal():
        return False
    return not typed[word.end : following.start].strip()


def aside_told(words: Sequence[Word], at: int, typed: str) -> Fault | None:
    """What is wrong with a number that could count something else: `3 of 5`, `photo x3`, `photo 2`."""
    word = words[at]
    times = word.plain in ("x", "×") and _plain(words, at + 1).isdecimal()
    if not word.plain[-1:].isdigit() and not times:
        return None
    if _plain(words, at + 1) == "of" and _plain(words, at + 2)[:1].isdigit():
        all_of_them = words[at + 2]
        example = f'{all_of_them.text} exuviae "{word.text} taken"'
        return slip(
            "total-unclear",
            f'"{word.text} of {all_of_them.text}" could say that there were {word.text}, or {all_of_them.text}.',
            f"write how many there were, and the rest as a remark, such as  {example}",
            typed,
            word.start,
            all_of_them.end,
        )
    if (
        word.plain.isdecimal()
        and _plain(words, at + 1).rstrip(".") == "min"
        and not _plain(words, at + 2)[:1].isdigit()
    ):
        minutes = words[at + 1]
        return slip(
            "count-or-time",
            f'"{typed[word.start : minutes.end]}" could be {word.text} minutes, or at least {word.text} insects.',
            f"write  {word.text}+  for the insects,  for {word.text} min  for the time",
            typed,
            word.start,
            minutes.end,
        )
    last = at + 1 >= len(words) or any(sign in typed[word.end : words[at + 1].start] for sign in ",;")
    numbered = times or word.plain[:1] in ("x", "×") or (word.plain.isdecimal() and last)  # photo 2: its number
    if two := re.fullmatch(r"([0-9]{1,4})/([0-9]{1,4})", word.plain, re.ASCII):
        first, second = two[1], two[2]
        return slip(
            "two-counts",
            f'"{word.text}" could be {first} of one sex and {second} of the other, or {first} or {second} of them.',
            f"write  {first}m {second}f  or  {first}-{second}",
            typed,
            word.start,
            word.end,
        )
    if at == 0 or not numbered or VOCABULARY.get(_plain(words, at - 1), ("", ""))[1] != "photo":
        return None
    photo, number = words[at - 1], words[at + 1] if times else word
    if typed[photo.end : word.start].strip():  # a comma stands between
        return None
    many = number.plain.lstrip("x×")
    return slip(
        "insects-or-photos",
        f'"{typed[photo.start : number.end]}" could be {many} photographs, or {many} insects.',
        f"write  {many} photos  for the photographs,  {many} emperor, photo  for the insects",
        typed,
        photo.start,
        number.end,
    )


def person_or_place(words: Sequence[Word], names: Sequence[Word], end: int, lead: Word, typed: str) -> Fault | None:
    """What is wrong with `by Pond 2`: a word alone and a number may be the name of a place."""
    last, number = names[-1], words[end] if end < len(words) else None
    if number is None or number.quoted or not number.plain.isdecimal() or last.quoted or " " in last.text:
        return None
    if typed[last.end : number.start].strip():
        return None
    said = typed[last.start : number.end]
    return slip(
        "person-or-place",
        f'"{said}" could be a place, or a person and how many there were.',
        f"for the person put the number elsewhere:  {number.text} emperor {lead.text} {last.text} ; "
        f'for the place write a remark:  "{lead.text} {said}"',
        typed,
        last.start,
        number.end,
    )


def tens_told(words: Sequence[Word], at: int, typed: str) -> Fault | None:
    """What is wrong with `tens of large red`: tenerals only where it is said how many, `3 tens`."""
    if _plain(words, at - 1)[-1:].isdigit() and _plain(words, at + 1) != "of":
        return None
    word = words[at]
    return slip(
        "tens-unclear",
        f'"{word.text}" could be tenerals, or say that there were some tens.',
        "write  teneral  for the stage; for how many, an estimate such as  ~30  or  20+",
        typed,
        word.start,
        word.end,
    )


def ten_told(words: Sequence[Word], at: int, typed: str) -> Fault | None:
    """What is wrong with `ten males` and `ten large red`: a number, or tenerals, where no other number stands by it."""
    word, before, after = words[at], _plain(words, at - 1), _plain(words, at + 1)
    counted = any(not one.quoted and any(map(str.isdigit, one.plain)) for one in words)
    parted = bool(at) and any(sign in typed[words[at - 1].end : word.start] for sign in ",;")
    if after[:1].isdigit() or (not parted and (before[:1].isdigit() or before in SEXES)):
        return None
    if counted and VOCABULARY.get(after, ("",))[0] not in ("sex", "pairs", "pair"):
        return None
    return slip(
        "ten-unclear",
        f'"{word.text}" could be the number, or tenerals.',
        "write  10  for the number,  teneral  for the stage",
        typed,
        word.start,
        word.end,
    )


def many_told(left: Sequence[Word], typed: str) -> Fault | None:
    """What is wrong with `hundreds of large red`, `dozens` and `a handful`, once they are no name."""
    for word in left:
        found = next((number for number, words in _MANY.items() if word.plain in words), None)
        if found is None:
            continue
        return slip(
            "many-unclear",
            f'"{word.text}" says no number.',
            f"write an estimate or the least there were, such as  ~{found}  or  {found}+ ; or  many",
            typed,
            word.start,
            word.end,
        )
    return None


def _plain(words: Sequence[Word], at: int) -> str:
    return words[at].plain if 0 <= at < len(words) and not words[at].quoted else ""


TEN = {"ten": ten_told, "tens": tens_told}
"""Words that could be a number or a stage, each with what tells of it."""
