"""Streams that can say everything, in colour where it is wanted."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TextIO


def say_everything() -> None:
    r"""Let a stream that lacks a sign show it as `\xe9` instead of failing half-way through a list.

    What comes in and is no text is kept as it is, for whoever reads it to refuse. Streams that were closed before
    we began are as if they led nowhere.
    """
    sys.stdin = sys.stdin or _nowhere()
    sys.stdout = sys.stdout or _nowhere()
    sys.stderr = sys.stderr or _nowhere()
    for stream, errors in (
        (sys.stdin, "surrogateescape"),
        (sys.stdout, "backslashreplace"),
        (sys.stderr, "backslashreplace"),
    ):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=errors)


def _nowhere() -> TextIO:
    return Path(os.devnull).open("r+", encoding="utf-8")  # for as long as we run


def use_colour(stream: object) -> bool:
    """Colour only on a terminal that wants it (NO_COLOR, TERM=dumb)."""
    is_terminal = getattr(stream, "isatty", lambda: False)()
    return bool(is_terminal) and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"
