"""Thirds of a month, as handbooks write flight periods: 0 is early January, 35 is late December."""

from __future__ import annotations

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
PARTS = ("early", "mid", "late")


def third_of(month: int, day: int) -> int:
    """The third a day falls in: days 1–10, 11–20, 21 to the end."""
    return (month - 1) * 3 + min((day - 1) // 10, 2)


def parse_third(text: str) -> int | None:
    """`mid-june` → 16; None when it is no third of a month."""
    part, _, month = text.partition("-")
    if part not in PARTS or month not in MONTHS:
        return None
    return MONTHS.index(month) * 3 + PARTS.index(part)


def show_third(third: int) -> str:
    """16 → `mid-June`."""
    month, part = divmod(third, 3)
    return f"{PARTS[part]}-{MONTHS[month].capitalize()}"
