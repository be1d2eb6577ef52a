"""A cell of people → their names, and a party without names."""

from __future__ import annotations

import re

_PARTED = re.compile(r"[|;&]|\band\b(?!\s+(?:(?:a|his|her|their)\s+)?party)", re.IGNORECASE)
_UNNAMED = re.compile(r"\bparty\b|[0-9]", re.IGNORECASE)
_JOIN = r"\s*(?:,|\(|\+|\b(?:and|with|plus)\b)\s*"
_BEFORE = re.compile(rf"(?P<name>[^0-9]+?){_JOIN}(?P<party>(?:(?:a|his|her|their)\s+)?(?:party\b.*|[0-9].*))", re.I)
_BEHIND = re.compile(rf"(?P<party>.*\bparty\b.*?)(?:\s+led\s+by\s+|{_JOIN})(?P<name>[^0-9]+)", re.I)
# Words for people who are not named: where one stands before a party, it is part of what the party is called.
_NOBODY = frozenset(
    (
        *("a", "an", "the", "leader", "leaders", "warden", "wardens", "ranger", "rangers", "guide", "teacher", "staff"),
        *("group", "club", "society", "school", "class", "children", "members", "volunteers", "others", "friends"),
        *("family", "students", "pupils", "party", "me", "self", "myself"),
    )
)


def read_people(text: str) -> tuple[tuple[str, ...], str]:
    """Read who: names, and a party without names. Of "Ada Marsh and party of 12" the name is Ada Marsh.

    Names are parted by | ; & or "and", and by a comma between whole names ("Ada Marsh, Ben Sallow"); else a comma
    stays in a name, for many write the surname first ("Marsh, Ada").
    """
    names: dict[str, None] = {}
    parties: list[str] = []
    for part in (" ".join(part.split()) for part in _PARTED.split(text)):
        if part and not _UNNAMED.search(part):
            names |= dict.fromkeys(_by_comma(part))
        elif part:
            name, party = _apart(part)
            names |= dict.fromkeys(_by_comma(name) if name else ())
            parties.append(party)
    return tuple(names), "; ".join(parties)


def _by_comma(text: str) -> list[str]:
    """Part names at commas where each is whole: two words, and no initial at its end."""
    parts = [part.strip() for part in text.split(",")]
    whole = all(len(words := part.split()) > 1 and re.search(r"\w\w$", words[-1]) for part in parts)
    return parts if whole else [text]


def _apart(part: str) -> tuple[str, str]:
    """Part a person's name from a party that stands with it; no name where there is none."""
    found = _BEFORE.fullmatch(part) or _BEHIND.fullmatch(part)
    if found is None:
        return "", part
    name, party = found["name"].strip(" ,("), found["party"].strip()
    words = re.findall(r"\w+", name.casefold())
    if not words or _NOBODY.intersection(words):
        return "", part
    return name, party.removesuffix(")") if "(" not in party else party
