"""What commands give to other programs, and streams that can say everything."""

from __future__ import annotations

import json
import sys
from typing import Any

import click

from reedmace.terminal.plain import lacks_signs


def say_json(value: Any, indent: int | None = None) -> None:
    """Write one JSON value to standard output; its text is escaped where the stream is not UTF-8."""
    plain = lacks_signs(sys.stdout.encoding)
    click.echo(json.dumps(value, ensure_ascii=plain, indent=indent))


def say_everything() -> None:
    r"""Let a stream that lacks a sign show it as `\xe9` instead of failing half-way through a list."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def columns() -> int | None:
    """How wide plain text is to be: the terminal's width or COLUMNS, at most 100; None where nobody reads lines."""
    import os
    import shutil

    if not (sys.stdout.isatty() or "COLUMNS" in os.environ):
        return None
    return min(100, shutil.get_terminal_size().columns)
