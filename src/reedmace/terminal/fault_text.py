"""Faults as the user meets them: place, the user's own line with carets, why, and what to do."""

from __future__ import annotations

import click

from reedmace.faults import Fault, Where
from reedmace.terminal.plain import literal


def show_faults(faults: tuple[Fault, ...] | list[Fault], *, colour: bool) -> str:
    """All faults as text, one after another; colour only marks what the words say already."""
    return "\n\n".join(show_fault(fault, colour=colour) for fault in faults)


def show_fault(fault: Fault, *, colour: bool) -> str:
    """One fault as text."""

    def paint(text: str, **style: object) -> str:
        return click.style(text, **style) if colour else text  # type: ignore[arg-type]

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


def _excerpt(where: Where, paint: object) -> list[str]:
    assert callable(paint)
    assert where.excerpt is not None
    number = str(where.line)
    column = (where.column or 1) - 1
    # Tabs stay tabs in the caret line, so that the carets stand under what they mean.
    lead = "".join("\t" if character == "\t" else " " for character in where.excerpt[:column])
    return [
        f"  {number} | {literal(where.excerpt.expandtabs(4) if chr(9) not in lead else where.excerpt.replace(chr(9), ' '))}",
        f"  {' ' * len(number)} | {lead.replace(chr(9), ' ')}{paint('^' * where.width, fg='red')}",
    ]
