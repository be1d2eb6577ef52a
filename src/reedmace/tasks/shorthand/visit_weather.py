"""The weather on the line of a visit: each function reads one thing at a word, or leaves it (None)."""

from __future__ import annotations

import re
from typing import Any

from reedmace.tasks.shorthand.visit_said import Reader

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
_DIRECTION = "|".join(sorted(FROM, key=len, reverse=True))
_STRENGTH = "light|slight|gentle|moderate|fresh|strong"
_FORCE = r"(?:f|bft? ?|force |beaufort )?([0-9]{1,2})(?:[-–]([0-9]{1,2}))?"
_SAID = r"(?:f|bft? ?|force |beaufort |winds? )([0-9]{1,2})(?:[-–]([0-9]{1,2}))?"
# The wind with where it came from, in several words: with a force before or behind, or without one.
_WIND_FROM = (
    rf"winds?:? (?:from (?:the )?)?(?:{_DIRECTION}) {_FORCE}",
    rf"(?:winds?:? )?{_SAID} from (?:the )?(?:{_DIRECTION})",
    rf"(?:winds?:? )?(?:{_STRENGTH}) (?:from (?:the )?)?(?:{_DIRECTION})(?: winds?| breeze)?",
    rf"winds? from (?:the )?(?:{_DIRECTION})",
    rf"winds?:? (?:{_DIRECTION})([0-9])(?:[-–]([0-9]))?",
)
# In one word with two letters or three: one with figures could be a square.
_GLUED = (
    rf"(?:{'|'.join(sorted((one for one in FROM if 1 < len(one) < 4), key=len, reverse=True))})([0-9])(?:[-–]([0-9]))?"
)
# What is said of sun, cloud and rain in two words or more.
_SKY = (
    r"(?:full|hazy|weak|bright|strong|no) (?:sun|sunshine)|(?:sunny|bright|dry) (?:intervals?|spells?|periods?)"
    r"|(?:light|high|some|broken|thin|heavy|occasional) (?:clouds?|rain|showers?|drizzle)"
    r"|[0-8](?:/8)? ?oktas?|oktas? [0-8]"
)
_TEMPERATURES = r"[+-]?[0-9]{1,2}(?:-|–|to)[0-9]{1,2}(?:(?:°|º|degs?\.?|degrees?)?c(?:elsius)?|°|º)"
_TEMPERATURE = (
    r"(?:~|ca?\.?)?([+-]?[0-9]{1,2}(?:\.[0-9])?)((?:°|º|degs?\.?|degrees?)?c(?:elsius)?|°|º|degs?\.?|degrees?)"
)
_WARMEST = (-60, 60)  # the bounds that the records have, in °C
_HOT = 40  # beyond it degrees that do not say of what are hardly Celsius
_EIGHTHS = r"[0-8]/8"
_CLOUD = rf"cloud(?:cover)?(?:[0-9]{{1,3}}%?|{_EIGHTHS})|(?:[0-9]{{1,3}}%?|{_EIGHTHS})cloud(?:cover)?|{_EIGHTHS}"
_SUN = r"(?:(?:sun|sunny):?)?([0-9]{1,3})%?(?:sun|sunny)?"
_WIND = r"(?:wind|winds)?(?:f|bf|bft|beaufort|wind|force)([0-9]{1,2})(?:[-–]([0-9]{1,2}))?"


def temperature(reader: Reader, at: int) -> int | None:
    """`21C`, `21 °C`, `21 deg C`, `temp 21`, `temp 21C`; of a span (`20-22C`) there is no one figure: it is words."""
    if reader.plain(at).rstrip(":") in ("temp", "temp.", "temperature", "air"):
        return temperature(reader, at + 1) or _bare_degrees(reader, at)
    for end in (at + 5, at + 4, at + 3, at + 2, at + 1):
        if re.fullmatch(_TEMPERATURES, reader.joined(at, end), re.ASCII):
            _weather(reader, at, end)
            return end
    for end in (at + 3, at + 2, at + 1):
        text = reader.joined(at, end).replace("−", "-")
        if found := re.fullmatch(_TEMPERATURE, text):
            value = float(found[1])
            warmest = _WARMEST[1] if "c" in found[2] else _HOT
            if not _WARMEST[0] <= value <= warmest:
                reader.fault(
                    "temperature-unlikely",
                    f"{value:g} {'°C is no' if 'c' in found[2] else 'degrees may be no Celsius, or no'} temperature.",
                    "write degrees Celsius, such as  21C  ; Fahrenheit as a remark after  #",
                    reader.words[at],
                    reader.words[end - 1],
                )
            else:
                _weather(reader, at, end, temperature_c=int(value) if value.is_integer() else value)
            return end
    return None


def _bare_degrees(reader: Reader, at: int) -> int | None:
    """`temp 18`: degrees Celsius, as those are that do not say of what (`18 degrees`)."""
    found = re.fullmatch(r"[+-]?([0-9]{1,2}(?:\.[0-9])?)", reader.plain(at + 1).replace("−", "-"), re.ASCII)
    if reader.plain(at).rstrip(":") == "air" or found is None or float(found[1]) > _HOT:
        return None
    value = float(found[0])
    _weather(reader, at, at + 2, temperature_c=int(value) if value.is_integer() else value)
    return at + 2


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
    if (end := _wind_from(reader, at)) is not None:
        return end
    first = at + (reader.plain(at) in FROM)
    for end in (first + 3, first + 2, first + 1):
        if first == at and end == at + 1 and (found := re.fullmatch(_GLUED, reader.plain(at), re.ASCII)):
            return _forces(reader, at, end, found)
        if found := re.fullmatch(_WIND, reader.joined(first, end), re.ASCII):
            end += first == at and reader.plain(end) in FROM
            return _forces(reader, at, end, found)
    return _wind_in_words(reader, at, first)


def _forces(reader: Reader, at: int, end: int, found: re.Match[str]) -> int:
    """Take the forces of the wind, one or from one to another."""
    low, high = int(found[1]), int(found[2] or found[1])
    if high > 12 or high < low:
        message = "Beaufort forces run from 0 to 12, the lower one first."
        reader.fault("wind-not-beaufort", message, "write  F2  or  F2-3", reader.words[at], reader.words[end - 1])
    else:
        _weather(reader, at, end, wind=(low, high))
    return end


def _wind_from(reader: Reader, at: int) -> int | None:
    """`wind from SW F2`, `F3 from SW`, `wind SW 2`, `light SW wind`."""
    for end in range(min(len(reader.words), at + 6), at + 1, -1):
        text = " ".join(reader.plain(one) for one in range(at, end))
        for pattern in _WIND_FROM:
            if found := re.fullmatch(pattern, text, re.ASCII):
                if not found.re.groups:
                    _weather(reader, at, end)
                    return end
                return _forces(reader, at, end, found)
    return None


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
    """`overcast`, `cloud 30%`, `30% cloud`, `4/8 cloud`, `sunny intervals`: kept as weather in words."""
    for end in (at + 3, at + 2):
        if re.fullmatch(_SKY, " ".join(reader.plain(one) for one in range(at, end)), re.ASCII):
            _weather(reader, at, end)
            return end
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
    reader.behind_weather = end
    reader.put(reader.words[at], **values)
