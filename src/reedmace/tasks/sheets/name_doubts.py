"""Doubt that stands with a name: a word or sign of it before, within or behind (`poss. Azure`, `cf.`, `Azure?`).

A row may name its insect in several cells, and doubt in one of them is doubt of the row. Doubts that differ are put
to the user, as what else two cells say differently is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import CERTAINTIES, QUALIFIERS

# A word or sign of doubt behind a name, with or without brackets, or before it.
_BEHIND = re.compile(
    r"(?:[\s,]*[(\[](?P<within>[^\W\d_]+|\?+)\.?[)\]]|[\s,]+(?P<word>[^\W\d_]+)\.?|\s*(?P<sign>\?+))\s*$"
)
_BEFORE = re.compile(r"\s*(?:(?P<word>[^\W\d_]+)\.?:?\s+|(?P<sign>\?+)\s*)")


class Doubt(NamedTuple):
    """How sure somebody was of a name: `certainty` is `uncertain` or `probable`, `qualifier` a sign such as `cf.`."""

    certainty: str = ""
    qualifier: str = ""


def doubt_in(text: str) -> tuple[str, Doubt]:
    """Part a name from all doubt that stands with it, whether or not it is a name that anybody knows."""
    undoubted, certainty = without_doubt(text)
    plain, qualifier = without_sign(undoubted)
    return plain, Doubt(certainty, qualifier)


def without_doubt(text: str) -> tuple[str, str]:
    """Part a name from a word or sign of doubt behind or before it; blank where there is none."""
    for form in (_BEHIND, _BEFORE):
        found = form.search(text) if form is _BEHIND else form.match(text)
        if found is not None:
            word = next(filter(None, found.groups()), "").casefold()
            certainty = CERTAINTIES.get(word[:1] if word.startswith("?") else word, "")
            rest = (text[: found.start()] if form is _BEHIND else text[found.end() :]).strip()
            if rest and certainty in ("uncertain", "probable"):
                return rest, certainty
    return text, ""


def without_sign(name: str) -> tuple[str, str]:
    """Part a name from a sign of doubt before or within it: `cf. Variable Damselfly`, `Coenagrion cf. pulchellum`."""
    words = name.split()
    signs = [QUALIFIERS[word.casefold()] for word in words if word.casefold() in QUALIFIERS]
    if len(signs) != 1 or len(words) < 2:
        return name, ""
    return " ".join(word for word in words if word.casefold() not in QUALIFIERS), signs[0]


def of_all(doubts: Iterable[Doubt], cells: str) -> Doubt | Fault:
    """Give the doubt of a row from that of each of its names; a fault where they differ. `cells` is what they say."""
    some = list(doubts)
    sure = list(dict.fromkeys(one.certainty for one in some if one.certainty))
    # The sign may stand with what it is about: `cf.` and `cf. pulchellum` are one.
    signs = {one.qualifier.partition(" ")[0]: one.qualifier for one in reversed(some) if one.qualifier}
    for said in (sure, list(reversed(signs.values()))):
        if len(said) > 1:
            return differ(said[0], said[1], cells)
    return Doubt(sure[0] if sure else "", next(iter(signs.values()), ""))


def differ(one: str, other: str, cells: str) -> Fault:
    """Give the fault of a row that is sure of its name in two ways."""
    why = f'One cell of this row says "{one}", and another "{other}".'
    return Fault("cells-differ", why, "correct one of them", cells)
