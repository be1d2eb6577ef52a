"""Stages of one line: each belongs to the number it stands beside, and apart from the numbers to the whole line."""

from itertools import pairwise

from reedmace.faults import Fault
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.tallies import NOT_AMONG, Layout, Met, Part

_ALL = -1  # of the whole line
_UNCLEAR = -2
_TOLD_OF = -3  # of all that are told of others: 7m 5f incl 2m 1f teneral


def staged(parts: list[Part], count: Part) -> bool:
    """Whether a stage, and no sex or pair word, stands by a number: behind it, or before each of several."""
    if _stages_first(parts):
        return True
    told = [part for part in parts if part.kind != "behaviour"]
    return any(one is count and other.kind == "stage" for one, other in pairwise(told))


def _stages_first(parts: list[Part]) -> bool:
    """`ad 3 imm 2`: a stage before each of several numbers."""
    kinds = [part.kind for part in parts if part.kind in ("count", "stage")]
    return len(kinds) > 2 and kinds == ["stage", "count"] * (len(kinds) // 2)


def with_stages(met: list[Met], stages: list[Part], layout: Layout) -> list[Met] | Fault:
    """The tallies with their stages; what could be said of one or of all is a fault."""
    stages = [
        part for index, part in enumerate(stages) if not (index and _again(stages[index - 1], part, met))
    ]  # "newly emerged" says it twice
    owners = _owners(met, stages, layout)
    found: list[str | None] = [None] * len(met)
    for stage, owner in zip(stages, owners, strict=True):
        if owner >= 0:
            if found[owner] not in (None, stage.value):
                return _two_stages(str(found[owner]), str(stage.value), layout.typed)
            found[owner] = str(stage.value)
        elif owner == _TOLD_OF:
            place = layout.inside(stage.word.start)
            for index, one in enumerate(met):
                found[index] = str(stage.value) if layout.inside(one.first) == place else found[index]
    for stage, owner in zip(stages, owners, strict=True):
        others = [one for index, one in enumerate(found) if index != len(met) - 1]
        if owner == _UNCLEAR and len(met) > 1 and all(others) and found[-1] is None:
            found[-1] = str(stage.value)
        elif owner == _UNCLEAR:
            return _stage_unclear(stage, layout)
    for stage, owner in zip(stages, owners, strict=True):
        if owner == _ALL:
            differs = next((one for one in found if one not in (None, stage.value)), None)
            if differs is not None:
                return _two_stages(differs, str(stage.value), layout.typed)
            found = [str(stage.value)] * len(met)
    return [one._replace(tally=one.tally._replace(stage=stage)) for one, stage in zip(met, found, strict=True)]


def _again(before: Part, part: Part, met: list[Met]) -> bool:
    between = any(before.word.start < one.first < part.word.start for one in met)
    return before.value == part.value and not between


def _owners(met: list[Met], stages: list[Part], layout: Layout) -> list[int]:
    """For each stage the tally that it belongs to, or all of them, or that it is not clear."""
    if len(met) == 1:
        return [_ALL] * len(stages)
    bounds = [-1, *(one.at for one in met)]
    first = [
        sum(lower < stage.word.start < one.first for stage in stages) for lower, one in zip(bounds, met, strict=False)
    ]
    if len(stages) == len(met) and first == [1] * len(met):
        return list(range(len(met)))
    return [_owner(met, stage, layout) for stage in stages]


def _owner(met: list[Met], stage: Part, layout: Layout) -> int:
    at = stage.word.start
    if stage.of_all:
        return _ALL
    before = [index for index, one in enumerate(met) if one.first <= at]
    stretch = layout.stretch(at)
    if not before:
        beside = layout.stretch(met[0].first) == stretch and not layout.named_between(at, met[0].first)
        return _UNCLEAR if beside and layout.stretch(met[1].first) != stretch else _ALL
    index = before[-1]
    one, last = met[index], index == len(met) - 1
    if stage.glued or at <= one.at:
        return index
    if stretch != layout.stretch(one.at):
        if last:
            return _ALL
        return index + 1 if layout.stretch(met[index + 1].first) == stretch else _UNCLEAR
    named = layout.named_between(one.at, at)
    if not last or (one.bare and not named):
        return index
    if named or met[0].at == one.at:  # 2m/3f ten: both stand in one word
        return _ALL
    if layout.stretch(met[index - 1].at) != stretch:
        return index
    return _TOLD_OF if _tells_of_others(met, at, layout) else _UNCLEAR


def _tells_of_others(met: list[Met], column: int, layout: Layout) -> bool:
    """Whether males or females are among males or females before them, so that only a stage can tell them apart."""
    if layout.inside(column) >= 0:
        return False
    inner = [one for one in met if layout.inside(one.first) < 0]
    sexes = {one.tally.sex for one in met if layout.inside(one.first) >= 0}
    return all(one.tally.sex and one.tally.sex in sexes for one in inner)


def _two_stages(one: str, other: str, typed: str) -> Fault:
    return slip("two-stages", f"This line says both {one} and {other}.", "write a line for each", typed)


def _stage_unclear(stage: Part, layout: Layout) -> Fault:
    word = stage.word
    said = word.text.rstrip(".:")
    of_all = f"5 {said} (2m 3f)" if stage.value in NOT_AMONG else f"{said}, 2m 3f"
    return slip(
        "stage-unclear",
        f'"{said}" could be said of one of these numbers, or of all of them.',
        f"of all: apart from the numbers, as in  {of_all}  ; of one: by commas, as in  2m, 3f {said}",
        layout.typed,
        word.start,
        word.end,
    )
