"""What a page says that is of others too: a name that another animal has, and marks for "the same as above"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.keys.model import Key, Namesake
from reedmace.keys.name_fits import words_of
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line import Line

_DITTO = r"(?:ditto|do\.?|\u3003|[\"”“″]|,,|''|-+[\"”]-+)(?=\s|$)"


def spoken_of(key: Key, lines: Sequence[str]) -> tuple[Namesake, ...]:
    """The animals that have names of the key too, and of which a page speaks: in a remark, say, or as a heading."""
    return tuple(
        one
        for one in key.namesakes
        if any(word in re.findall(r"\w+", line.casefold()) for line in lines for word in one.words)
    )


def namesake_told(key: Key, line: Line, spoken: Sequence[Namesake]) -> Fault | None:
    """What is wrong with a short name that an animal has too of which the page speaks; the whole name is none."""
    name = line.name.typed
    other = next((one for one in spoken if words_of(name) in map(words_of, one.names)), None)
    if other is None:
        return None
    start = max(0, line.typed.find(name))
    whole = key.species[line.name.species[0]].english
    return slip(
        "ambiguous-name",
        f'"{name}" is the name of a {other.animal}, too, and this page speaks of such.',
        f"write  {whole}  where that is meant; leave the line out for the {other.animal}",
        line.typed,
        start,
        start + len(name),
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
