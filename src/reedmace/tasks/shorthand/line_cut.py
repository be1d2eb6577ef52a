"""A line of something seen, cut into words: brackets and stops off, and what says one number as one word.

`2 - 4`, `20 or more`, `1,200`, `50 est`, `1 x` and `a pair` are one word each, `m1` and `2m3f` two. Nothing is lost,
for the line is kept as typed.
"""

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.durations import durations_apart
from reedmace.tasks.shorthand.field_words import FILE_NAME, SEXES, VOCABULARY, Cut, Word, cut
from reedmace.tasks.shorthand.line_phrases import phrased
from reedmace.tasks.shorthand.line_strokes import in_strokes
from reedmace.tasks.shorthand.number_words import in_figures
from reedmace.tasks.shorthand.time_words import one_word_a_time

_NUMBER = r"[0-9]{1,6}(?:[-–][0-9]{1,6})?"
_TAILED = r"[0-9]{1,6}[a-z♂♀+]*"
_SEXED = r"(?:[0-9]{1,6}[mf♂♀]){2,}"
_SEX_FIRST = r"(?:[mf♂♀][0-9]{1,6})+|[♂♀]{2,}"
_TO = ("-", "–", "—", "to", "or")
_SO = ("so", "thereabouts")
_ESTIMATED = frozenset(
    (
        *("est", "est.", "estimated", "approx", "approx.", "approximately", "ca", "ca.", "circa"),
        *("max", "max.", "~", "≈", "±"),
    )
)
_MORE = frozenset(("plus", "+", "minimum"))
_BEHIND = _MORE | _ESTIMATED | {"or", "x", "×", "at"}  # what may follow such a number
# A dash behind a total: what follows is among it. Between two numbers that rise it makes a range.
DASH = "–:"
_SOME = ("few", "lot", "lots", "several")


def cut_line(typed: str, *, numbers: bool = False) -> Cut | Fault:
    """Cut a line into the words that its reading takes; with `numbers` words for numbers count too."""
    pieces = cut(typed)
    if isinstance(pieces, Fault):
        return pieces
    struck = in_strokes(pieces.words, typed) if "||" in typed or "II" in typed or not typed.isascii() else pieces.words
    if isinstance(struck, Fault):
        return struck
    struck = durations_apart(struck, typed)
    timed = one_word_a_time([part for word in phrased(struck, typed) for part in _apart(word)], typed)
    if isinstance(timed, Fault):
        return timed
    words = tuple(_unstopped(word, timed[:index], timed[index + 1 :]) for index, word in enumerate(timed))
    if numbers:
        words = in_figures(words)
    return pieces._replace(words=_far(_dashed(_as_one(words, typed))))


def _dashed(words: list[Word]) -> list[Word]:
    """The words, with a dash between a number and a lower one marked as what it is: `7 - 4 males, 3 females`."""
    found = list(words)
    for at in range(1, len(words) - 1):
        before, after = _plain(words, at - 1), _plain(words, at + 1)
        if _plain(words, at) in ("-", "–", "—") and before.isdecimal() and re.match("[0-9]", after):
            found[at] = words[at]._replace(plain=DASH)
    return found


def _apart(word: Word) -> list[Word]:
    """A word without its brackets, and sexes that are written in one with their numbers apart."""
    text = word.text
    if word.quoted or not (any(sign in text for sign in "()[]♂♀") or any(sign.isdigit() for sign in text)):
        return [word]
    start, end = len(text) - len(text.lstrip("([")), len(text.rstrip(")]"))
    if "." in text and re.fullmatch(FILE_NAME, text[start:end], re.IGNORECASE | re.ASCII):
        return [_part(word, start, end)]
    if text[:1].isalpha() and (said := _said_of(text)) is not None:
        return [one for part in said for one in _apart(_part(word, *part))]
    found = [_part(word, *piece.span()) for piece in re.finditer(r"[^()\[\]]+", text)]
    parts: list[Word] = []
    for one in found:
        if one.plain.endswith(":") and re.fullmatch(rf"[~≈]?{_NUMBER}:", one.plain):
            parts += [_part(one, 0, len(one.text) - 1), _part(one, len(one.text) - 1, len(one.text))]
        elif not any(sign in one.plain for sign in "mf♂♀"):
            parts.append(one)
        elif re.fullmatch(_SEXED, one.plain):
            parts += [_part(one, *piece.span()) for piece in re.finditer(r"[0-9]+[mf♂♀]", one.plain)]
        elif re.fullmatch(_SEX_FIRST, one.plain):
            parts += [_part(one, *piece.span()) for piece in re.finditer(r"[mf]|♂+|♀+|[0-9]+", one.plain)]
        else:
            parts.append(one)
    return parts


def _said_of(text: str) -> tuple[tuple[int, int], tuple[int, int]] | None:
    """`emperor:3`, `emperor-3` and `m=3`: a word and its number, with a sign between; where each begins and ends."""
    sign = next((sign for sign in ":=-" if sign in text), "")
    name, _, number = text.partition(sign) if sign else ("", "", "")
    if not name.isalpha() or not number.lstrip("~≈<>")[:1].isdigit() or (sign == "-" and len(name) < 3):
        return None
    if sign != "=" and (sum(one in ":." for one in text) > (sign == ":") or "h" in number):  # at:11:30
        return None
    return (0, len(name)), (len(name) + 1, len(text))


def _part(word: Word, start: int, end: int) -> Word:
    text = word.text[start:end]
    return Word(text, text.casefold(), word.start + start, word.start + end)


def _unstopped(word: Word, before: Sequence[Word], after: Sequence[Word]) -> Word:
    """A word of the shorthand or a number without the stop behind it; `P. nymphula` keeps its own."""
    bare = word.plain.rstrip(".:!…")
    if word.quoted or bare == word.plain or not bare or word.plain in VOCABULARY:
        return word
    if re.fullmatch(rf"[~≈]?{_NUMBER}[+a-z♂♀]*", bare):
        return word._replace(plain=bare)
    if len(bare) == 1:
        # A capital with a stop begins a scientific name, unless it stands between a number and no further name.
        ends = not after or after[0].quoted or not after[0].plain[:1].isalpha() or after[0].plain in VOCABULARY
        counts = bool(before) and before[-1].plain[-1:].isdigit() and ends
        known = bare in SEXES and (counts or word.text.islower())
    else:
        known = bare in VOCABULARY
    return word._replace(plain=bare) if known else word


def _as_one(words: Sequence[Word], typed: str) -> list[Word]:
    """The words, those that say one number together as one."""
    found: list[Word] = []
    at = 0
    while at < len(words):
        taken, plain = _number_at(words, at, typed)
        if plain:
            start, end = words[at].start, words[at + taken - 1].end
            found.append(Word(typed[start:end], plain, start, end))
        else:
            found.append(words[at])
        at += taken
        # "2 - 4 or so" is a number of several words too.
        if taken > 1 and found[-1].plain[-1:].isdigit():
            again = (found[-1], *words[at:])
            more, plain = _number_at(again, 0, typed)
            if more > 1:
                start, end = again[0].start, again[more - 1].end
                found[-1] = Word(typed[start:end], plain, start, end)
                at += more - 1
    return found


def _number_at(words: Sequence[Word], at: int, typed: str) -> tuple[int, str]:
    """How many words from `at` on say one number, and what they say."""
    word, following = words[at], _plain(words, at + 1)
    if word.quoted or not following:
        return 1, ""
    if word.plain in ("a", "an"):
        return _article(following, _plain(words, at + 2))
    gap = typed[word.end : words[at + 1].start]
    return _range(word.plain, words, at, gap) or _roughly(word.plain, following, _plain(words, at + 2), gap) or (1, "")


def _article(following: str, then: str) -> tuple[int, str]:
    """`a few` is some, `a male`, `a pair` and `an ovipositing female` one."""
    if following == "single" and VOCABULARY.get(then, ("",))[0] not in ("sex", "pair"):
        return 2, "1"
    if following in _SOME:
        return 2, "lots" if following == "lot" else following
    sort = VOCABULARY.get(following, ("",))[0]
    if sort in ("behaviour", "stage", "pairs", "rest") and VOCABULARY.get(then, ("",))[0] in ("sex", "pair"):
        return 1, "1"
    return (
        (2, f"1{following}")
        if sort in ("sex", "pair", "stage") and following not in ("m", "f", "mm", "ff")
        else (1, "")
    )


def _range(number: str, words: Sequence[Word], at: int, gap: str) -> tuple[int, str] | None:
    """`1,200`, and two numbers with a dash or a word between."""
    following, then = _plain(words, at + 1), _plain(words, at + 2)
    if gap == "," and re.fullmatch(r"[0-9]{1,3}", number) and re.fullmatch(r"[0-9]{3}(?![0-9]).*", following):
        return 2, f"{number}{following}"
    if number[-1:] in ("-", "–") and re.fullmatch(r"[0-9]{1,6}[-–]", number) and re.fullmatch(_TAILED, following):
        return 2, f"{number[:-1]}-{following}"
    if not number.isdecimal() or not gap.isspace():
        return None
    if following in _TO and re.fullmatch(_TAILED, then):
        if following not in ("to", "or") and int(re.match("[0-9]+", then)[0]) <= int(number):  # type: ignore[index]
            return None
        return 3, f"{number}-{then}"
    if following[:1] in ("-", "–") and re.fullmatch(r"[-–][0-9]{1,6}", following):
        return 2, f"{number}-{following[1:]}"
    return None


def _roughly(number: str, following: str, then: str, gap: str) -> tuple[int, str] | None:
    """`20 or so`, `20 or more`, `20 plus`, `50 est`, and `1 x` before a name."""
    if following not in _BEHIND:
        return None
    found = re.fullmatch(rf"[~≈]?({_NUMBER})([a-z♂♀]*)", number)
    if found is None or (found[2] and found[2] not in VOCABULARY):
        return None
    least, about = f"{found[1]}+{found[2]}", f"~{found[1]}{found[2]}"
    if following == "or" and then in ("more", *_SO):
        return 3, least if then == "more" else about
    if following == "at":
        return (3, least) if then == "least" else None
    gap = gap.replace("(", " ") if following in _ESTIMATED else gap  # 12 (approx)
    if found[2] or not gap.isspace() or then[:1].isdigit() or then in ("~", "c", "c.", "about"):
        return None
    if following in ("+", "plus") and VOCABULARY.get(then, ("",))[0] in ("sex", "stage", "pairs", "pair"):
        return None  # 2 + exuvia, 3 plus f
    if following in _MORE:
        return 2, least
    if following in _ESTIMATED:
        return 2, about
    return (2, f"{number}x") if following in ("x", "×") and then else None


def _plain(words: Sequence[Word], at: int) -> str:
    return words[at].plain if at < len(words) and not words[at].quoted else ""


def _far(words: list[Word]) -> tuple[Word, ...]:
    """`3 common blue or so`: an estimate, though its words stand apart from the number."""
    for at in range(len(words) - 1):
        if _plain(words, at) != "or" or _plain(words, at + 1) not in ("more", *_SO):
            continue
        more = words[at + 1].plain == "more"
        counted = [index for index in range(at) if re.fullmatch(r"([~≈]?[0-9]{1,6})([a-z♂♀]*)", _plain(words, index))]
        if len(counted) != 1:
            break
        [index] = counted
        one = words[index]
        tail = one.plain.lstrip("~≈0123456789")
        number = one.plain.removesuffix(tail)
        plain = f"{number}+{tail}" if more else f"~{number.lstrip('~≈')}{tail}"
        said = f"{one.text} {words[at].text} {words[at + 1].text}"
        words[index] = Word(said, plain, one.start, one.end)
        return (*words[:at], *words[at + 2 :])
    return tuple(words)
