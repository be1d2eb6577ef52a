"""Numbers as words: chances and weights of evidence as a person would say them."""

from __future__ import annotations

EFFORTS = {"glance": "a glance", "look": "a steady look", "close": "seen close", "hand": "in the hand"}
EVIDENCE = {
    "sight": "a careful look",
    "photo": "a photograph",
    "hand": "an examination in the hand, or a photograph of that very part",
    "panel": "a photograph and a description, for a panel of experts",
}
_STEPS = (1.5, 2, 3, 4, 5, 7, 10, 15, 20, 30, 50, 70, 100, 150, 200, 300, 500, 700, 1000)


def percent(probability: float) -> str:
    """`98 %`; never 0 or 100, because neither is ever true."""
    if probability >= 0.995:
        return ">99 %"
    if probability < 0.005:
        return "<1 %"
    return f"{probability * 100:.0f} %"


def times(weight: float) -> str:
    """A weight in decibans as `about 20 times`; the sign is the caller's to say."""
    factor = 10 ** (abs(weight) / 10)
    if factor < 1.2:
        return "hardly at all"
    if factor > 1000:
        return "more than 1000 times"
    nearest = min(_STEPS, key=lambda step: abs(step / factor - 1) + abs(factor / step - 1))
    return f"about {nearest:g} times"


def plural(number: int, one: str, many: str = "") -> str:
    """`1 sighting`, `2 sightings`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def counted(number: int, one: str, many: str = "") -> str:
    """As `plural`, for what may be thousands: `12,000 sightings`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def joined(names: list[str]) -> str:
    """`A`, `A and B`, `A, B and C`."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""
