"""Faults: input that cannot be read or used, each with its place and a remedy.

A fault is a value. Readers return faults beside what they could read, so that one slip never hides the
other forty; where a task cannot go on at all, the faults travel in one exception, `Refused`.
This module imports nothing but the standard library: showing a fault is the terminal's business.
"""

import os
from collections.abc import Iterable
from typing import NamedTuple


class Where(NamedTuple):
    """A place in a file: line and column count from 1; `excerpt` is the user's own line, `width` in characters."""

    file: str
    line: int | None = None
    column: int | None = None
    excerpt: str | None = None
    width: int = 1


class Fault(NamedTuple):
    """One fault.

    `code` is a kebab-case name that never changes meaning; `message` says what is wrong in plain words;
    `hint` says what to do about it (never empty); `said` is what the user wrote, untouched.
    `typed` marks a fault in what was typed just now (wrong usage) rather than in stored data.
    """

    code: str
    message: str
    hint: str
    said: str | None = None
    where: Where | None = None
    typed: bool = False


class Refused(Exception):  # noqa: N818  (the project's word: something asked for was refused)
    """Raised where a task cannot go on; carries at least one fault."""

    def __init__(self, *faults: Fault) -> None:
        if not faults:
            raise ValueError("Refused needs at least one fault")
        super().__init__("; ".join(f"{fault.code}: {fault.message}" for fault in faults))
        self.faults = faults


def cannot_read(path: str | os.PathLike[str], error: OSError, what: str = "This file") -> Refused:
    """The refusal of a file whose path was typed and which cannot be read."""
    said = f"{what} cannot be read: {(error.strerror or str(error)).rstrip('.')}."
    hint = "look whether the path is right, and whether you may read it"
    return Refused(Fault("file-cannot-read", said, hint, os.fspath(path), typed=True))


def nearest(word: str, known: Iterable[str], most: int = 3, cutoff: float = 0.55) -> tuple[str, ...]:
    """The known words that look most like `word`, best first; used for "did you mean"."""
    import difflib  # only slips pay for it

    folded = {name.casefold(): name for name in known}
    matches = difflib.get_close_matches(word.casefold(), folded, n=most, cutoff=cutoff)
    return tuple(folded[match] for match in matches)


def did_you_mean(word: str, known: Iterable[str], otherwise: str) -> str:
    """A hint naming the nearest known words, or `otherwise` when nothing comes near."""
    close = nearest(word, known)
    return f"did you mean {' or '.join(close)}?" if close else otherwise
