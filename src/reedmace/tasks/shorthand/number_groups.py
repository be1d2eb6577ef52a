"""Which number of a line belongs to which sex or pair word, and which numbers stand without one."""

from collections.abc import Iterable
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import PLURAL_PAIRS, slip
from reedmace.tasks.shorthand.line_one_or_all import one_or_all
from reedmace.tasks.shorthand.line_pairs import pairs_or_insects
from reedmace.tasks.shorthand.line_stages import staged
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Part, Tally

_GROUPS = ("sex", "pairs", "pair")
_PARTS = ("count", *_GROUPS)


class _Matched(NamedTuple):
    """Numbers with the sex or pair word of each, the numbers left, and the words left."""

    pairs: list[tuple[Part, Part]]
    left: list[Part]
    alone: list[Part]


def meet(parts: list[Part], layout: Layout, how: str | None) -> list[Met] | Fault:
    """Which number belongs to which sex or pair."""
    groups = [part for part in parts if part.kind in _GROUPS]
    counts = [(part, part.value) for part in parts if part.kind == "count" and isinstance(part.value, Tally)]
    ready = [Met(tally, part.word.start, part.word.start) for part, tally in counts if tally.sex]
    bare = [part for part, tally in counts if not tally.sex]
    apart = [part for part in bare if _set_apart(parts, part, layout)]
    bare = [part for part in bare if not _among(part, apart)]
    sexes = [part for part in groups if part.kind == "sex"]
    matched, left, alone = _matched(parts, bare, groups, layout)
    loose = [part for part in left if not _explained(parts, part, layout)]
    what = "pairs-unclear" if len(sexes) < len(groups) else "count-and-sex"
    told = [part for part in parts if part.kind in _PARTS]
    crowding = any(_beside(part, [one for one in told if one is not part], layout) for part in loose)
    sexes_alone = [part.value for part in alone if part.kind == "sex"]
    if len(set(sexes_alone)) < len(sexes_alone):
        return _unclear("sex-twice", layout.typed)
    for count, word in matched:
        if (between := _pairs_between(count, word, loose, layout)) is not None:
            return between
    if crowding and sexes and how is None and not _is_total(loose, [*left, *apart], ready, matched):
        return _unclear(what, layout.typed)
    if len(loose) > 1:
        return _unclear("two-counts", layout.typed)
    # A lone pair word is told of where nothing else is counted, a lone sex there or between commas of its own.
    counted = [part for part, _ in counts]
    crowded = [one for one in alone if one.kind != "sex" or _beside(one, counted, layout)]
    if crowded and (matched or ready or left or (len(sexes) < len(groups) and len(alone) > 1)):
        return _unclear(what, layout.typed)
    for count, group in matched:
        if len(matched) == 1 and (told_of := one_or_all(count, group, parts, layout, how)) is not None:
            return told_of
        one = _met(count, group, matched, layout.typed)
        if isinstance(one, Fault):
            return one
        ready.append(one)
    if any(group.kind != "sex" and group.word.plain in PLURAL_PAIRS for group in alone):
        return _unclear("pairs-uncounted", layout.typed)
    ready += _lone(alone)
    for part in (*left, *apart):
        assert isinstance(part.value, Tally)
        beside = _marked(parts, part, "rest", layout)
        whole = _marked(parts, part, "whole", layout)
        ready.append(Met(part.value, part.word.start, part.word.start, bare=not beside, whole=whole))
    found = sorted(ready, key=lambda one: one.at) or [Met(Tally(None, "present", ""), 0, 0)]
    return [
        one._replace(tally=one.tally._replace(kind="present")) if one.tally.kind == "mark" else one for one in found
    ]


def _met(count: Part, group: Part, matched: list[tuple[Part, Part]], typed: str) -> Met | Fault:
    """A number with its sex or pair word."""
    assert isinstance(count.value, Tally)
    if group.of_all and group.kind != "sex" and count.value.count and count.value.kind == "exact":
        # 8, all in tandem: the eight are insects.
        if count.value.count % 2:
            return _unclear("pairs-unclear", typed)
        count = count._replace(value=count.value._replace(count=count.value.count // 2))
    elif not _of_these_pairs(group, matched):
        doubt = pairs_or_insects(count, group, typed)
        if doubt is not None:
            return doubt
    assert isinstance(count.value, Tally)
    tally = _grouped(count.value, group)
    if tally is None:
        return _unclear("pairs-uncounted", typed)
    starts = (count.word.start, group.word.start)
    return Met(tally, min(starts), max(starts), plain=group.kind == "pair")


def _of_these_pairs(group: Part, matched: list[tuple[Part, Part]]) -> bool:
    """Whether `4 pairs, 2 in tandem, 2 in cop` says that they are pairs: together as many as the plain word counts."""
    numbers = {"pair": 0, "pairs": 0}
    for count, other in matched:
        if other.kind in numbers and isinstance(count.value, Tally):
            numbers[other.kind] += count.value.count or 0
    return group.kind == "pairs" and numbers["pair"] == numbers["pairs"]


def _among(part: Part, others: Iterable[Part]) -> bool:
    return any(part is other for other in others)


def _matched(parts: list[Part], bare: list[Part], groups: list[Part], layout: Layout) -> _Matched:
    """Numbers and words in turn belong together; else those alone between commas, and neighbours."""
    told = [part for part in parts if _among(part, bare) or _among(part, groups)]
    numbers = [part.kind == "count" for part in told]
    if numbers and len(bare) == len(groups) and numbers == [numbers[0], not numbers[0]] * len(bare):
        return _Matched(list(zip(bare, groups, strict=True)), [], [])
    matched: list[tuple[Part, Part]] = []
    places = dict.fromkeys(layout.place(part.word.start) for part in told)
    for place in places:
        here = [part for part in told if layout.place(part.word.start) == place]
        if len(here) == 2 and {part.kind == "count" for part in here} == {True, False}:
            matched.append((here[0], here[1]) if here[0].kind == "count" else (here[1], here[0]))
    for first in (True, False):  # numbers before their words, then the words before numbers that are left
        left = [part for part in told if not any(part is one for pair in matched for one in pair)]
        waiting: Part | None = None
        for part in told:
            if not _among(part, left):
                waiting = None
            elif (part.kind == "count") == first:
                waiting = part
            else:
                if waiting is not None:
                    matched.append((waiting, part) if first else (part, waiting))
                waiting = None
    taken = [one for pair in matched for one in pair]
    return _Matched(
        matched,
        [part for part in bare if not _among(part, taken)],
        [part for part in groups if not _among(part, taken)],
    )


def _beside(part: Part, others: Iterable[Part], layout: Layout) -> bool:
    """Whether one of others stands between the same commas and brackets."""
    place = layout.place(part.word.start)
    return any(layout.place(other.word.start) == place for other in others)


def _pairs_between(count: Part, word: Part, loose: Iterable[Part], layout: Layout) -> Fault | None:
    """What is wrong with `4 cop 2`: the pair word between two numbers could belong to either."""
    behind = next((part for part in loose if part.word.start > word.word.start > count.word.start), None)
    if word.kind == "sex" or word.glued or behind is None:
        return None
    gaps = layout.typed[count.word.end : word.word.start] + layout.typed[word.word.end : behind.word.start]
    if gaps.strip():
        return None
    first, short, second = count.word.text, word.word.text, behind.word.text
    return slip(
        "pairs-unclear",
        f'"{first} {short} {second}" could be {first} pairs and {second} single ones, or the other way round.',
        f"write  {first} {short}, {second} singles  or  {first} singles, {second} {short}",
        layout.typed,
        count.word.start,
        behind.word.end,
    )


def _explained(parts: list[Part], count: Part, layout: Layout) -> bool:
    """Whether a number without a sex says what it counts: a stage, what they did, "others", or what is among it."""
    marked = any(_marked(parts, count, kind, layout) for kind in ("rest", "whole"))
    if marked or staged(parts, count) or acted(parts, count, layout):
        return True
    counts = [part for part in parts if part.kind == "count"]
    at = next(index for index, part in enumerate(counts) if part is count)
    following = counts[at + 1] if at + 1 < len(counts) else None
    inside = 0 if following is None else layout.inside(following.word.start)
    return inside != 0 and inside != layout.inside(count.word.start)


def acted(parts: list[Part], count: Part, layout: Layout) -> bool:
    """Whether what they did stands by a number, behind it or alone with it between commas."""
    place = layout.place(count.word.start)
    at = next(index for index, part in enumerate(parts) if part is count)
    for part in parts[at + 1 :]:
        if part.kind in ("count", *_GROUPS) or layout.place(part.word.start) != place:
            break
        if part.kind == "behaviour":
            return True
    here = [part for part in parts if layout.place(part.word.start) == place]
    told = [part for part in here if part.kind in ("count", *_GROUPS)]
    return len(told) == 1 and any(part.kind == "behaviour" for part in here)


def _marked(parts: list[Part], count: Part, kind: str, layout: Layout) -> bool:
    """Whether "others" or "in all" stands by a number: behind it, or before it where it stands behind none.

    Behind a comma it stands before: `2m, total 2`.
    """
    at = next(index for index, part in enumerate(parts) if part is count)
    behind = parts[at + 1] if at + 1 < len(parts) else None
    if behind is not None and behind.kind == kind:
        return True
    if not at or parts[at - 1].kind != kind:
        return False
    stretches = [layout.stretch(part.word.start) for part in parts[max(0, at - 2) : at + 1]]
    return at == 1 or parts[at - 2].kind != "count" or stretches[0] < stretches[1] == stretches[2]


def _set_apart(parts: list[Part], count: Part, layout: Layout) -> bool:
    """Whether a number with a stage has nothing to do with the sex before it: `m, 2 exuviae`."""
    at = next(index for index, part in enumerate(parts) if part is count)
    skin = at + 1 < len(parts) and parts[at + 1].kind == "stage" and parts[at + 1].value in NOT_AMONG
    if skin and not any(part.kind in _GROUPS and _beside(part, [count], layout) for part in parts):
        return True  # 1 exuvia, m
    before = next((part for part in reversed(parts[:at]) if part.kind in (*_GROUPS, "count")), None)
    after = next((part for part in parts[at + 1 :] if part.kind in (*_GROUPS, "count")), None)
    if not staged(parts, count) or before is None or before.kind == "count" or (after and after.kind != "count"):
        return False
    return layout.stretch(before.word.start) != layout.stretch(count.word.start)


def _lone(alone: list[Part]) -> list[Met]:
    """A lone "cop" is one pair; sexes without a number are there, and not counted."""
    found = []
    for group in reversed({(part.kind, part.value): part for part in reversed(alone)}.values()):
        lone = Tally(1, "exact", "") if group.kind != "sex" else Tally(None, "present", "")
        found.append(Met(_grouped(lone, group) or lone, group.word.start, group.word.start))
    return found


def _is_total(loose: list[Part], left: list[Part], ready: list[Met], matched: list[tuple[Part, Part]]) -> bool:
    """Whether a number that is left may be the sum of those that have a sex, are pairs, or say what else they are."""
    parts = [one.tally for one in ready] + [
        tally for count, group in matched if isinstance(count.value, Tally) and (tally := _grouped(count.value, group))
    ]
    parts += [part.value for part in left if not _among(part, loose) and isinstance(part.value, Tally)]
    whole = loose[0].value
    return len(loose) == 1 and isinstance(whole, Tally) and whole.count == sum(one.count or 0 for one in parts)


def _grouped(tally: Tally, group: Part) -> Tally | None:
    """A number of one sex, or of pairs; None for pairs that were not counted."""
    assert isinstance(group.value, str)
    if group.kind == "sex":
        return tally._replace(sex=group.value)
    if tally.count is None:
        return None
    upper = None if tally.to is None else 2 * tally.to
    return tally._replace(count=2 * tally.count, to=upper, pairs=tally.count, behaviour=(group.value,))


_UNCLEAR = {
    "pairs-unclear": (
        "It is not clear how many of this line are pairs.",
        "a pair is a male and a female: write  3 cop common blue  on a line of its own, or  2m 3 cop common blue",
    ),
    "pairs-uncounted": (
        "Pairs need a number, for each of them is two insects.",
        "write how many pairs, such as  3 cop common blue  or  ~10 tandem common blue",
    ),
    "two-counts": (
        "This line has two numbers, and nothing says what each of them counts.",
        "write  2m 3f  or a line for each",
    ),
    "sex-twice": (
        "This line says a sex twice, without a number.",
        "write how many of each:  2m 1f ; or say it once",
    ),
    "count-and-sex": (
        "It is not clear which number belongs to which sex.",
        "write  2m 3f , or  2m, f  for females that were not counted",
    ),
}


def _unclear(code: str, typed: str) -> Fault:
    message, hint = _UNCLEAR[code]
    return slip("said-twice" if code == "sex-twice" else code, message, hint, typed)
