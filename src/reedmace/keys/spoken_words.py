"""A look in somebody's own words, broken into stretches: what was seen, denied, not seen, or compared with.

Nothing here knows a key. A stretch ends at a comma or full stop, at a word such as "with", or where a denial begins.
"""

from __future__ import annotations

import re
from typing import NamedTuple

SEEN, DENIED, UNSEEN, COMPARED = "seen", "denied", "unseen", "compared"
JOINING = {"and", "or", "&"}
SEASONS = ("spring", "summer", "autumn", "winter")
APOSTROPHES = "['’‘ʼ`´′]"
# What is said in two words, and a word that is known.
_SAID_LONGER = {"apart from": "except", "anything but": "not", "everything but": "not", "round the": ", the"}
IS = "="  # between what was looked at and what was seen of it: "its eyes were green"
NEGATING = {"no", "not", "without", "never", "none", "isnt", "wasnt", "werent", "wouldnt", "didnt", "doesnt", "dont"}
NEGATING |= {"neither", "nor", "nothing", "nobody", "hasnt", "hadnt", "havent", "couldnt", "cant", "cannot", "arent"}
NEGATING |= {"lacking", "lacks", "lacked", "hardly", "barely"}
_LACKING = {"missing", "absent"}
_UNABLE = {"cant", "cannot", "couldnt", "didnt", "dont", "wasnt", "not", "never", "havent", "hadnt"}
_SEEING = {
    "see",
    "saw",
    "seen",
    "tell",
    "remember",
    "recall",
    "notice",
    "say",
    "know",
    "sure",
    "certain",
    "get",
    "make",
    "clear",
}
_HEDGING = {"maybe", "perhaps", "possibly", "probably", "think", "thought", "guess", "might", "could", "unsure"}
_ENDING = {"except", "with", "but", "because", "although", "though", "whereas", "then", "while"}
_BETWEEN = {"one", "ones", "it", "its", "had", "has", "have", "having", "more", "instead"}
_IS = {"is", "are", "was", "were"}
_SIZES = {"size", "length"}
_COMPARING = {"as", "half", "twice", "same"}
_SMALL = {"a", "an", "the", "my", "your", "our", "of", "than", "little", "small", "big", "large"}
_SIZED = {"big", "large", "long", "small", "tiny", "short", "thick", "thin", "fat", "huge"}
# Words that say nothing of the insect by themselves: they may stand between those that do.
_PASSING = frozenset(
    re.findall(
        "[a-z]+",
        """a an the this that these those be been i im we you he she they my our some something of at on in out to by
        like as from for over along near above very quite really rather fairly so too bit little lot far just only also
        looked looks look looking saw seen see seemed seems there here which who sort kind type if its thing things
        insect creature sits them his her their any much more most bits all whole past entire entirely
        completely totally coloured colored am sure certain certainly definitely pretty lovely before""",
    )
)

# Several things in the plural behind one denial, the last behind "or"; of "no spots, green or blue" only the first is.
_PLURAL = r"(?!(?:was|is|its|as|has|this)\b)[^\W\d_]+s\b"
_LISTED = re.compile(
    rf"\b(?:no|not any|without(?: any)?|neither|lacking)\s+(?:[^\W\d_]+\s+)?{_PLURAL}"
    rf"(?:\s*,\s*{_PLURAL})*\s*(?:,\s*)?\b(?:or|nor)\s+(?:[^\W\d_]+\s+)?{_PLURAL}"
)


# "None of the wings had spots" has no spots on the wings.
_NONE_OF = re.compile(
    r"\bnone of (?:(?:the|its|his|her|their)\s+)?([^\W\d_]+)\s+(?:had|has|have|were|was|are|is)\s+([^,;.!?()]*)"
)


class Stretch(NamedTuple):
    """Words that belong together, and how they were said. `unsure` where a "maybe" stands beside them."""

    words: tuple[str, ...]
    kind: str = SEEN
    unsure: bool = False


def stretches(typed: str, aside: frozenset[str]) -> list[Stretch]:
    """The stretches of a line; `aside` are words understood already, which end one."""
    plain = re.sub(APOSTROPHES, "", typed.casefold()).replace(":", " is ")
    for said, meant in _SAID_LONGER.items():
        plain = plain.replace(said, meant)
    plain = _NONE_OF.sub(r"no \2 on the \1 ", plain)
    plain = _LISTED.sub(_each_denied, plain)
    found: list[Stretch] = []
    for clause in re.split(r"[,;.!?()+\"“”]+|\b(?:" + "|".join(sorted(_ENDING)) + r")\b", plain):
        words = re.findall(r"[^\s_-]+", clause)
        here = _of_clause(words, aside)
        # "blue, not sure": what stands before it is meant.
        if found and here and all(one.kind == UNSEEN and len(one.words) < 3 for one in here):
            found[-1] = found[-1]._replace(unsure=True)
            continue
        found += here
    return found


def _each_denied(listed: re.Match[str]) -> str:
    """`no spots, bands or stripes`: each of them is denied, and not the first alone."""
    return ", no ".join(re.split(r"\s*(?:,|\b(?:or|nor)\b)[\s,]*(?:(?:or|nor)\b\s*)?", listed[0]))


def _of_clause(words: list[str], aside: frozenset[str]) -> list[Stretch]:
    words, unsure = _hedged(words)
    found: list[Stretch] = []
    seen: list[str] = []

    def close() -> None:
        plain = tuple(seen[:-1] if seen[-1:] == [IS] else seen)
        if plain:
            found.append(Stretch(plain, SEEN, unsure))
        seen.clear()

    at = 0
    while at < len(words):
        word = words[at]
        if length := _comparison(words[at:]):
            close()
            found.append(Stretch(tuple(words[at : at + length]), COMPARED))
        elif word in _UNABLE and any(other in _SEEING for other in words[at + 1 : at + 3]):
            close()
            if at + 3 > len(words) and found:  # "wings closed, I am not sure"
                found[-1] = found[-1]._replace(unsure=True)
            else:
                found.append(Stretch(tuple(words[at:]), UNSEEN))
            return found
        elif word in NEGATING:
            close()
            length = _denial(words[at:], aside)
            denied = [other for other in words[at + 1 : at + length] if other not in _PASSING]
            found.append(Stretch((word, *denied), DENIED, unsure))
        elif word in _LACKING and seen:  # "the spur was missing"
            found.append(Stretch(("no", *(one for one in seen if one != IS)), DENIED, unsure))
            seen.clear()
        elif _ends(word, aside):
            close()
        elif word in _IS:
            seen += [IS] if seen and seen[-1] != IS else []
        elif word not in _PASSING:
            seen.append(word)
        at += length or 1
    close()
    return found


def _hedged(words: list[str]) -> tuple[list[str], bool]:
    """The words without a "maybe", and whether there was one."""
    words = " ".join(words).replace("no idea", "").split()
    may = [word == "may" and words[at + 1 : at + 2] in (["be"], ["have"]) for at, word in enumerate(words)]
    plain = [word for word, hedges in zip(words, may, strict=True) if word not in _HEDGING and not hedges]
    return plain, len(plain) < len(words)


def _denial(words: list[str], aside: frozenset[str]) -> int:
    """How many words, from a "no" on, are denied."""
    start = 1
    while start < len(words) and words[start] in _BETWEEN:  # "it did not have spots"
        start += 1
    return next((at for at, other in enumerate(words) if at >= start and _ends(other, aside)), len(words))


def _ends(word: str, aside: frozenset[str]) -> bool:
    return word in _BETWEEN or word in aside


def _comparison(words: list[str]) -> int:
    """How many words, from the first on, compare with something else: "bigger than a wasp", "half the size of one"."""
    first = words[0]
    of = next((at for at, word in enumerate(words[:4]) if word in _SIZES and words[at + 1 : at + 2] == ["of"]), None)
    if first.endswith("er") and words[1:2] == ["than"]:
        at = 2
    elif (first in ("more", "less") and words[2:3] == ["than"]) or (first == "as" and words[2:3] == ["as"]):
        at = 3
    elif words[:2] == ["instead", "of"] or (first in _SIZED and words[1:2] == ["as"]):
        at = 2
    elif of is not None and (of == 0 or first in _COMPARING or first in _SMALL):
        at = of + 2
    else:
        return 0
    while at < len(words) and words[at] in _SMALL:
        at += 1
    return min(at + 1, len(words))
