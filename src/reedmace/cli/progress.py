"""How far a long command is, on standard error: one line that is written over at a terminal, else now and then."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

_AT_TERMINAL, _ELSEWHERE = 0.2, 10.0  # seconds between two reports


class Progress:
    """Tells a number with its words, not more often than is useful; `close` ends the line."""

    def __init__(self, words: str, clock: Callable[[], float] = time.monotonic) -> None:
        self._words = words
        self._clock = clock
        self._terminal = sys.stderr.isatty()
        self._next = clock() + (_AT_TERMINAL if self._terminal else _ELSEWHERE)
        self._open = False

    def __call__(self, number: int, more: str = "") -> None:
        """Say how far it is."""
        now = self._clock()
        if now < self._next:
            return
        self._next = now + (_AT_TERMINAL if self._terminal else _ELSEWHERE)
        line = f"{number:,} {self._words}{more}"
        sys.stderr.write(f"\r{line:<60}" if self._terminal else f"{line}\n")
        sys.stderr.flush()
        self._open = self._terminal

    def close(self) -> None:
        """Clear the line that is being written over."""
        if self._open:
            sys.stderr.write(f"\r{'':<60}\r")
            sys.stderr.flush()
            self._open = False
