"""How, on the line of a visit: each function reads one thing at a word, or leaves it (None)."""

from __future__ import annotations

import re
from typing import Any

from reedmace.faults import Fault
from reedmace.records import unless_blank
from reedmace.tasks.field_words import NUMBERS
from reedmace.tasks.setting import find_habitat
from reedmace.tasks.visit_said import Reader

METHODS = {
    **dict.fromkeys(("transect", "transects"), "transect"),
    **dict.fromkeys(("timed",), "timed count"),
    **dict.fromkeys(("casual", "incidental"), "casual"),
    **dict.fromkeys(("walk",), "walk"),
    **dict.fromkeys(("dipping", "dip"), "pond dipping"),
    **dict.fromkeys(("survey",), "survey"),
}
SKIES = frozenset(
    [
        "sunny",
        "bright",
        "hazy",
        "cloudy",
        "overcast",
        "dull",
        "rain",
        "showers",
        "shower",
        "drizzle",
        "dry",
        "wet",
        "still",
        "breezy",
        "windy",
        "gusty",
        "hot",
        "warm",
        "cool",
        "cold",
        "mild",
        "humid",
        "thundery",
        "fog",
        "mist",
        "misty",
    ]
)
DAMSELFLIES = frozenset(("damselflies", "damselfly", "dams", "damsels"))
DRAGONFLIES = frozenset(("dragonflies", "dragonfly", "drags", "dragons"))
# The Beaufort scale's own words for its forces (the scale in its usual English wording).
BEAUFORT = {
    "calm": 0,
    "light air": 1,
    "light airs": 1,
    "light breeze": 2,
    "gentle breeze": 3,
    "moderate breeze": 4,
    "fresh breeze": 5,
    "strong breeze": 6,
}
_WINDS = r"(?:(?:light|slight|gentle|moderate|fresh|strong)(?:breezes?|winds?)|(?:no|light)wind|breeze)"
FROM = frozenset(
    ("n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw")
) | {"north", "east", "south", "west", "northerly", "easterly", "southerly", "westerly", "variable"}
_TEMPERATURE = r"([+-]?[0-9]{1,2}(?:\.[0-9])?)(?:(?:°|º|degs?\.?|degrees?)?c(?:elsius)?|°|º)"
_WARMEST = (-60, 60)  # the bounds that the records have, in °C
_EIGHTHS = r"[0-8]/8"
_CLOUD = rf"cloud(?:cover)?(?:[0-9]{{1,3}}%?|{_EIGHTHS})|(?:[0-9]{{1,3}}%?|{_EIGHTHS})cloud(?:cover)?|{_EIGHTHS}"
_SUN = r"(?:sun|sunny)?([0-9]{1,3})%?(?:sun|sunny)?"
_WIND = r"(?:wind|winds)?(?:f|bf|bft|beaufort|wind|force)([0-9]{1,2})(?:[-–]([0-9]{1,2}))?"


def temperature(reader: Reader, at: int) -> int | None:
    """`21C`, `21 °C`, `21 deg C`."""
    for end in (at + 3, at + 2, at + 1):
        text = reader.joined(at, end).replace("−", "-")
        if found := re.fullmatch(_TEMPERATURE, text):
            value = float(found[1])
            if not _WARMEST[0] <= value <= _WARMEST[1]:
                reader.fault(
                    "temperature-unlikely",
                    f"{value:g} °C is no temperature of the air.",
                    "write degrees Celsius, such as  21C  ; Fahrenheit as a remark after  #",
                    reader.words[at],
                    reader.words[end - 1],
                )
            else:
                _weather(reader, at, end, temperature_c=int(value) if value.is_integer() else value)
            return end
    return None


def sun(reader: Reader, at: int) -> int | None:
    """`sun70`, `sun 70%`, `70% sun`, `70%sun`."""
    for end in (at + 3, at + 2, at + 1):
        text = reader.joined(at, end)
        found = re.fullmatch(_SUN, text, re.ASCII)
        if found and "sun" in text:
            percent = int(found[1])
            if percent > 100:
                reader.fault(
                    "sun-over-100", "The sun shines for 100 % of the time at most.", "write  sun70", reader.words[at]
                )
            else:
                _weather(reader, at, end, sun_percent=percent)
            return end
    return None


def wind(reader: Reader, at: int) -> int | None:
    """`F2`, `F2-3`, `wind 2`, `Beaufort 2`, with where it came from (`F2 SW`); `light breeze`."""
    first = at + (reader.plain(at) in FROM)
    for end in (first + 3, first + 2, first + 1):
        if found := re.fullmatch(_WIND, reader.joined(first, end), re.ASCII):
            low, high = int(found[1]), int(found[2] or found[1])
            if high > 12 or high < low:
                reader.fault(
                    "wind-not-beaufort",
                    "Beaufort forces run from 0 to 12, the lower one first.",
                    "write  F2  or  F2-3",
                    reader.words[first],
                )
            else:
                end += first == at and reader.plain(end) in FROM
                _weather(reader, at, end, wind=(low, high))
            return end
    return _wind_in_words(reader, at, first)


def _wind_in_words(reader: Reader, at: int, first: int) -> int | None:
    """The wind in words, kept as weather; the Beaufort scale's own words are its forces."""
    for end in (first + 2, first + 1):
        words = " ".join(reader.plain(one) for one in range(first, end))
        joined = reader.joined(first, end)
        beside = first != at or (reader.plain(first) in ("wind", "winds") and reader.plain(end) in FROM)
        if words not in BEAUFORT and not re.fullmatch(_WINDS, joined) and not (beside and joined in ("wind", "winds")):
            continue
        if words in BEAUFORT:
            reader.breezes.add(BEAUFORT[words])
        end += first == at and reader.plain(end) in FROM
        _weather(reader, at, end)
        return end
    return None


def sky(reader: Reader, at: int) -> int | None:
    """`overcast`, `cloud 30%`, `30% cloud`, `4/8 cloud`: kept as weather in words."""
    if reader.plain(at) in SKIES:
        _weather(reader, at, at + 1)
        return at + 1
    for end in (at + 3, at + 2, at + 1):
        text = reader.joined(at, end)
        if re.fullmatch(_CLOUD, text, re.ASCII):
            _weather(reader, at, end)
            return end
    return None


def _weather(reader: Reader, at: int, end: int, **values: Any) -> None:
    last = reader.words[min(end, len(reader.words)) - 1]
    reader.weather.append(reader.typed[reader.words[at].start : last.end])
    reader.put(reader.words[at], **values)


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
        habitat = find_habitat(reader.key, value.text)
        if isinstance(habitat, Fault):
            reader.fault(habitat.code, habitat.message, habitat.hint, value)
        else:
            reader.put(reader.words[at], habitat=habitat.id)
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
    """Words that join others."""
    return at + 1 if reader.plain(at) in ("and", "&", "-", "–", "in", "on", "at") else None
