"""Words in cells of people that are nobody's name: company that is counted, nobody, whoever keeps the sheet."""

from __future__ import annotations

import re

from reedmace.tasks.shorthand.names_with_ages import GROUPS

# Whoever keeps the sheet.
ME = frozenset(("me", "self", "myself", "i", "my self", "me myself"))
# Nobody is named; a cell without a letter or a figure is of these too.
NOBODY = frozenset(
    (
        *("unknown", "not known", "unk", "u/k", "uk", "n/k", "nk", "not recorded", "not stated"),
        *("not given", "unnamed"),
        *("none", "nobody", "no one", "no name", "n/a", "na", "nil", "blank", "anon", "anonymous", "withheld"),
        *("name withheld", "recorder unknown", "observer unknown", "unknown recorder", "unknown observer"),
    )
)
# Company by what it is; beside somebody's name it needs no number.
_COMPANY = frozenset(
    (
        *("others", "other", "people", "persons", "adult", "adults", "child", "children", "kid", "kids", "pupil"),
        *("pupils", "toddler", "toddlers", "friend", "friends", "family", "families", "son", "sons", "daughter"),
        *("daughters", "grandson", "grandsons", "granddaughter", "granddaughters", "grandchild", "grandchildren"),
        *("wife", "husband", "partner", "spouse", "mother", "father", "mum", "dad", "parent", "parents", "brother"),
        *("sister", "brothers", "sisters", "nephew", "niece", "member", "members", "volunteer", "volunteers"),
        *("helper", "helpers", "student", "students", "colleague", "colleagues", "visitor", "visitors", "guest"),
        *("guests", "team", "walkers", "staff", "company", "group", "groups", "us", "party", "public", "boy", "girl"),
        *("baby", "teenagers", "teenager", *GROUPS),
    )
)
_BESIDE = frozenset(
    (
        *("a", "an", "the", "my", "our", "his", "her", "their", "some", "few", "several", "many", "more", "other"),
        *("another", "all", "of", "from", "with", "and", "plus", "et", "incl", "including", "about", "c", "ca"),
        *("approx", "young", "little", "small", "local", "primary", "junior", "walking", "various", "one", "two"),
        *("three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve", "dozen", "leader", "leaders"),
        *("warden", "guide"),
    )
)
# What company is without a name beside it: a party, as it has a number or is one group.
_PARTIES = frozenset(("party", "group", "groups", "us", *GROUPS))
# Words that say something of people which a cell of names has no room for, or leave open who is meant.
UNCLEAR = frozenset(
    (
        *("ditto", "do", "same", "above", "various", "several", "many", "everyone", "everybody", "anyone", "someone"),
        *("somebody", "all", "us", "we", "they", "him", "them", "tbc", "tba", "by", "per", "via", "from", "for", "at"),
        *("on", "in", "to", "was", "is", "not", "no", "or", "confirmed", "conf", "verified", "checked", "photo"),
        *("photos", "photographed", "visit", "seen", "found", "reported", "possibly", "probably", "perhaps", "maybe"),
    )
)
# Roles that a cell of people has anyway.
ROLES = frozenset(
    (
        *("recorder", "recorders", "observer", "observers", "obs", "rec", "finder", "me", "self", "lead recorder"),
        *("county recorder", "verifier", "determiner"),
    )
)
# What may stand before the name of somebody who saw or named it.
PREFIX = re.compile(
    r"(?:(?:recorded|seen|observed|found|determined|identified|named|det|id|ident)\.?\s+by\b\s*:?"
    r"|(?:det|determiner|ident|id|leg(?:\.?\s*(?:&|et|and)\s*det)?|rec|recorder|observer|obs)\s*[.:]+"
    r"|(?:det|determiner|recorder|observer)\b)\s*(?=[^\W\d_])",
    re.IGNORECASE,
)
_MAIL = re.compile(r"[^\s@<>(),;|]+@[^\s@<>(),;|]+\.[^\s@<>(),;|]+")
_PHONE = re.compile(r"(?:\(?\+[0-9]|\(?0[0-9])[0-9 ()./-]{6,}[0-9]|[0-9]{9,}", re.ASCII)
_CODED = frozenset(("recorder", "observer", "volunteer", "surveyor", "member", "user", "participant", "person"))


def is_nobody(cell: str) -> bool:
    """Say whether a cell, or a part of one, says that nobody is named."""
    plain = cell.casefold().strip(" .()[]<>")
    return plain in NOBODY or not any(sign.isalnum() for sign in plain)


def is_company(part: str) -> bool:
    """Say whether a part names nobody and is only company: `4 others`, `et al.`, `her children`, `a school class`."""
    if re.match(r"[A-Z]\. ", part):
        return False  # an initial: what follows is a surname, whatever it means else
    words = re.findall(r"[^\W_]+", part.casefold())
    known = all(word in _COMPANY or word in _BESIDE or word.isdecimal() for word in words)
    return known and any(word in _COMPANY for word in words)


def are_beside(part: str) -> bool:
    """Say whether all words of a part only stand beside others: `leader`, `and the`."""
    return all(word in _BESIDE for word in re.findall(r"[^\W_]+", part.casefold()))


def is_party(company: str) -> bool:
    """Say whether company tells enough to be credited with no name beside it: it has a number, or is one group."""
    words = re.findall(r"[^\W_]+", company.casefold())
    return any(word.isdecimal() or word in _PARTIES for word in words)


def holds_group(part: str) -> bool:
    """Say whether a part speaks of a group, by a name of its own perhaps: `Class 4b of Withy School`."""
    return any(word in _PARTIES for word in re.findall(r"[^\W_]+", part.casefold()))


def is_code(part: str) -> bool:
    """Say whether a part with figures is what somebody is called without a name: `Recorder 12`, `user4512`."""
    first, _, number = part.partition(" ")
    if not number:
        return re.fullmatch(r"[^\W\d_]{2,}[-_.]?[0-9]+", part) is not None
    return first.casefold() in _CODED and re.fullmatch(r"#?[0-9]+", number) is not None


def contact_in(cell: str) -> str:
    """Give the e-mail address or telephone number that stands in a cell; "" where there is none."""
    found = _MAIL.search(cell) or _PHONE.search(cell)
    return found[0].strip() if found else ""
