"""What a page says that is no dragonfly's alone: a name that butterflies have, and marks for "the same as above"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line import Line

# Short names that are a butterfly's whole name; those with more to them ("common blue dam") are none.
_BUTTERFLIES = frozenset(("common blue", "common blues"))
_SPOKEN_OF = r"\b(?:butterfl(?:y|ies)|lepidoptera|leps)\b"
_DITTO = r"(?:ditto|do\.?|\u3003|[\"”“″]|,,|''|-+[\"”]-+)(?=\s|$)"


def speaks_of_butterflies(lines: Sequence[str]) -> bool:
    """Whether a page has butterflies on it, by the word: in a remark, say, or as a heading."""
    return any(re.search(_SPOKEN_OF, line, re.IGNORECASE) for line in lines)


def butterfly_told(line: Line) -> Fault | None:
    """What is wrong with `3 common blue` on a page that speaks of butterflies."""
    name = line.name.typed
    if name.casefold() not in _BUTTERFLIES:
        return None
    return slip(
        "ambiguous-name",
        f'"{name}" is a butterfly, too, and this page speaks of butterflies.',
        f"write  {name} dam  for the damselfly; leave the line out for the butterfly",
        line.typed,
        max(0, line.typed.find(name)),
        max(0, line.typed.find(name)) + len(name),
    )


def ditto_told(text: str) -> Fault | None:
    """What is wrong with `" 2 f`: a mark for what stands above it."""
    body = text.lstrip()
    found = re.match(_DITTO, body, re.IGNORECASE)
    if found is None:
        return None
    start = len(text) - len(body)
    hint = "write the name again, as on the line above"
    return slip("same-as-above", f"{found[0]} stands for what is above it.", hint, text, start, start + found.end())
