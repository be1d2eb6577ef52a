"""Lengths as people say them, `two inches` or `7 cm`: figures for their words, and what they are worth in millimetres.

Whoever says a length in inches or whole centimetres says it roughly: 2 inches are not 50.8 mm.
"""

from __future__ import annotations

import re

IN_MM = {"cm": 10.0, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4}
_SMALL = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_TENS = {"fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80}
_WORDS = {word: number for number, word in enumerate(_SMALL, 1)} | _TENS
_UNIT = r"(?:mms?|cms?|millimet(?:re|er)s?|centimet(?:re|er)s?|inch(?:es)?|\"|in\b)"
_SIGNS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4"}
_NUMBER = rf"(?:[0-9]+(?:\.[0-9]+)?|\b(?:{'|'.join(_WORDS)})\b)"


def in_figures(text: str) -> str:
    """A line with the lengths in it in figures: `an inch and a half` → `1.5 inch`. All else stays, in small letters."""
    plain = text.casefold()
    for sign, parts in _SIGNS.items():
        plain = plain.replace(sign, parts)
    plain = re.sub(r"\bcentimet(?:re|er)s?\b|\bcms\b", "cm", plain)
    plain = re.sub(r"\bmillimet(?:re|er)s?\b|\bmms\b", "mm", plain)
    plain = re.sub(rf"\b({_NUMBER}|an?) ({_UNIT}) and a half\b", lambda one: f"{_half_more(one[1])} {one[2]}", plain)
    plain = re.sub(rf"({_NUMBER})(?: and a half| 1/2) ?({_UNIT})", lambda one: f"{_half_more(one[1])} {one[2]}", plain)
    plain = re.sub(rf"\b(?:a )?half(?: an?| of an?)?(?: |-)({_UNIT})", r"0.5 \1", plain)
    plain = re.sub(rf"\b(?:three quarters|3/4)(?: of)?(?: an?)? ({_UNIT})", r"0.75 \1", plain)
    plain = re.sub(rf"(?<![0-9/])1/2 ?({_UNIT})", r"0.5 \1", plain)
    plain = re.sub(
        rf"({_NUMBER}) ?(?:to|or|-|–) ?({_NUMBER}) ?({_UNIT})",
        lambda one: f"{_number(one[1])} to {_number(one[2])} {one[3]}",
        plain,
    )
    plain = re.sub(rf"({_NUMBER}) ?({_UNIT})", lambda one: f"{_number(one[1])} {one[2]}", plain)
    return re.sub(r"\ban? (inch|cm)\b", r"1 \1", plain)


def in_mm(low: float, high: float, unit: str) -> tuple[float, float]:
    """Centimetres or inches as millimetres, as exactly as they were meant; raises `KeyError` for another unit.

    Whole centimetres are good to half of one, whole and half inches to a quarter of one. A range says itself how
    rough it is, centimetres with a decimal are millimetres, and of what is short a quarter is the most.
    """
    factor = IN_MM[unit]
    if low != high:
        return round(low * factor, unit == "cm"), round(high * factor, unit == "cm")
    length = low * factor
    if unit == "cm":
        give = min(5.0, length / 4) if low % 1 == 0 else 0.0
        return round(length - give, 1), round(length + give, 1)
    give = min(6.0, length / 4) if low * 2 % 1 == 0 else 3.0
    return round(length - give, 0), round(length + give, 0)


def _number(typed: str) -> str:
    return str(_WORDS.get(typed, typed))


def _half_more(typed: str) -> str:
    return f"{float(1 if typed in ('a', 'an') else _number(typed)) + 0.5:g}"
