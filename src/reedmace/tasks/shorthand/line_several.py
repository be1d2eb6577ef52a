"""A line on which several insects are named: `2 emperor, 3 large red`. It is read, or told, in parts.

Where a part says more than how many, and of which sex, stage and doing, that could be meant of all of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip

if TYPE_CHECKING:
    from reedmace.tasks.shorthand.line import Line
    from reedmace.tasks.shorthand.tallies import Tally

# Where the insects of a line may be parted, from the surest on; last before each number.
_PARTED = (r";", r"[;,]", r"[;,+&]|(?<=\s)(?:and|also)(?=\s)", r"(?<=[a-z.]\s)(?=[~<>]?\d)")
# What a line is faulty for where it names several.
_CODES = ("two-counts", "unknown-name", "count-and-sex", "total-unclear", "word-not-read")


def read_several(read: Callable[[str], Line | Fault], typed: str) -> list[Line]:
    """The lines of a line that names several insects; empty where what a part says could be meant of others too."""
    if '"' in typed or "#" in typed:
        return []
    for where in _PARTED[:-1]:
        parts = _parts(where, typed)
        lines = [line for line in map(read, parts) if not isinstance(line, Fault)]
        if 1 < len(lines) == len(parts) and _name_several(lines, sure=True):
            return lines if all(map(_plain, lines)) and _alike(lines) else []
    return []


def _parts(where: str, typed: str) -> list[str]:
    body = typed.partition("#")[0].strip(" \t.;,")
    return [re.sub(r"^(?:and|also|&|\+)\s+", "", part.strip(" \t.,")) for part in re.split(where, body)]


def _plain(line: Line) -> bool:
    """Whether a line says nothing but how many, of which sex and stage, what they did, and how sure the name is."""
    said = line.said
    more = (said.remarks, said.evidence, said.photos, said.time, said.place, said.locality, said.people, said.doubts)
    return not any(more) and not (said.among or said.among_others or said.whole)


def _alike(lines: Sequence[Line]) -> bool:
    """Whether each says what any says: all a number or none, and the last no more of sex, stage and doing.

    "3 banded and beautiful demoiselles" are three in all, and in "2 emperor, 3 darters, mating" all may mate.
    """
    told = [{kind for tally in line.tallies for kind in _kinds(tally)} for line in lines]
    return len({"number" in one for one in told}) == 1 and all(told[-1] <= one for one in told)


def _kinds(tally: Tally) -> set[str]:
    said = {
        "number": tally.count is not None or tally.pairs is not None,
        "sex": tally.sex,
        "stage": tally.stage,
        "doing": tally.behaviour,
    }
    return {kind for kind, value in said.items() if value}


def several_told(read: Callable[[str], Line | Fault], typed: str, fault: Fault) -> Fault:
    """What is wrong with a faulty line: that it names several insects, where each part of it names one."""
    if fault.code not in _CODES or '"' in typed:
        return fault
    for where in _PARTED:
        parts = _parts(where, typed)
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
