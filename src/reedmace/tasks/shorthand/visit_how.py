"""How, on the line of a visit: each function reads one thing at a word, or leaves it (None)."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.records import unless_blank
from reedmace.tasks.shared.setting import find_habitat
from reedmace.tasks.shorthand.durations import duration_at
from reedmace.tasks.shorthand.field_words import NUMBERS
from reedmace.tasks.shorthand.visit_said import Reader

METHODS = {
    **dict.fromkeys(("transect", "transects"), "transect"),
    **dict.fromkeys(("timed",), "timed count"),
    **dict.fromkeys(("casual", "incidental"), "casual"),
    **dict.fromkeys(("walk",), "walk"),
    **dict.fromkeys(("dipping", "dip"), "pond dipping"),
    **dict.fromkeys(("survey",), "survey"),
}
_HEADS = ("date", "time", "times", "place", "site", "location")
DAMSELFLIES = frozenset(("damselflies", "damselfly", "dams", "damsels"))
DRAGONFLIES = frozenset(("dragonflies", "dragonfly", "drags", "dragons"))


def completeness(reader: Reader, at: int) -> int | None:
    """`all`, `all dams`, `all dragonflies noted`, `none seen`."""
    plain = reader.plain(at)
    if plain in ("none", "nil", "nothing"):
        reader.put(reader.words[at], none_seen=True)
        return at + 1 + (reader.plain(at + 1) in ("seen", "noted", "found"))
    if plain not in ("all", "complete"):
        return None
    end, groups = at + 1, set[str]()
    while (word := reader.plain(end)) and (
        word in DAMSELFLIES | DRAGONFLIES or word in ("noted", "seen", "species", "list", "and", "&", "all")
    ):
        groups |= {name for name, words in (("a", DAMSELFLIES), ("b", DRAGONFLIES)) if word in words}
        end += 1
    if "a" in groups or not groups:
        reader.put(reader.words[at], all_damselflies=True)
    if "b" in groups or not groups:
        reader.put(reader.words[at], all_dragonflies=True)
    return end


def passes(reader: Reader, at: int) -> int | None:
    """`2 passes`, `exuvia passes 2`, `two exuvia searches`."""
    words = [reader.plain(one) for one in range(at, at + 3)]
    for end in (3, 2):
        run = words[:end]
        number = [word for word in run if word in NUMBERS or re.fullmatch(r"[0-9]{1,2}", word, re.ASCII)]
        rest = [word for word in run if word not in number]
        about = ("exuvia", "exuviae", "ex", "skin", "skins")
        searched = bool(rest) and rest[-1] in ("pass", "passes", "search", "searches")
        many = int(NUMBERS.get(number[0], number[0])) if len(number) == 1 else 0
        if searched and many > 0 and all(word in about for word in rest[:-1]):
            reader.put(reader.words[at], exuvia_passes=many)
            return at + end
    return None


def duration(reader: Reader, at: int) -> int | None:
    """`watched 20 min`, `(1.5 hours)`: how long it took, kept as a remark."""
    end = duration_at(reader.words, at, reader.typed)
    if end is not None:
        reader.notes.append(reader.typed[reader.words[at].start : reader.words[end - 1].end].strip("()[]"))
    return end


def permission(reader: Reader, at: int) -> int | None:
    """`permission "from the farmer"`, or the bare word."""
    if reader.plain(at) not in ("permission", "permitted", "perm"):
        return None
    if at + 1 < len(reader.words) and reader.words[at + 1].quoted:
        reader.put(reader.words[at], permission=reader.words[at + 1].text)
        return at + 2
    reader.put(reader.words[at], permission=reader.words[at].text)
    return at + 1


def named_value(reader: Reader, at: int) -> int | None:
    """`method "timed count"`, `habitat garden pond`, `remarks "…"`, `locality "…"`."""
    plain = reader.plain(at).rstrip(":=")
    if plain not in ("method", "habitat", "remark", "remarks", "locality", "weather"):
        return None
    if at + 1 >= len(reader.words):
        return None
    value = reader.words[at + 1]
    if plain == "method":
        reader.put(reader.words[at], method=METHODS.get(value.plain, value.text))
    elif plain == "habitat":
        found = find_habitat(reader.key, value.text)
        if isinstance(found, Fault):
            reader.fault(found.code, found.message, found.hint, value)
        else:
            reader.put(reader.words[at], habitat=found[0].id, habitat_typed=found[1])
    elif plain == "locality":
        reader.put(reader.words[at], locality=unless_blank(value.text))
    elif plain == "weather":
        reader.weather.append(value.text)
    else:
        reader.notes.append(value.text)
    return at + 2


def method(reader: Reader, at: int) -> int | None:
    """One of the usual methods by its word."""
    method = METHODS.get(reader.plain(at))
    if method is None:
        return None
    reader.put(reader.words[at], method=method)
    return at + 1 + (reader.plain(at + 1) in ("count", "survey", "walk", "search"))


def joining(reader: Reader, at: int) -> int | None:
    """Words that join others, and those that head what follows on a form: `Date: 12/7/2026`."""
    plain = reader.plain(at)
    headed = plain.removesuffix(":") in _HEADS and (plain.endswith(":") or at + 1 < len(reader.words))
    return at + 1 if headed or plain in ("and", "&", "-", "–", "in", "on", "at") else None
