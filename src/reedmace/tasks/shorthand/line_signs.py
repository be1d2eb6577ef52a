"""Signs that stand alone on a line: those that part its words, those that say "none", and those that say nothing known.

`emperor –` and an empty box before a name say that there were none, as a 0 could: a fault, for a line of the ledger
is something that was there. A sign that is none of the shorthand's is a fault as a word is, never passed over.
"""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import VOCABULARY, Word, cut, slip
from reedmace.tasks.shorthand.number_words import has_number_word

_DASHES = frozenset(("-", "–", "—", "−", "‐", "‑"))
_NONE = frozenset("✗✘❌❎☒✕✖☐□▢⬜◻∅⊘🚫⛔")
# Signs between words that say nothing of their own: dashes, strokes, dots, stars of a list, brackets left over.
_PARTING = frozenset("-–—−‐‑=:/\\|·•‣◦*_.…!'’&+×,;()[]✓✔☑✅")
_TICKS = frozenset("✓✔☑✅")
_NONE_WORDS = frozenset(("absent", "nil", "none", "no", "zero", "nought"))
_SEEN = frozenset(("seen", "found", "present", "there", "noted", "recorded", "any"))
_SAYING = ("present", "behaviour", "pairs", "pair", "rest")  # kinds of words by which something was there
_STRUCK = frozenset("\u0335\u0336\u0337\u0338")  # strokes through the letter before
_LOOKS = "\ufe0e\ufe0f"  # these only say whether a sign is drawn in colours


def sign_told(words: Sequence[Word], at: int, typed: str) -> Fault | None:
    """What is wrong with a word of signs alone: it says that there were none, or nothing that is known."""
    word = words[at]
    if any(sign.isdecimal() and not sign.isascii() for sign in word.plain):
        shown = "".join(str(int(sign)) if sign.isdecimal() else sign for sign in word.text)
        message = f'"{word.text}" is in figures of another script.'
        return slip("word-not-read", message, f"write  {shown}", typed, word.start, word.end)
    if any(sign.isalnum() for sign in word.plain):
        return None
    plain = word.plain.strip(_LOOKS)
    if any(sign in _NONE for sign in plain) or (plain in _DASHES and _stands_for_none(words, at, typed)):
        return absence(word.text, word.start, word.end, typed)
    if (strokes := _ticks(words, at)) > 1:
        return slip(
            "word-not-read",
            f"{strokes} ticks could count {strokes} insects, or say that it was there.",
            f"write  {strokes}  for the number; one tick where it was there",
            typed,
            word.start,
            word.end,
        )
    if all(sign in _PARTING for sign in plain) or (plain == ">" and at == 0):  # a message that was quoted
        return None
    return slip(
        "word-not-read",
        f'"{word.text}" is no sign of the shorthand.',
        "leave it out, or keep it as a remark in quotes or after  #  ; see  reedmace log --words",
        typed,
        word.start,
        word.end,
    )


def _ticks(words: Sequence[Word], at: int) -> int:
    """How many ticks stand here and right before, in one word or several."""
    ticks = 0
    while at >= 0 and not words[at].quoted and (plain := words[at].plain.strip(_LOOKS)) and set(plain) <= _TICKS:
        ticks, at = ticks + len(plain), at - 1
    return ticks


def _stands_for_none(words: Sequence[Word], at: int, typed: str) -> bool:
    """Whether a dash stands where a number could: last between its commas, where nothing says that some were there."""
    following = next((word for word in words[at + 1 :] if word.plain != "|"), None)  # a row of a table
    if at == 0 or (following is not None and not following.quoted and not _parted(words[at], following, typed)):
        return False
    first = at
    while first and not _parted(words[first - 1], words[first], typed):
        first -= 1
    beside = tuple(word for word in words[first:at] if not word.quoted and word.plain != "|")
    counted = any(sign.isdigit() for word in beside for sign in word.plain) or has_number_word(beside)
    return bool(beside) and not (counted or any(VOCABULARY.get(word.plain, ("",))[0] in _SAYING for word in beside))


def _parted(one: Word, other: Word, typed: str) -> bool:
    gap = typed[one.end : other.start]
    return "," in gap or ";" in gap


def empty_box(typed: str) -> Fault | None:
    """What is wrong with `[ ] emperor`: a box of a list that was left empty."""
    pieces = cut(typed)
    words = () if isinstance(pieces, Fault) else pieces.words
    for at, word in enumerate(words):
        if word.quoted or word.text[:1] not in ("[", "("):
            continue
        other = words[at + 1] if at + 1 < len(words) else None
        end = word.end if word.text in ("[]", "()") else None
        if other is not None and (word.text, other.text[:1]) in (("[", "]"), ("(", ")")):
            end = other.start + 1
        if end is not None:
            return absence(typed[word.start : end], word.start, end, typed)
    return None


def crossed_out(typed: str) -> Fault | None:
    """What is wrong with `~~3 emperor~~`, and with letters that are struck through: it was taken back on the page."""
    pieces = cut(typed)
    struck = [] if isinstance(pieces, Fault) else [word for word in pieces.words if not word.quoted]
    struck = [word for word in struck if "~~" in word.text or _STRUCK & set(word.text)]
    if not struck:
        return None
    hint = "leave out what is crossed out, or keep it as a remark after  #"
    start, end = struck[0].start, struck[-1].end
    return slip("crossed-out", "Something on this line is crossed out.", hint, typed, start, end)


def none_in_words(left: Sequence[Word], typed: str) -> Fault | None:
    """What is wrong with `no emperor`, `emperor nil` and `emperor not seen`, once they are no name."""
    for word in left:
        if word.plain in _NONE_WORDS:
            return absence(word.text, word.start, word.end, typed)
        if word.plain == "not":
            behind = typed[word.end :].split(maxsplit=1)
            if behind and behind[0].casefold().strip(".,;!") in _SEEN:
                end = typed.index(behind[0], word.end) + len(behind[0])
                return absence(typed[word.start : end], word.start, end, typed)
    return None


def absence(said: str, start: int, end: int, typed: str) -> Fault:
    """What is wrong with a line that may say that something was not there."""
    return slip(
        "absence-on-line",
        f'"{said}" could mean that there were none, and a line is for what was there.',
        f"it was there, and not counted: leave  {said}  out; it was not there: leave the line out",
        typed,
        start,
        end,
    )


def quoted_or_more(words: Sequence[Word], typed: str) -> Fault | None:
    """What is wrong with `> 2 emperor`: more than two, or a message that was quoted."""
    if len(words) < 3 or words[0].plain != ">" or not words[1].plain[:1].isdigit():
        return None
    number = words[1].text
    return slip(
        "quoted-or-more",
        f'"> {number}" could be more than {number}, or  >  could be the mark of a quoted message.',
        f"write  over {number}  for more than {number}; else leave  >  out",
        typed,
        words[0].start,
        words[1].end,
    )
