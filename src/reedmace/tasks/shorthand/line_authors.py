"""Who described a species, `Coenagrion puella (Linnaeus, 1758)` or `C. puella L.`: passed over where it is right."""

from __future__ import annotations

import re

from reedmace.keys.model import Key

_SHORT = {"linnaeus": ("l", "linn"), "fabricius": ("f", "fabr")}  # as botanists and zoologists shorten them


def without_authors(key: Key, typed: str, species: int | None = None) -> str:
    """The line with blanks in place of the authors of the key's names, of one species where it is given."""
    found = key.species if species is None else (key.species[species],)
    body, sign, rest = typed.partition("#")
    for authority in {one.authority.strip("()") for one in found}:
        people, _, year = authority.rpartition(", ")
        if not people:
            continue
        shorts = (f"{short}." for short in _SHORT.get(people.casefold(), ()))
        names = "|".join(re.escape(one) for one in (people, people.rpartition(" ")[2], *shorts))
        # Behind a word in small letters, which is that of the species; else it is a person or a place.
        pattern = rf"(?<=[a-z]\s)\(?(?:{names})(?:(?:,\s*|\s){year})?\)?(?=\s|$|[,;.])"
        body = re.sub(pattern, lambda match: " " * len(match[0]), body, flags=re.IGNORECASE)
    return body + sign + rest
