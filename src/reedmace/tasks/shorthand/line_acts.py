"""What they did: each behaviour belongs to the number it stands by, and apart from the numbers to all of them."""

from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Part, Tally


def with_acts(met: Sequence[Met], acts: list[Part], layout: Layout) -> list[Met] | Fault:
    """The tallies with what they did; males lay no eggs, and cast skins do nothing."""
    doing = list(met)
    bounds = [-1, *(one.at for one in met)]
    first = [sum(low < act.word.start < one.first for act in acts) for low, one in zip(bounds, met, strict=False)]
    in_turn = len(acts) == len(met) > 1 and first == [1] * len(met)
    for number, act in enumerate(acts):
        owners = [number] if in_turn else _owners(met, act, layout)
        able = [index for index in range(len(met)) if _able(act, met[index].tally)]
        if not owners:
            owners = able or [index for index, one in enumerate(met) if one.tally.stage not in NOT_AMONG]
        wrong = [index for index in owners if index not in able]
        if not owners or (wrong and (able or any(_never(act, met[index].tally) for index in wrong))):
            return _unclear(act, met[wrong[0] if wrong else 0].tally, layout.typed)
        for index in owners:
            tally = doing[index].tally
            if act.value not in tally.behaviour:
                done = (*tally.behaviour, str(act.value))
                doing[index] = doing[index]._replace(tally=tally._replace(behaviour=done))
    return doing


def _owners(met: Sequence[Met], act: Part, layout: Layout) -> list[int]:
    """The number that a behaviour belongs to; none where it stands apart from all."""
    at = act.word.start
    if len(met) == 1:
        return [0]
    if act.of_all:
        return []
    between = [index for index, one in enumerate(met) if one.first < at < one.at]
    if between:
        return between[-1:]
    near = _near(met, at, layout)
    before = [index for index in near if met[index].at <= at]
    # Eggs are laid by females and pairs: `1f 2m ovip`.
    laying = [index for index in near if act.value == "ovipositing" and may_lay(met[index].tally)]
    laying = [] if before and met[before[-1]].tally.stage in NOT_AMONG else laying
    before = [index for index in before if index in laying] or ([] if laying else before)
    if before:
        index = before[-1]
        last = met[-1].at <= at
        return [] if last and not laying and layout.named_between(met[-1].at, at) else [index]
    after = [index for index in laying or near if met[index].at > at]
    if not after or (layout.named_between(at, met[after[0]].first) and not any(one.at < at for one in met)):
        return []
    return after[:1]


def _near(met: Sequence[Met], at: int, layout: Layout) -> list[int]:
    """The numbers between the same commas and brackets; for what stands behind brackets, those before them."""
    place = layout.place(at)
    same = [index for index, one in enumerate(met) if place in (layout.place(one.at), layout.place(one.first))]
    if same:
        return same
    before = [index for index, one in enumerate(met) if one.at <= at]
    if layout.inside(at):
        # Brackets around the behaviour alone add nothing: 2 m (terr), 1 f (ovip).
        return [index for index, one in enumerate(met) if layout.stretch(one.at) == layout.stretch(at)]
    if before and layout.inside(met[before[-1]].at) and layout.stretch(met[before[-1]].at) == layout.stretch(at):
        return [index for index in before if not layout.inside(met[index].at)][-1:]
    return []


def _able(act: Part, tally: Tally) -> bool:
    return may_lay(tally) if act.value == "ovipositing" else tally.stage not in NOT_AMONG


def _never(act: Part, tally: Tally) -> bool:
    """Whether nobody can have seen that: what a cast skin did, and a male that lays eggs, a slip of the pen."""
    return tally.stage in NOT_AMONG or (act.value == "ovipositing" and tally.sex == "male")


def may_lay(tally: Tally) -> bool:
    """Whether they may lay eggs: no males, no cast skins, no larvae."""
    return tally.sex != "male" and tally.stage not in NOT_AMONG


def _unclear(act: Part, tally: Tally, typed: str) -> Fault:
    word = act.word
    other = "m" if tally.sex == "male" else "ex"
    who = {"exuvia": "cast skins do nothing", "larva": "larvae in the water do no such thing"}.get(
        tally.stage or "", "males lay no eggs"
    )
    return slip(
        "behaviour-unclear",
        f'"{word.text}" stands by those of which it cannot be said: {who}.',
        f"write it by the number it belongs to:  2 {other}, 1 f {word.text}  ; or leave it out",
        typed,
        word.start,
        word.end,
    )
