"""The number that stands at a place in a line, with what is written in one with it: `12`, `~40`, `2m/3f`, `3cop`."""

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import ABOUT, AT_LEAST, BELOW, OVER, SEXES, VOCABULARY, Word, slip
from reedmace.tasks.shorthand.tallies import Part, Tally

# The bands of common recording forms: 1, 2–5, 6–20, 21–100, 101–500, over 500 (practice).
BANDS = frozenset({(2, 5), (6, 20), (21, 100), (101, 500)})
_TWO = frozenset({("at", "least"), ("more", "than"), ("up", "to")})
_COUNT = r"([~≈±<>≤≥]=?|ca?\.?|x|×)?([0-9]{1,6})(?:(?:-|–|\.\.)([0-9]{1,6}))?(\+|-?ish)?([x×]|[^\W\d_♂♀]+|♂+|♀+)?"
_FIGURES = r"()([0-9]{1,6})()()()"  # the same of figures alone, as most counts are: compiled in a tenth of the time


def count_parts(words: Sequence[Word], at: int, typed: str) -> tuple[list[Part], int] | Fault | None:
    """The parts that a number at `at` begins, and where they end; None where no number stands there."""
    if words[at].quoted:
        return None
    led = _led(words, at, typed)
    if led is None:
        return None
    word, lead, following = led
    plain = word.plain
    if not any(sign.isdigit() for sign in plain):
        return None
    joined = any(sign in plain for sign in "+/&")
    pieces = re.split(r"(?<=[\w♂♀])[+/&](?=[~0-9])", plain) if joined else [plain]  # 2m+3f, 2m/3f
    parts: list[Part] = []
    for number, piece in enumerate(pieces):
        found = re.fullmatch(_FIGURES if piece.isdecimal() else _COUNT, piece)
        if found is None or (not piece.isascii() and not re.fullmatch(r"[\x00-\x7f♂♀×≈±≤≥–]*", piece)):
            return None
        tail = found[5] or ""
        if tail not in ("", "x", "×") and VOCABULARY.get(tail, ("",))[0] not in ("sex", "stage", "pairs", "pair"):
            return None
        if len(pieces) > 1 and tail not in SEXES:
            return None
        shown = piece if len(pieces) > 1 else word.text.casefold()
        counted = word.text if len(pieces) == 1 else piece
        tally = _tally(found, lead if number == 0 else "", _less(counted, tail), typed, word)
        if isinstance(tally, Fault):
            return tally
        parts.append(Part("count", tally, word))
        if tail in VOCABULARY and tail not in ("x", "×"):
            kind, meaning = VOCABULARY[tail]
            if kind == "sex":
                parts[-1] = Part("count", tally._replace(sex=meaning, typed=shown), word)
            else:
                parts.append(Part(kind, meaning, word, glued=True))
    return parts, following


def _less(counted: str, tail: str) -> str:
    """A number without what is written in one with it."""
    return counted[: -len(tail)].rstrip() if tail and counted.casefold().endswith(tail) else counted


def _led(words: Sequence[Word], at: int, typed: str) -> tuple[Word, str, int] | None:
    """The number with the words before it as one, their sign, and where it ends; None for such words without one."""
    plain, ahead = words[at].plain, at + 1
    if plain in ("x", "×") and _plain(words, ahead)[:1].isdecimal():  # "emp x 2", "emp x 2m"
        lead = ""
    elif plain in ABOUT | AT_LEAST | OVER | BELOW or (plain, _plain(words, ahead)) in _TWO:
        ahead += (plain, _plain(words, ahead)) in _TWO
        if not _plain(words, ahead)[:1].isdigit():
            return None
        lead = (
            "~"
            if plain in ABOUT or plain == "up"
            else ">"
            if plain in OVER or plain == "more"
            else "<"
            if plain in BELOW
            else "≥"
        )
    else:
        return words[at], "", ahead
    start, number = words[at].start, words[ahead]
    return Word(typed[start : number.end], number.plain, start, number.end), lead, ahead + 1


def _plain(words: Sequence[Word], at: int) -> str:
    return words[at].plain if at < len(words) and not words[at].quoted else ""


def _tally(found: re.Match[str], lead: str, shown: str, typed: str, word: Word) -> Tally | Fault:
    number, to = int(found[2]), int(found[3]) if found[3] else None
    sign = lead or found[1] or ""
    if number == 0:
        return slip(
            "zero-count",
            "A count of 0 could mean absent, or present and not counted.",
            "leave the number out when it was not counted; leave the line out when it was not there",
            typed,
            word.start,
            word.end,
        )
    if sign in ("<", "<=", "≤"):
        return slip(
            "count-not-read",
            "A count below a number does not say that there were any.",
            "give what was counted, or a range such as  2-5",
            typed,
            word.start,
            word.end,
        )
    if to is not None:
        if to <= number:
            return slip(
                "count-range",
                f"A count from {number} to {to} does not rise.",
                "give the lower number first, such as  6-20",
                typed,
                word.start,
                word.end,
            )
        return Tally(number, "band" if (number, to) in BANDS and not sign else "estimate", shown, to=to)
    if sign in (">", "≥", ">="):
        return Tally(number + (sign == ">"), "at least", shown)
    if sign in ("", "x", "×"):
        return Tally(number, "at least" if found[4] == "+" else "estimate" if found[4] else "exact", shown)
    return Tally(number, "estimate", shown)
