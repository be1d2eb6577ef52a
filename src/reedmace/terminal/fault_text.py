"""Faults as the user meets them: place, the user's own line with carets, why, and what to do."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from typing import Any

import click

from reedmace.faults import Fault, Where
from reedmace.terminal.plain import glued, literal, loosened

WINDOW = 76  # columns of a long line that are shown at most


def show_faults(
    faults: tuple[Fault, ...] | list[Fault], *, colour: bool, width: int | None = None, plain: bool = False
) -> str:
    """All faults as text, one after another; colour only marks what the words say already.

    `width` in columns wraps what is longer, None leaves lines as long as they are; `plain` marks a cut line
    in ASCII.
    """
    return "\n\n".join(show_fault(fault, colour=colour, width=width, plain=plain) for fault in faults)


def show_fault(fault: Fault, *, colour: bool, width: int | None = None, plain: bool = False) -> str:
    """One fault as text."""

    def paint(text: str, **style: Any) -> str:
        return click.style(text, **style) if colour else text

    place = _place(fault.where)
    lines = [f"{place}: {paint(fault.code, fg='red', bold=True)}" if place else paint(fault.code, fg="red", bold=True)]
    if fault.where and fault.where.excerpt is not None and fault.where.line is not None:
        lines += _excerpt(fault.where, paint, width, "..." if plain else "…")
    elif fault.said is not None:
        lines.append(_wrapped(f'  you wrote: "{literal(fault.said)}"', width, break_long_words=True))
    lines.append(_wrapped(literal(fault.message), width))
    # Wrapped before it is painted, so that colour takes no room.
    lines.append(_wrapped(f"hint: {literal(fault.hint)}", width).replace("hint:", paint("hint:", fg="cyan"), 1))
    return "\n".join(lines)


def _wrapped(text: str, width: int | None, *, break_long_words: bool = False) -> str:
    """The text in lines of at most `width` columns; what is to be typed again stays in one piece."""
    if width is None or len(text) <= width:
        return text
    options: Any = {"subsequent_indent": "  ", "break_long_words": break_long_words, "break_on_hyphens": False}
    return loosened("\n".join(textwrap.wrap(glued(text), width, **options)), text)


def _place(where: Where | None) -> str:
    if where is None or not where.file:
        return ""
    parts = [literal(where.file), *(str(part) for part in (where.line, where.column) if part is not None)]
    return ":".join(parts)


def _excerpt(where: Where, paint: Callable[..., str], width: int | None, dots: str) -> list[str]:
    """The user's own line with carets under what is meant; of a long line the part around it."""
    assert where.excerpt is not None
    number = str(where.line)
    room = WINDOW if width is None else max(20, min(WINDOW, width - len(f"  {number} | ") - 2 * len(dots)))
    column = (where.column or 1) - 1
    start = max(0, column - room // 2) if len(where.excerpt) > room else 0
    shown = literal(where.excerpt[start : start + room].replace("\t", " "))
    before = dots if start else ""
    after = dots if start + room < len(where.excerpt) else ""
    carets = min(where.width, room - (column - start))
    return [
        f"  {number} | {before}{shown}{after}",
        f"  {' ' * len(number)} | {' ' * (len(before) + column - start)}{paint('^' * max(1, carets), fg='red')}",
    ]
