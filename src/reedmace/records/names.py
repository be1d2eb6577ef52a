"""People's names inside typed text: marks that hold a person's id, so that a name can still be forgotten.

An entry is never rewritten, and a person may ask for their name to go. So a line such as `3 azure dam by Ben Sallow`
is kept as `3 azure dam by {person:ID}`, and shown with the name that the register gives for the id.
"""

from __future__ import annotations

import re
from collections.abc import Callable

_MARK = r"\{person:([^\s{}]+)\}"


def name_mark(person: str) -> str:
    """The mark that stands for a person."""
    return f"{{person:{person}}}"


def people_marked(text: str) -> list[str]:
    """The ids of the people whose marks stand in a text."""
    return re.findall(_MARK, text) if "{person:" in text else []


def with_names(text: str, name_of: Callable[[str], str | None]) -> str:
    """The text with names again; a mark whose id `name_of` does not know (None) stays as it is."""
    if "{person:" not in text:
        return text
    return re.sub(_MARK, lambda mark: name_of(mark[1]) or mark[0], text)
