"""What stands in brackets, behind a colon or behind "incl": it is among the number before it, and leaves the rest."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line_acts import may_lay
from reedmace.tasks.shorthand.line_totals import equals, more_or_among, told
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Tally

_YOUNGER = ("emerging", "teneral", "immature")


class Taken(NamedTuple):
    """The tallies, none of them among another, and the number of all of them.

    `any` says whether something was taken from another, `paired` whether pairs were; `left` are the columns of the
    numbers that are what was left, `parts` of those that were taken from others.
    """

    met: list[Met]
    in_all: Tally | None = None
    any: bool = False
    paired: bool = False
    left: tuple[int, ...] = ()
    parts: tuple[int, ...] = ()


def take_among(met: list[Met], layout: Layout, how: str | None) -> Taken | Fault:
    """The tallies with what is among others taken out of them."""
    done = Taken(met)
    for place in dict.fromkeys(layout.inside(one.first) for one in met):
        inner = [one for one in done.met if layout.inside(one.first) == place]
        outer = _outer(done, inner, place, layout)
        if not place or not outer or (how == "pairs-beside" and (place < 0 or layout.is_more(place))):
            continue
        among = None if how == "pairs-beside" else how  # 12 (7m 5f) plus 3 ten: the brackets are not what is more
        whole = outer[-1]
        if whole.tally.stage not in NOT_AMONG:
            inner = [one for one in inner if one.tally.stage not in NOT_AMONG]
        if not inner:
            continue
        if any(one.first in done.parts for one in outer):
            settled = _parts_of_parts(done, outer, inner, layout, among)
        elif (whole.bare or whole.plain) and whole.tally.count is not None:
            settled = _parts_of_all(done, whole, inner, layout, among)
        else:
            settled = _parts_of_some(done, outer, inner, layout, among)
        if isinstance(settled, Fault):
            return settled
        parts = tuple(one.first for one in inner) if settled is not done else ()
        done = settled._replace(parts=(*done.parts, *parts))
    if how is None and (told := _more_behind(done, met, layout)) is not None:
        return told
    return done._replace(met=[one._replace(bare=one.bare and one.first not in done.left) for one in done.met])


def _more_behind(done: Taken, met: list[Met], layout: Layout) -> Fault | None:
    """What is wrong with `12 (7m 5f), 3 ten`: three more, or three of the twelve, as without the brackets."""
    whole = next((one.tally for one in met if one.first in done.left), None)
    behind = [one for one in done.met if one.first > max(done.parts, default=0) and not layout.inside(one.first)]
    behind = [one for one in behind if one.tally.stage not in NOT_AMONG and (one.bare or one.tally.sex)]
    if whole is None or not behind or any(one.tally.pairs for one in behind):
        return None
    return more_or_among(behind[0].tally, whole.count or 0, layout.typed, pairs=False)


def _outer(done: Taken, inner: list[Met], place: int, layout: Layout) -> list[Met]:
    """What a number in brackets or behind "incl" may be among: those before it, and the parts told of them already.

    Brackets beside brackets tell of the rest that stays (`10 (2f) (1 imm)`); where none stays, and behind "of which",
    they tell of the parts too: `12 (7m 5f), of which 3 teneral`.
    """
    if not inner:
        return []
    before = [one for one in done.met if one.first < inner[0].first and one not in inner]
    rests = any(one.first in done.left for one in done.met)
    with_parts = place < 0 or not rests
    return [one for one in before if not layout.inside(one.first) or (with_parts and one.first in done.parts)]


def _parts_of_parts(done: Taken, outer: list[Met], inner: list[Met], layout: Layout, how: str | None) -> Taken | Fault:
    """What is among a number of which parts were told before: never more, for the number of all was said."""
    pairs = [one for one in inner if one.tally.pairs]
    if pairs and how is None:
        among = sum(one.tally.count or 0 for one in outer)
        return more_or_among(pairs[0].tally, among, layout.typed, pairs=False)
    for part in inner:
        if part.tally.pairs:
            continue
        fitting = [one for one in outer if _may_hold(one.tally, part.tally)]
        if len(fitting) != 1:
            return _of_which(part, layout)
    return _parts_of_some(done, outer, inner, layout, how or "pairs-among")


def _parts_of_all(done: Taken, whole: Met, inner: list[Met], layout: Layout, how: str | None) -> Taken | Fault:
    """What is among a number of no sex, or among so many pairs: `10 (2f)`, `5 exuviae (3m 2f)`, `4 pairs (1 cop)`."""
    total, typed = whole.tally, layout.typed
    if any(one.tally.count is None for one in inner) or (whole.plain and not all(one.tally.pairs for one in inner)):
        return done
    if total.stage in NOT_AMONG and any(one.tally.stage not in (None, total.stage) for one in inner):
        return done
    outside = [one for one in done.met if one is not whole and not layout.inside(one.first)]
    others = [one for one in outside if one.tally.stage not in NOT_AMONG]
    paired = not whole.plain and any(one.tally.pairs for one in inner)
    number, among = total.count or 0, sum(one.tally.count or 0 for one in inner)
    exact = equals(total, inner, among)
    if paired and not exact and (others or all(one.tally.pairs for one in inner)):
        return done  # told of with the pairs of the line
    if not exact and (total.to is not None or among >= number or any(one.tally.to is not None for one in inner)):
        return more_or_among(total, among, typed, pairs=False)
    if paired and not exact and how is None:
        return done
    silent = [one for one in inner if _says_nothing(one.tally, total)]
    rest = exact and len(silent) == 1 < len(inner)  # 3 (2m, 1 unsexed): all of them are told of
    if how is None and silent and not rest:
        return more_or_among(total, among, typed, pairs=False)  # 10 (2): two of what?
    for part in inner if not exact else ():
        if part.bare and any(one.tally.sex and _only_did(one.tally, part.tally) for one in inner):
            return _of_which(part, layout)  # 10 incl 2 f, 1 ovip: one of the two, or a third
    if not exact and layout.dashed(whole.first, inner[0].first):
        return more_or_among(total, among, typed, pairs=False)
    pairs = sum(one.tally.count or 0 for one in inner if one.tally.pairs) if paired else 0
    left = total._replace(
        count=number - among,
        pairs=(number - among) // 2 if total.pairs else None,
        in_pairs=(total.in_pairs or 0) + pairs if pairs else total.in_pairs,
    )
    found: list[Met] = []
    for one in done.met:
        if one is whole:
            found += [] if exact else [one._replace(tally=left)]
        else:
            found.append(_said_too(one, total) if one in inner else one)
    shown = Tally(total.count, total.kind, total.typed) if total.pairs else total
    in_all = None if others else done.in_all or shown
    return Taken(found, in_all, any=True, paired=done.paired or paired, left=(*done.left, whole.first))


def _said_too(one: Met, total: Tally) -> Met:
    """What was said of all, said of one of them."""
    return one._replace(bare=False) if total.pairs else told(one, total)._replace(bare=False)


def _parts_of_some(done: Taken, before: list[Met], inner: list[Met], layout: Layout, how: str | None) -> Taken | Fault:
    """What is among males, females or those of one stage: `10m incl 2 ten`, `10 m 3 f (3 ovip)`."""
    met, taken, whole = list(done.met), 0, before[-1]
    if how is None and any(one.tally.pairs for one in inner):
        return done  # told of with the pairs of the line
    inner = [one for one in inner if not one.tally.pairs]
    for part in inner:
        fitting = [one for one in before if _may_hold(one.tally, part.tally)]
        if how is None:
            # In brackets they are surely among the others only if nothing but what they did sets them apart.
            fitting = [one for one in fitting if _only_did(one.tally, part.tally)]
        fitting = [one for one in fitting if one.tally.sex] or fitting
        if not fitting and how is None:
            return done
        if not fitting:
            continue
        if len(fitting) > 1:
            return _of_which(part, layout)
        [source] = fitting
        at = next(index for index, one in enumerate(met) if one.first == source.first)
        of, number = met[at].tally, part.tally.count
        if number is None or of.count is None or part.tally.to is not None or number > of.count:
            return _too_many(part.tally, of, layout)
        own = next(index for index, one in enumerate(met) if one.first == part.first)
        met[own] = told(part._replace(tally=part.tally._replace(sex=part.tally.sex or of.sex), bare=False), of)
        met[at] = met[at]._replace(tally=of._replace(count=of.count - number))
        taken += 1
    alone = [one for one in done.met if one not in inner and one.tally.stage not in NOT_AMONG]
    in_all = whole.tally if taken == len(inner) and alone == [whole] else done.in_all
    return done._replace(met=[one for one in met if one.tally.count != 0], in_all=in_all, any=done.any or taken > 0)


def _may_hold(one: Tally, part: Tally) -> bool:
    """Whether some of `one` may be those of `part`."""
    sexes = one.sex is None or part.sex in (None, one.sex)
    stages = one.stage is None or part.stage in (None, one.stage) or (one.stage == "adult" and part.stage in _YOUNGER)
    counted = one.count is not None and one.to is None and not one.pairs and one.stage not in NOT_AMONG
    lays = "ovipositing" not in part.behaviour or may_lay(one)
    return sexes and stages and counted and lays


def _says_nothing(part: Tally, total: Tally) -> bool:
    return not (part.sex is not None or part.pairs or part.behaviour) and part.stage in (None, total.stage)


def _only_did(one: Tally, part: Tally) -> bool:
    return bool(part.behaviour) and part.sex in (None, one.sex) and part.stage in (None, one.stage)


def _of_which(part: Met, layout: Layout) -> Fault:
    number = part.tally.count or part.tally.typed
    return slip(
        "total-unclear",
        f"It is not clear among which of the others the {number} are.",
        "say their sex, as in  12m 5f incl 2 ten m  ; or give them a line of their own",
        layout.typed,
    )


def _too_many(part: Tally, of: Tally, layout: Layout) -> Fault:
    number = part.typed or part.count
    return slip(
        "total-unclear",
        f"{number} cannot be among {of.count or of.typed}.",
        f"correct one of them, or write  plus {number}  where they are more",
        layout.typed,
    )
