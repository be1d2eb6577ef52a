"""Times of day in several words, or with a word for their clock, as one: `2.30 pm`, `10 a.m.`, `1030hrs`, `11:15 BST`.

Clocks in summer show summer time, so that "BST" says nothing more; "GMT" may be an hour off what they showed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import Word, slip

_HALF = r"([ap])\.?m\.?"
_HOURS = ("h", "hr", "hrs", "hours")
_NOON = ("noon", "midday")
_SUMMER = ("bst", "ist")
_ZONES = ("gmt", "utc", "ut", "z")
_TIME = r"(?:.*[-–—])?(?:[01]?[0-9]|2[0-3])(?:[:.h]?[0-5][0-9])?"
_WITH_MINUTES = r"(?:.*[-–—])?(?:[01]?[0-9]|2[0-3])[:.][0-5][0-9]"
_WHOLE = r"(?:.*[-–—])?(?:[01]?[0-9]|2[0-3])(?:[:.][0-5][0-9](?:[ap]m)?|[ap]m)"
_GLUED = r"([01]?[0-9]|2[0-3])[:.]?([0-5][0-9])(?:h|hrs?)(?=$|[-–—])"


def halves_joined(text: str) -> str:
    """A time of day with am or pm written in one with it: `2.30 p.m.` as `2.30pm`."""
    return re.sub(rf"\s*{_HALF}$", r"\1m", text)


def one_word_a_time(words: Sequence[Word], typed: str, *, hours: bool = False) -> tuple[Word, ...] | Fault:
    """The words, each time of day as one; with `hours` so is a bare hour before am, pm or hrs."""
    found: list[Word] = []
    for at, word in enumerate(words):
        before = found[-1] if found and not found[-1].quoted else None
        close = before is not None and typed[before.end : word.start].isspace()
        plain = _split_glued(word) if not word.quoted and word.plain[:1].isdigit() else word.plain
        if before is None or not close or word.quoted or not before.plain[-1:].isalnum():
            found.append(word._replace(plain=plain))
            continue
        half = re.fullmatch(_HALF, plain)
        at_hour = hours or (at > 1 and words[at - 2].plain == "at")
        if half and re.fullmatch(_TIME if at_hour else _WITH_MINUTES, before.plain, re.ASCII):
            found[-1] = _joined(before, word, f"{before.plain}{half[1]}m", typed)
        elif half and re.fullmatch(r"[0-9]{1,2}", before.plain, re.ASCII) and 0 < int(before.plain) <= 12:
            return _count_or_hour(before, word, f"{half[1]}m", typed)
        elif before.plain == "12" and plain in _NOON:
            found[-1] = _joined(before, word, plain, typed)
        elif plain in _HOURS and re.fullmatch(_WITH_MINUTES, before.plain, re.ASCII):
            found[-1] = _joined(before, word, before.plain, typed)
        elif plain in _HOURS and (four := re.fullmatch(r"([01][0-9]|2[0-3])([0-5][0-9])", before.plain, re.ASCII)):
            found[-1] = _joined(before, word, f"{four[1]}:{four[2]}", typed)
        elif plain in _SUMMER and re.fullmatch(_WHOLE, before.plain, re.ASCII):
            found[-1] = _joined(before, word, before.plain, typed)
        elif plain in _ZONES and re.fullmatch(_WHOLE, before.plain, re.ASCII):
            return _by_which_clock(before, word, typed)
        else:
            found.append(word._replace(plain=plain))
    return tuple(found)


def _split_glued(word: Word) -> str:
    """`1030hrs` and `10:30h-12:15h` with the minutes after a colon; `11h30` says them itself."""
    plain = re.sub(r"([0-9])([ap])\.m\.?(?=$|[-–—])", r"\1\2m", word.plain)
    if "h" not in plain:
        return plain
    return "-".join(re.sub(_GLUED, r"\1:\2", part, flags=re.ASCII) for part in re.split("[-–—]", plain))


def _joined(before: Word, word: Word, plain: str, typed: str) -> Word:
    return Word(typed[before.start : word.end], plain, before.start, word.end)


def _count_or_hour(number: Word, half: Word, short: str, typed: str) -> Fault:
    said = typed[number.start : half.end]
    return slip(
        "count-or-time",
        f'"{said}" could be a time, or how many there were and when.',
        f'write  {number.text}{short}  for the time,  {number.text} "{half.text}"  for the count',
        typed,
        number.start,
        half.end,
    )


def _by_which_clock(time: Word, zone: Word, typed: str) -> Fault:
    said = typed[time.start : zone.end]
    return slip(
        "time-by-which-clock",
        f'"{said}" is an hour before what clocks show in summer.',
        f"write what the clocks showed, and no more:  {time.text}  , or an hour later in summer",
        typed,
        time.start,
        zone.end,
    )
