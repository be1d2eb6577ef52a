"""What stands apart from a number and could be said of one of them or of all: `3, f ovip`, `20, pairs laying`."""

import re
from collections.abc import Sequence
from itertools import combinations

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Part, Tally

_JOINED = r"(\+|&|\b(?:plus|and))\s*$"
_OF_SEVERAL = frozenset(("males", "females", "fems", "mm", "ff", "♂♂", "♀♀"))


def one_or_all(count: Part, group: Part, parts: Sequence[Part], layout: Layout, how: str | None) -> Fault | None:
    """What is wrong with a sex or a pair word that a comma, brackets or a plus part from the only number before it.

    With `how` the line says that what follows is among the number, or more.
    """
    tally, word = count.value, group.word
    assert isinstance(tally, Tally)
    joined = re.search(_JOINED, layout.typed[count.word.end : word.start], re.IGNORECASE)
    if joined is not None and count.word.end <= word.start:
        return _one_more(tally, group, joined[1], layout)
    apart = layout.place(count.word.start) != layout.place(word.start) and count.word.start < word.start
    if how is not None or not apart or group.of_all or tally.count == 1:
        return None
    if group.kind != "sex":
        return _pairs_apart(tally, group, layout)
    acts = [part.word for part in parts if part.kind == "behaviour"]
    acts = [act for act in acts if layout.place(act.start) == layout.place(word.start)]
    if not acts or (word.plain in _OF_SEVERAL and tally.count is not None):
        return None
    did = f"{word.text} {acts[0].text}"
    shown = tally.typed or str(tally.count)
    if tally.count is None:
        which, remedy = (
            f'all of them ("{shown}")',
            f"of all write  {shown}, all {did}  ; else apart:  1 {did}",
        )
    else:
        which, remedy = f"all {shown}", f"of all write  {shown} {did}  ; of one of them  {shown} incl 1 {did}"
    return slip(
        "count-and-sex",
        f'"{did}" could be said of {which}, or of one of them.',
        remedy,
        layout.typed,
        word.start,
        max(word.end, acts[0].end),
    )


def _one_more(tally: Tally, group: Part, joined: str, layout: Layout) -> Fault:
    """`3 + f`: three and a female, or three females."""
    shown, word = tally.typed or str(tally.count), group.word
    return slip(
        "count-and-sex",
        f'"{joined} {word.text}" could be one more beside the {shown}, or said of them.',
        f"write  {shown} plus 1 {word.text}  for one more,  {shown} {word.text}  for them",
        layout.typed,
        word.start,
        word.end,
    )


def _pairs_apart(tally: Tally, group: Part, layout: Layout) -> Fault | None:
    """`20, pairs laying`: twenty pairs, ten, or some of twenty. An odd number is one of pairs."""
    if tally.count is None or (tally.kind == "exact" and tally.count % 2):
        return None
    shown, word = tally.typed or str(tally.count), group.word
    pairs = "pairs" if group.kind == "pair" else f"pairs {group.value}"
    return slip(
        "pairs-or-insects",
        f'"{word.text}" apart from {shown} could mean {shown} pairs, or {shown} insects, some or all of them in pairs.',
        f"write how many pairs:  {shown} {pairs}  ; or how many of them:  {shown} incl 2 {pairs}",
        layout.typed,
        word.start,
        word.end,
    )


def some_or_more(met: Sequence[Met], layout: Layout) -> Fault | None:
    """What is wrong with `5 f, 1 f ovip`: the last could be one of the five, or a sixth."""
    for one, other in combinations(met, 2):
        few, some = one.tally, other.tally
        alike = (few.sex, few.stage, bool(few.pairs)) == (some.sex, some.stage, bool(some.pairs))
        if not alike or not (few.sex or few.pairs) or few.stage in NOT_AMONG:
            continue
        counted = few.count is not None and some.count is not None and few.count > some.count
        does_more = set(few.behaviour) < set(some.behaviour)
        if not counted or not does_more or layout.inside(one.first) != layout.inside(other.first):
            continue
        what = "pairs" if some.pairs else f"{some.sex}s"
        number, whole = (some.pairs, few.pairs) if some.pairs else (some.count, few.count)
        among = layout.typed[other.first :].strip(" ,;")
        before = layout.typed[: other.first].strip(" ,;")
        last = all(later is other or later.first < other.first for later in met)
        out = f"write  {before} incl {among}" if last else f"take the {number} out of the {whole}"
        return slip(
            "total-unclear",
            f"It is not clear whether the {number} {'is' if number == 1 else 'are'} among the {whole} {what}, or more.",
            f"{out}  if among them; write  {before} plus {among}  if more",
            layout.typed,
        )
    return None
