"""Faults as the user meets them: place, the user's own line with carets, why, and what to do."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from reedmace.faults import Fault, Where
from reedmace.terminal.plain import literal


def show_faults(faults: tuple[Fault, ...] | list[Fault], *, colour: bool) -> str:
    """All faults as text, one after another; colour only marks what the words say already."""
    return "\n\n".join(show_fault(fault, colour=colour) for fault in faults)


def show_fault(fault: Fault, *, colour: bool) -> str:
    """One fault as text."""

    def paint(text: str, **style: Any) -> str:
        return click.style(text, **style) if colour else text

    place = _place(fault.where)
    lines = [f"{place}: {paint(fault.code, fg='red', bold=True)}" if place else paint(fault.code, fg="red", bold=True)]
    if fault.where and fault.where.excerpt is not None and fault.where.line is not None:
        lines += _excerpt(fault.where, paint)
    elif fault.said is not None:
        lines.append(f'  you wrote: "{literal(fault.said)}"')
    lines.append(literal(fault.message))
    lines.append(f"{paint('hint:', fg='cyan')} {literal(fault.hint)}")
    return "\n".join(lines)


def _place(where: Where | None) -> str:
    if where is None:
        return ""
    parts = [literal(where.file), *(str(part) for part in (where.line, where.column) if part is not None)]
    return ":".join(parts)


WINDOW = 76  # columns of a long line that are shown


def _excerpt(where: Where, paint: Callable[..., str]) -> list[str]:
    """The user's own line with carets under what is meant; of a long line the part around it."""
    assert where.excerpt is not None
    number = str(where.line)
    column = (where.column or 1) - 1
    start = max(0, column - WINDOW // 2) if len(where.excerpt) > WINDOW else 0
    shown = literal(where.excerpt[start : start + WINDOW].replace("\t", " "))
    before = "…" if start else ""
    after = "…" if start + WINDOW < len(where.excerpt) else ""
    carets = min(where.width, WINDOW - (column - start))
    return [
        f"  {number} | {before}{shown}{after}",
        f"  {' ' * len(number)} | {' ' * (len(before) + column - start)}{paint('^' * max(1, carets), fg='red')}",
    ]
