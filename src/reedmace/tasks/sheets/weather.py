"""The weather of a row with columns for temperature, sun, wind and cloud: its words, and what was understood."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

WEATHER = frozenset({"temperature", "sun", "wind", "cloud", "cloud_eighths", "wind_direction"})
_HEADED = {
    frozenset(words.split()): field
    for field, said in (
        ("temperature", ("temp", "temp c", "temp celsius", "temp centigrade", "temp degc")),
        ("sun", ("sun", "sun percent")),
        ("cloud", ("cloud", "cloud percent")),
        ("cloud_eighths", ("cloud oktas", "cloud okta", "cloud eighths", "cloud 8ths", "cloud 8", "cloud x 8")),
        ("wind", ("wind", "wind force", "wind beaufort", "wind bf", "wind force beaufort", "wind speed beaufort")),
        ("wind_direction", ("wind direction", "wind dir", "wind from", "wind direction from")),
    )
    for words in said
}
_SAME = {"temperature": "temp", "temps": "temp", "sunshine": "sun", "clouds": "cloud", "strength": "force"}
_SILENT = frozenset(("max", "maximum", "air", "shade", "deg", "degree", "degrees", "cover", "scale", "of", "in", "out"))
_TEMPERATURE = re.compile(r"([+-]?[0-9]{1,2}(?:\.[0-9])?)\s*(?:°|º|deg\.?)?\s*c?", re.ASCII | re.I)
_SUN = re.compile(r"([0-9]{1,3})\s*(%?)", re.ASCII)
_WIND = re.compile(r"(?:f|bf|force)?\s*([0-9]{1,2})(?:\s*-\s*([0-9]{1,2}))?(?:\s*bf)?", re.ASCII | re.I)
# A cell that says itself what it is.
_PLAIN = re.compile(r".*[°º].*|[+-]?[0-9.]+\s*c|f\s*[0-9].*|.*\b(?:sun|wind|cloud|force)\w*\b.*", re.I)


def weather_headed(plain: str) -> str | None:
    """Give the field of a heading in plain words, with its unit or without; None where it is none of these."""
    return _HEADED.get(frozenset(_SAME.get(word, word) for word in plain.split() if word not in _SILENT))


def read_weather(fields: Mapping[str, str]) -> dict[str, Any]:
    """Give the weather in the fields of a visit; what no number can be made of stays in words."""
    if WEATHER.isdisjoint(fields):
        return {"weather": fields.get("weather", "").strip()}
    cells = {
        field: cell for field in ("temperature", "sun", "cloud", "wind") if (cell := fields.get(field, "").strip())
    }
    told = [(field, cell if _PLAIN.fullmatch(cell) else f"{field} {cell}") for field, cell in cells.items()]
    if eighths := fields.get("cloud_eighths", "").strip():
        told.append(("cloud", f"cloud {eighths}/8" if eighths.isdecimal() else f"cloud {eighths}"))
    if way := fields.get("wind_direction", "").strip():
        blowing = dict(told).get("wind", "wind")
        told = [*(one for one in told if one[0] != "wind"), ("wind", f"{blowing} {way}")]
    words = [word for _, word in told]
    found: dict[str, Any] = {"weather": ", ".join(filter(None, (fields.get("weather", "").strip(), *words)))}
    plain = cells.get("temperature", "").replace("−", "-")
    if warm := _TEMPERATURE.fullmatch(plain):
        value = float(warm[1])
        found["temperature_c"] = int(value) if value.is_integer() else value
    # A bare number below ten may be eighths or hours.
    if (
        (sun := _SUN.fullmatch(cells.get("sun", "")))
        and int(sun[1]) <= 100
        and (sun[2] or int(sun[1]) not in range(1, 10))
    ):
        found["sun_percent"] = int(sun[1])
    if wind := _WIND.fullmatch(cells.get("wind", "").replace("–", "-")):
        low, high = int(wind[1]), int(wind[2] or wind[1])
        if low <= high <= 12:
            found |= {"wind_force": low, "wind_force_to": high if high > low else None}
    return found
