"""Small helpers for putting words into a cell."""

from __future__ import annotations

from collections.abc import Iterable

# What the standard recommends between the parts of a list.
SEPARATOR = " | "


def listed(parts: Iterable[str]) -> str:
    """Join the parts of a list as the standard recommends."""
    return SEPARATOR.join(part for part in parts if part)


def sentences(*parts: str) -> str:
    """Put sentences one after another; empty ones are left out.

    A full stop goes only where something follows, so the last part, the user's own text, stays as typed.
    """
    *before, last = [part for part in parts if part] or [""]
    ended = [part if part.endswith((".", "!", "?", "…")) else f"{part}." for part in before]
    return " ".join([*ended, last])


def counted(number: int, one: str, more: str) -> str:
    """Give a number with its word: 1 pair, 3 pairs."""
    return f"{number} {one if number == 1 else more}"
