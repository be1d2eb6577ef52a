"""What shows that an insect belongs to a group of the key: "damselfly" is no mark, how it holds its wings is."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.keys.hints import singular
from reedmace.keys.model import EFFORTS, NOT_APPLICABLE, Character, Group, Key

MOST = 2  # marks of a group
_APART = 0.8  # share of individuals, of either side, that the mark has to part from the other


def marks_of_group(key: Key, said: str) -> tuple[Character, ...]:
    """The marks that part the group of this title from all others best, easiest first; none for other words.

    Only marks that need no close look; each form of a species counts alike, half the L1 distance between the mean
    shares of states tells how well a mark parts (total variation).
    """
    plain = said.strip().casefold()
    called = {plain, singular(plain), f"{plain.removesuffix('ies')}y"}
    group = next((one for one in key.groups if one.scientific and one.title.casefold() in called), None)
    if group is None:
        return ()
    looks = EFFORTS[: EFFORTS.index("look") + 1]
    apart = [(looks.index(one.effort), -_apart(key, group, one), one) for one in key.characters if _seen(one, looks)]
    best = sorted((one for one in apart if one[1] <= -_APART), key=lambda one: one[:2])
    return tuple(mark for _, _, mark in best[:MOST])


def _seen(mark: Character, efforts: tuple[str, ...]) -> bool:
    return bool(mark.states) and mark.effort in efforts


def _apart(key: Key, group: Group, mark: Character) -> float:
    inside = [mark.column[at] for at, guise in enumerate(key.guises) if guise.species in group.members]
    outside = [mark.column[at] for at, guise in enumerate(key.guises) if guise.species not in group.members]
    return sum(abs(a - b) for a, b in zip(_mean(mark, inside), _mean(mark, outside), strict=True)) / 2


def _mean(mark: Character, cells: Sequence[int]) -> list[float]:
    """The mean share of each state over the cells that are known; nothing at all where one has not the mark."""
    known = [cell for cell in cells if 0 <= cell < mark.described]
    if not known or NOT_APPLICABLE in cells:
        return [0.0] * len(mark.states)
    return [sum(mark.cells[cell][state] for cell in known) / len(known) for state in range(len(mark.states))]
