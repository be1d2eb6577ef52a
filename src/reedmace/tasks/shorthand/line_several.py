"""A line on which several insects are named: `2 emperor, 3 large red`. It is told in parts, a line for each."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip

if TYPE_CHECKING:
    from reedmace.tasks.shorthand.line import Line

# Where the insects of a line may be parted, from the surest on; last before each number.
_PARTED = (r";", r"[;,]", r"[;,+&]|(?<=\s)(?:and|also)(?=\s)", r"(?<=[a-z.]\s)(?=[~<>]?\d)")
# What a line is faulty for where it names several.
_CODES = ("two-counts", "unknown-name", "count-and-sex", "total-unclear", "word-not-read")


def several_told(read: Callable[[str], Line | Fault], typed: str, fault: Fault) -> Fault:
    """What is wrong with a faulty line: that it names several insects, where each part of it names one."""
    if fault.code not in _CODES or '"' in typed:
        return fault
    body = typed.partition("#")[0].strip(" \t.;,")
    for where in _PARTED:
        parts = [part.strip(" \t.,") for part in re.split(where, body)]
        sure = where == _PARTED[-1]  # nothing but a number parts them
        if 1 < len(parts) <= 12 and all(parts) and _name_several([read(part) for part in parts], sure=sure):
            return slip(
                "several-on-line",
                f"A line is for one insect, and this one names {len(parts)}.",
                f"write a line for each:  {'  and  '.join(parts)}",
                typed,
            )
    return fault


def _name_several(lines: Sequence[Line | Fault], *, sure: bool) -> bool:
    """Whether each names an insect of its own; one that is only asked about will do, unless they are to be `sure`."""
    names = [line.name.species for line in lines if not isinstance(line, Fault)]
    asked = sum(isinstance(line, Fault) and line.code == "ambiguous-name" for line in lines)
    return bool(names) and not (asked and sure) and len(names) + asked == len(lines) and len(set(names)) == len(names)
