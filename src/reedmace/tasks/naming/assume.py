"""Other values for the numbers that the engine assumes, as typed: `error_factor=1.2`."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.scoring.assumptions import DEFAULTS, Assumptions

ABOVE_0 = ("error_factor", "settle", "separation", "fit_grid", "fit_from", "ruler_half_width", "measured_half_width")


def read_assumptions(typed: Sequence[str]) -> Assumptions:
    """The engine's assumptions with those typed put in their place. Raises Refused with every fault at once."""
    values: dict[str, float] = {}
    faults: list[Fault] = []
    for text in typed:
        name, _, value = text.partition("=")
        name = name.strip().replace("-", "_")
        if name not in DEFAULTS._fields:
            hint = did_you_mean(name, DEFAULTS._fields, f"they are {', '.join(DEFAULTS._fields)}")
            message = f'The engine assumes nothing called "{name}".'
            faults.append(Fault("unknown-assumption", message, hint, text, typed=True))
            continue
        read = _value(name, value)
        if isinstance(read, str):
            faults.append(Fault("unusable-assumption", read, _hint(name), text, typed=True))
        else:
            values[name] = read
    if faults:
        raise Refused(*faults)
    return DEFAULTS._replace(**values)  # type: ignore[arg-type]  # each of the type of its default


def _value(name: str, text: str) -> float | str:
    """The number, or what is wrong with it."""
    usual = getattr(DEFAULTS, name)
    try:
        value = type(usual)(text)
    except ValueError:
        return f'"{text.strip()}" is no {"whole " if isinstance(usual, int) else ""}number.'
    if not isfinite(value) or value < 0 or (value == 0 and name in ABOVE_0) or (value >= 1 and _is_chance(name)):
        return f"{name} cannot be {text.strip()}."
    return float(value) if isinstance(usual, float) else value


def _is_chance(name: str) -> bool:
    """True for what is a share or a probability: their usual values lie between 0 and 1, and in no unit."""
    return 0 < getattr(DEFAULTS, name) < 1 and name not in ("measured_half_width", "fit_grid")


def _hint(name: str) -> str:
    chance = "between 0 and 1" if name in ABOVE_0 else "from 0 to below 1"
    bounds = chance if _is_chance(name) else "above 0" if name in ABOVE_0 else "0 or more"
    return f"it is {bounds}:  {name}={getattr(DEFAULTS, name):g}"
