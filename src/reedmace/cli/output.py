"""What commands give to other programs; and how wide what they give to people may be."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from reedmace.terminal.plain import lacks_signs

if TYPE_CHECKING:
    from reedmace.faults import Fault
    from reedmace.ledger.entries import Followed


def say_json(value: Any, indent: int | None = None, *, err: bool = False) -> None:
    """Write one JSON value to standard output, or error; its text is escaped where the stream is not UTF-8."""
    plain = lacks_signs((sys.stderr if err else sys.stdout).encoding)
    click.echo(json.dumps(value, ensure_ascii=plain, indent=indent), err=err)


def fault_values(fault: Fault) -> dict[str, Any]:
    """A fault for other programs: code, message, hint, what was written, and the place in a file."""
    told: dict[str, Any] = {"code": fault.code, "message": fault.message, "hint": fault.hint, "said": fault.said}
    if fault.where is not None:
        told |= {"file": fault.where.file, "line": fault.where.line, "column": fault.where.column}
    return told


def say_written(entries: Iterable[Followed], act: str) -> None:
    """As JSON, what was said by new entries: of what, by which entry, and the act; one object a line."""
    for one in entries:
        say_json({"subject": one.subject, "entry": one.entry_id, "act": act})


def columns() -> int | None:
    """How wide plain text is to be: the terminal's width or COLUMNS, at most 100; None where nobody reads lines."""
    if not (sys.stdout.isatty() or "COLUMNS" in os.environ):
        return None
    import shutil

    return min(100, shutil.get_terminal_size().columns)
