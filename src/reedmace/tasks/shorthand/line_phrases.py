"""Words of a line that say one thing together, or are written in one: `on territory`, `male(s)`, `3m-2f`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.tasks.shorthand.field_words import SEXES, VOCABULARY, Word

# Two words and the one of the shorthand that says the same.
_PHRASES = {
    ("on", "territory"): "territorial",
    ("holding", "territory"): "territorial",
    ("holding", "territories"): "territorial",
    **{("see", photo): "photo" for photo in ("photo", "photos", "pic", "pics")},
    **{(photo, "taken"): "photo" for photo in ("photo", "photos", "pic", "pics")},
    ("mate", "guarding"): "guarding",
    ("mate-guarding", ""): "guarding",
    ("at", "rest"): "perched",
    ("in", "flight"): "flying",
    ("flying", "overhead"): "flying",
    ("wheel", "position"): "wheel",
    ("fully", "mature"): "mature",
    ("sex", "unknown"): "unsexed",
    ("sex", "undetermined"): "unsexed",
    **{
        (kind, what): "exuviae"
        for kind in ("larval", "nymphal", "empty")
        for what in ("skins", "cases", "skin", "case")
    },
}
_PIECE = r"[0-9]{1,6}(?P<tail>[a-z♂♀]*)|[mf♂♀][0-9]{0,6}"
_PARTING = r"(?<=[a-z♂♀])[+&](?=[0-9mf♂♀])|(?<=[a-z♂♀])[-–—./](?=[0-9mf♂♀])|(?<=[mf♂♀][0-9])/(?=[mf♂♀])"


def phrased(words: Sequence[Word], typed: str) -> tuple[Word, ...]:
    """The words, those that say one thing together as one, and what is written in one apart."""
    found: list[Word] = []
    at = 0
    while at < len(words):
        word, following = words[at], words[at + 1] if at + 1 < len(words) else None
        then = "" if following is None or following.quoted else following.plain.rstrip(".)]")
        near = following is not None and typed[word.end : following.start].isspace()
        meant = None if word.quoted or not near else _PHRASES.get((word.plain.lstrip("(["), then))
        if meant is not None and following is not None:
            end = following.end - len(following.text) + len(following.text.rstrip(")]"))
            start = word.end - len(word.text.lstrip("(["))
            found.append(Word(typed[start:end], meant, start, end))
            at += 1
        elif not word.quoted:
            found += _apart(_plural(word))
        else:
            found.append(word)
        at += 1
    return tuple(found)


def _plural(word: Word) -> Word:
    """`male(s)`, `exuvia(e)`: the word without the ending that may be."""
    bare, sign, _ = word.plain.partition("(")
    ends = sign and word.plain in (f"{bare}(s)", f"{bare}(e)", f"{bare}(es)")
    return Word(bare, bare, word.start, word.end) if ends and bare in VOCABULARY else word


def _apart(word: Word) -> list[Word]:
    """`5m+f`, `2pr+2` and `3m-2f` as the words that they are; a range and a clock are one word."""
    if not any(sign in word.plain for sign in "+&-–—./") or word.plain != word.text.casefold():
        return [word]
    cuts = [found.span() for found in re.finditer(_PARTING, word.plain)]
    bounds = [0, *(bound for cut in cuts for bound in cut), len(word.plain)]
    pieces = list(zip(bounds[::2], bounds[1::2], strict=True))
    if len(pieces) < 2 or not all(_is_piece(word.plain[start:end]) for start, end in pieces):
        return [word]
    sexed = all(word.plain[start:end].lstrip("0123456789") in SEXES for start, end in pieces)
    alike = len({word.plain[start].isdigit() for start, _ in pieces}) == 1
    if sexed and alike and all(word.plain[start:end] in "+&/" for start, end in cuts):
        return [word]  # m/f and 2m/3f, which are read as one
    found: list[Word] = []
    for number, (start, end) in enumerate(pieces):
        if number and word.plain[cuts[number - 1][0]] in "+&":
            sign = word.text[slice(*cuts[number - 1])]
            found.append(Word(sign, sign, word.start + cuts[number - 1][0], word.start + cuts[number - 1][1]))
        text = word.text[start:end]
        found.append(Word(text, text.casefold(), word.start + start, word.start + end))
    return found


def _is_piece(text: str) -> bool:
    found = re.fullmatch(_PIECE, text)
    tail = found["tail"] if found else ""
    return found is not None and (not tail or VOCABULARY.get(tail, ("",))[0] in ("sex", "stage", "pairs", "pair"))
