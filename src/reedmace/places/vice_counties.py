"""Vice-counties: the fixed areas records are summed by, keyed by number, found by number or name.

Their numbers never change; their names are only custom, so a name is accepted in many spellings.
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from reedmace.faults import Fault, nearest
from reedmace.places.grid import tidy
from reedmace.places.vice_county_names import WHOLE_NAMES, WORDS, vice_county_names

_NUMBERED = r"(?i:(?:V\.? ?C\.? ?[-:]? ?)?(H?)) ?0*([0-9]{1,4})(?![0-9])[.:,]? ?(.*)"
_MOST_LISTED = 6


class ViceCounty(NamedTuple):
    """A vice-county: its number ("11", "H21") and its usual name."""

    number: str
    name: str

    def __str__(self) -> str:
        return f"VC{self.number} {self.name}"


@cache
def vice_counties() -> tuple[ViceCounty, ...]:
    """All vice-counties: 1 to 112, 113 (the Channel Islands, a later addition), H1 to H40."""
    return tuple(ViceCounty(number, name) for number, name in vice_county_names().items())


def find_vice_county(text: str) -> ViceCounty | Fault:
    """Find the vice-county that a number ("11", "VC11", "H21"), a name or both mean.  Never raises."""
    plain = tidy(text)
    if not plain:
        hint = 'give a number like "11" or "H21", or a name like "South Hampshire"'
        return _fault("vice-county-empty", "There is no vice-county here.", hint, text)
    numbered = re.fullmatch(_NUMBERED, plain)
    if numbered is None:
        return _by_name(plain, text)
    number, rest = numbered[1].upper() + numbered[2], numbered[3].strip("() ")
    county = _by_number().get(number)
    if county is None:
        hint = "they run from 1 to 113 in Britain and from H1 to H40 in Ireland"
        return _fault("vice-county-unknown", f"There is no vice-county {number}.", hint, text)
    if re.search("[0-9]", rest):
        message = f"There is more than one number here: {plain}."
        hint = "give one; where a site lies across the border, say so in a note"
        return _fault("vice-county-two-answers", message, hint, text)
    if rest:
        named = _by_name(rest, text)
        if isinstance(named, Fault):
            return named
        if named != county:
            message = f"Number and name do not agree: {county.number} is {county.name}."
            hint = f"write {county.number} or {named.number} ({named.name})"
            return _fault("vice-county-contradiction", message, hint, text)
    return county


def _by_name(plain: str, typed: str) -> ViceCounty | Fault:
    words = _words(plain)
    number = _by_words().get(_key(words)) or WHOLE_NAMES.get(" ".join(words))
    if number:
        return _by_number()[number]
    within = [county for county in vice_counties() if words and set(words) <= set(_words(county.name))]
    if within:
        listed = ", ".join(f"{county.number} {county.name}" for county in within[:_MOST_LISTED])
        if len(within) == 1:
            return _fault("vice-county-unknown", "No vice-county has just this name.", f"did you mean {listed}?", typed)
        message = f'"{plain}" could be {len(within)} vice-counties.'
        return _fault(
            "vice-county-ambiguous",
            message,
            f"write which: {listed}{' …' if len(within) > _MOST_LISTED else ''}",
            typed,
        )
    close = nearest(plain, [county.name for county in vice_counties()])
    numbers = {county.name: county.number for county in vice_counties()}
    hint = " or ".join(f"{numbers[name]} {name}" for name in close)
    return _fault(
        "vice-county-unknown",
        f'There is no vice-county "{plain}".',
        f"did you mean {hint}?" if close else 'give its number, like "11" or "H21"',
        typed,
    )


def _words(name: str) -> list[str]:
    """Fold a name to its words: no case, marks, "and" or "county"; short forms spelt out."""
    folded = re.sub(r"['’‘.]", "", name.casefold()).replace("-shire", "shire").replace("ss shire", "ssshire")
    words = re.sub(r"[^a-z0-9]+", " ", folded).split()
    words = [part for word in words for part in WORDS.get(word, word).split()]
    # What the custom adds or leaves out at will tells no two vice-counties apart.
    return [word for word in words if word not in ("and", "co", "county", "of", "the")] or words


def _key(words: list[str]) -> tuple[str, ...]:
    """Words in any order: "Sussex, West" is West Sussex."""
    return tuple(sorted(words))


@cache
def _by_number() -> dict[str, ViceCounty]:
    return {county.number: county for county in vice_counties()}


@cache
def _by_words() -> dict[tuple[str, ...], str]:
    return {_key(_words(county.name)): county.number for county in vice_counties()}


def _fault(code: str, message: str, hint: str, typed: str) -> Fault:
    return Fault(code, message, hint, said=typed, typed=True)


def vice_county_name(number: str) -> str:
    """The usual name of a vice-county's number; "" for a number there is none of."""
    county = _by_number().get(number)
    return county.name if county else ""
