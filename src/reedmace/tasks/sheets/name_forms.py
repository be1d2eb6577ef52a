"""Forms in which sheets write a name that the key knows otherwise.

With who gave it, several parted by "or", with the other name in brackets, the family's word first, or the word for all
of its kind behind it.
"""

from __future__ import annotations

import re
import unicodedata

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, could_mean, find_name
from reedmace.tasks.shorthand.field_words import SEXES

_AUTHORED = re.compile(
    r"(?P<name>[A-Z][a-z]+(?: [a-z-]+)*?(?:/[a-z-]+)*)\s+(?P<author>\(?(?:[^\W\d_a-z]|d[eu]\s|v[ao]n\s).*)"
)
# Behind the year stands nothing that belongs to a name.
_YEAR = re.compile(r"\b(?:1[7-9]|20)[0-9]{2}\W*$", re.ASCII)
_BRACKETED = re.compile(r"(?P<one>[^()\[\]]*[^()\[\]\s])\s*[(\[]\s*(?P<other>[^()\[\]]+?)\s*[)\]]")
# As lists and exports name what was not split: `Azure Damselfly or Variable Damselfly`.
_OR = re.compile(r"\s+or\s+", re.IGNORECASE)
_SHORT = re.compile(r"(?P<genus>[A-Z][a-z]?)\.?\s+(?P<epithet>[a-z-]{3,})")


def read_form(key: Key, text: str) -> FoundName | Fault | None:
    """Read a name that `find_name` does not find; None where it is of none of these forms.

    A fault is one that says more than that it is not found: the name in brackets is another one.
    """
    if (found := _authored(key, text)) is not None:
        return found
    if (pair := _OR.sub("/", text)) != text and isinstance(several := find_name(key, pair), FoundName):
        return several
    if brackets := _BRACKETED.fullmatch(text):
        return _both(key, brackets["one"], brackets["other"])
    return _turned(key, text) or _of_its_kind(key, text)


def _authored(key: Key, text: str) -> FoundName | None:
    """`Aeshna grandis (L.)`: a scientific name of the key in full, and who gave it."""
    bare = without_author(key, text)
    found = find_name(key, bare) if bare != text else None
    if not isinstance(found, FoundName):
        return None
    if found.group is not None:
        return found if found.group.scientific == bare else None
    known = any(bare in (key.species[index].name, *key.species[index].synonyms) for index in found.species)
    return found if known and len(found.species) == 1 else None


def without_author(key: Key, name: str) -> str:
    """Leave off who gave a name: an author with a year, or the key's own, shortened or not."""
    found = _AUTHORED.fullmatch(name)
    if found is None:
        return name
    if _YEAR.search(found["author"]):
        return found["name"]
    said = _letters(found["author"])
    if not said or said in SEXES:
        return name
    given = [_letters(one.authority) for one in key.species if found["name"] in (one.name, *one.synonyms)]
    return found["name"] if any(one.startswith(said) or one.endswith(said) for one in given) else name


def in_full(key: Key, name: str) -> str:
    """Give a name whose genus is one letter or two (`S. striolatum`) in full, where only one of the key fits."""
    short = _SHORT.fullmatch(name)
    if short is None:
        return name
    species = {
        one.name
        for one in key.species
        for known in (one.name, *one.synonyms)
        if known.startswith(short["genus"]) and known.partition(" ")[2] == short["epithet"]
    }
    return species.pop() if len(species) == 1 else name


def _both(key: Key, one: str, other: str) -> FoundName | Fault | None:
    """`Azure Damselfly (Coenagrion puella)`: two names, of one insect if they are to be read."""
    within = _found(key, other)
    if not isinstance(within, FoundName):
        return None
    before = _found(key, one)
    could_be = before.species if isinstance(before, FoundName) else could_mean(key, one)
    if set(within.species) <= set(could_be):
        return within
    if isinstance(before, FoundName):
        if set(before.species) <= set(within.species):
            return before
        why = f'"{one}" is not "{other}".'
        return Fault("names-differ", why, "leave out the one that is wrong", f"{one} ({other})")
    return None


def _found(key: Key, text: str) -> FoundName | Fault:
    found = find_name(key, _OR.sub("/", text))
    return (_authored(key, text) or _turned(key, text) or found) if isinstance(found, Fault) else found


def _turned(key: Key, text: str) -> FoundName | None:
    """`Chaser, Four-spotted`: the word of the family first, and a comma."""
    last, comma, first = (part.strip() for part in text.partition(","))
    if not (comma and last and first) or "," in first:
        return None
    found = find_name(key, f"{first} {last}")
    return found if isinstance(found, FoundName) else None


def _of_its_kind(key: Key, text: str) -> FoundName | None:
    """A whole English name, and behind it the word for a group that holds the species."""
    name, _, kind = text.rpartition(" ")
    found = find_name(key, name) if " " in name else None
    if not isinstance(found, FoundName) or len(found.species) != 1 or found.others:
        return None
    group = find_name(key, f"{kind} sp.")
    held = isinstance(group, FoundName) and group.group is not None and set(found.species) <= set(group.species)
    return found if held else None


def _letters(author: str) -> str:
    apart = unicodedata.normalize("NFKD", author.casefold())
    return "".join(sign for sign in apart if sign.isalpha())
