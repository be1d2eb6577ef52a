"""A seat at a terminal: the installed command at a pseudo-terminal of its own, with somebody typing."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Mapping
from pathlib import Path
from types import TracebackType
from typing import Self

# The child takes the terminal as its own, so that Ctrl-C reaches it as it would reach anybody.
_SIT_DOWN = "import fcntl, os, sys, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0); os.execv(sys.argv[1], sys.argv[1:])"
CTRL_C, CTRL_D = "\x03", "\x04"
_ESCAPE = re.compile(r"\x1b\[[0-9;?]*[a-zA-Z]")


class Seat:
    """One command running at a terminal of so many columns; use it in a `with`."""

    def __init__(self, arguments: list[str | Path], env: Mapping[str, str], cwd: Path, columns: int = 80) -> None:
        script = Path(sys.executable).parent / "reedmace"
        self._own, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        self._process = subprocess.Popen(
            [sys.executable, "-c", _SIT_DOWN, script, *arguments],
            stdin=theirs,
            stdout=theirs,
            stderr=theirs,
            env={"TERM": "xterm", **env},
            cwd=cwd,
            start_new_session=True,
        )
        os.close(theirs)
        self.seen = ""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._process.poll() is None:
            self._process.kill()
        self._process.wait()
        os.close(self._own)

    @property
    def text(self) -> str:
        """What the screen showed so far, without colours, lines ending in one sign."""
        return _ESCAPE.sub("", self.seen).replace("\r\n", "\n")

    def wait_for(self, words: str, timeout: float = 30) -> None:
        """Wait until these words are on the screen after what was typed last."""
        self._read(lambda: words in _ESCAPE.sub("", self.seen[self._typed_at :]), timeout, words)

    def type(self, line: str) -> None:
        """Type a line and press Return."""
        self.keys(line + "\n")

    def keys(self, keys: str) -> None:
        """Press keys; Ctrl-C and Ctrl-D are CTRL_C and CTRL_D."""
        self._typed_at = len(self.seen)
        os.write(self._own, keys.encode())

    def interrupt(self) -> None:
        """Press Ctrl-C as a person does: not within the microseconds between a prompt and the waiting for keys."""
        time.sleep(0.3)
        self.keys(CTRL_C)

    def leave(self, timeout: float = 30) -> int:
        """Wait for the end, and for all that was said before it; the exit code."""
        self._read(lambda: self._process.poll() is not None, timeout, "the end")
        while select.select([self._own], [], [], 0)[0]:
            try:
                said = os.read(self._own, 65536)
            except OSError:  # nothing more is to come
                break
            if not said:
                break
            self.seen += said.decode(errors="replace")
        return self._process.returncode

    _typed_at = 0

    def _read(self, enough: object, timeout: float, wanted: str) -> None:
        assert callable(enough)
        until = time.monotonic() + timeout
        while not enough():
            if time.monotonic() > until:
                raise AssertionError(f"waited in vain for {wanted!r}; the screen:\n{self.text}")
            ready, _, _ = select.select([self._own], [], [], 0.05)
            if not ready:
                continue
            try:
                self.seen += os.read(self._own, 65536).decode(errors="replace")
            except OSError:  # the other side has gone
                self._process.wait(timeout=5)
