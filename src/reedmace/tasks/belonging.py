"""Which number of a line belongs to which sex, pair word, stage and behaviour."""

from collections.abc import Sequence
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.field_words import slip
from reedmace.tasks.line_pairs import one_word_a_pair, pairs_or_insects, put_together
from reedmace.tasks.line_stages import staged, with_stages
from reedmace.tasks.line_totals import brackets_told, without_total
from reedmace.tasks.tallies import Layout, Met, Part, Tally, take_out


class Tallied(NamedTuple):
    """The tallies of a line; `in_all` is a total that was written beside its breakdown."""

    tallies: tuple[Tally, ...]
    in_all: Tally | None = None


def tally_up(parts: list[Part], layout: Layout, how: str | None) -> Tallied | Fault:
    """Join numbers with sexes and pairs in the order they stand.

    `how` is "pairs-among" where what follows is among what was counted, "pairs-beside" where it is more.
    """
    parts = put_together(one_word_a_pair(_without_marks(parts)))
    met = _meet(parts, layout, how)
    if isinstance(met, Fault):
        return met
    met = with_stages(met, [part for part in parts if part.kind == "stage"], layout)
    if isinstance(met, Fault):
        return met
    met = _with_behaviour(met, [part for part in parts if part.kind == "behaviour"])
    settled = without_total(met, layout.typed, how)
    if isinstance(settled, Fault):
        return settled
    met, in_all = settled
    if in_all is None and how is None and (told := brackets_told(met, layout)) is not None:
        return told
    tallies = tuple(one.tally for one in met)
    if how == "pairs-among" and any(one.pairs for one in tallies) and any(not one.pairs for one in tallies):
        left = take_out(tallies, layout.typed)
        return left if isinstance(left, Fault) else Tallied(left, in_all)
    return Tallied(tallies, in_all)


def _without_marks(parts: list[Part]) -> list[Part]:
    """The parts without "seen", "present" and the like, which say nothing more where a number stands.

    Behind a sex without a number such a word is its number: `2m f present`.
    """
    marks = [part for part in parts if _is_mark(part)]
    if not any(part.kind == "count" and not _is_mark(part) for part in parts):
        return [part for part in parts if part not in marks[1:]]
    kept = []
    for index, part in enumerate(parts):
        before = parts[index - 1] if index else None
        lone = before is not None and before.kind == "sex" and not _numbered(parts, index - 1)
        if not _is_mark(part) or lone:
            kept.append(part)
    return kept


def _is_mark(part: Part) -> bool:
    return part.kind == "count" and isinstance(part.value, Tally) and part.value.kind == "mark"


def _numbered(parts: list[Part], index: int) -> bool:
    """Whether a number stands before the part at `index`, behind the sex or pair word before it."""
    for part in reversed(parts[:index]):
        if part.kind == "count":
            return not (isinstance(part.value, Tally) and part.value.sex)
        if part.kind in ("sex", "pairs", "pair"):
            return False
    return False


def _meet(parts: list[Part], layout: Layout, how: str | None) -> list[Met] | Fault:
    """Which number belongs to which sex or pair."""
    groups = [part for part in parts if part.kind in ("sex", "pairs", "pair")]
    counts = [(part, part.value) for part in parts if part.kind == "count" and isinstance(part.value, Tally)]
    ready = [Met(tally, part.word.start, part.word.start) for part, tally in counts if tally.sex]
    bare = [part for part, tally in counts if not tally.sex]
    apart = [part for part in bare if _set_apart(parts, part, layout)]
    bare = [part for part in bare if part not in apart]
    typed = layout.typed
    sexes = [part for part in groups if part.kind == "sex"]
    pairs = [part for part in groups if part.kind != "sex"]
    if len(bare) == len(groups):
        matched, left = list(zip(bare, groups, strict=True)), list[Part]()
    else:
        matched, left = _neighbours(parts, bare, groups)
        loose = [part for part in left if not staged(parts, part)]
        if loose and sexes and not _is_total(loose, ready, matched) and how is None:
            return _unclear("pairs-unclear" if pairs else "count-and-sex", typed)
        if len(loose) > 1:
            return _unclear("two-counts", typed)
    alone = [part for part in groups if all(part is not group for _, group in matched)]
    # A lone pair word or sex is told of where nothing else is counted.
    if alone and (matched or ready or left or (pairs and len(alone) > 1)):
        return _unclear("pairs-unclear" if pairs else "count-and-sex", typed)
    for count, group in matched:
        assert isinstance(count.value, Tally)
        doubt = pairs_or_insects(count, group, typed)
        if doubt is not None:
            return doubt
        tally = _grouped(count.value, group)
        if tally is None:
            return _unclear("pairs-uncounted", typed)
        starts = (count.word.start, group.word.start)
        ready.append(Met(tally, min(starts), max(starts)))
    ready += _lone(alone)
    for part in (*left, *apart):
        assert isinstance(part.value, Tally)
        ready.append(Met(part.value, part.word.start, part.word.start, bare=True))
    found = sorted(ready, key=lambda one: one.at) or [Met(Tally(None, "present", ""), 0, 0)]
    return [
        one._replace(tally=one.tally._replace(kind="present")) if one.tally.kind == "mark" else one for one in found
    ]


def _set_apart(parts: list[Part], count: Part, layout: Layout) -> bool:
    """Whether a number with a stage has nothing to do with the sex before it: `m, 2 exuviae`."""
    at = next(index for index, part in enumerate(parts) if part is count)
    groups = ("sex", "pairs", "pair")
    before = next((part for part in reversed(parts[:at]) if part.kind in (*groups, "count")), None)
    after = next((part for part in parts[at + 1 :] if part.kind in (*groups, "count")), None)
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


def _is_total(loose: list[Part], ready: list[Met], matched: list[tuple[Part, Part]]) -> bool:
    """Whether a number that is left may be the sum of those that have a sex or are pairs."""
    parts = [one.tally for one in ready] + [
        tally for count, group in matched if isinstance(count.value, Tally) and (tally := _grouped(count.value, group))
    ]
    whole = loose[0].value
    return len(loose) == 1 and isinstance(whole, Tally) and whole.count == sum(one.count or 0 for one in parts)


def _neighbours(parts: list[Part], bare: list[Part], groups: list[Part]) -> tuple[list[tuple[Part, Part]], list[Part]]:
    """Numbers that stand right before a sex or a pair word, and the numbers that are left."""
    matched: list[tuple[Part, Part]] = []
    waiting: Part | None = None
    for part in parts:
        if any(part is one for one in bare):
            waiting = part
        elif any(part is one for one in groups):
            if waiting is not None:
                matched.append((waiting, part))
            waiting = None
    return matched, [part for part in bare if all(part is not count for count, _ in matched)]


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
    "count-and-sex": ("It is not clear which number belongs to which sex.", "write  2m 3f  or a line for each"),
}


def _unclear(code: str, typed: str) -> Fault:
    message, hint = _UNCLEAR[code]
    return slip(code, message, hint, typed)


def _with_behaviour(met: Sequence[Met], acts: list[Part]) -> list[Met]:
    """What they did belongs to the number written before it, else to the first after it; males lay no eggs."""
    doing = list(met)
    for act in acts:
        assert isinstance(act.value, str)
        able: Sequence[int] = range(len(doing))
        if act.value == "ovipositing":
            able = [index for index, one in enumerate(doing) if _may_lay(one.tally)] or able
        before = [index for index in able if doing[index].at <= act.word.start]
        index = before[-1] if before else able[0]
        tally = doing[index].tally
        if act.value not in tally.behaviour:
            doing[index] = doing[index]._replace(tally=tally._replace(behaviour=(*tally.behaviour, act.value)))
    return doing


def _may_lay(tally: Tally) -> bool:
    """Whether they may lay eggs: no males, no cast skins, no larvae."""
    return tally.sex != "male" and tally.stage not in ("exuvia", "larva")
