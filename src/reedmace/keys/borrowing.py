"""What is not known of a guise is borrowed: from its congeners of the same sex and age, and from the key as a whole.

L(unknown) = (Σ over relatives of L + key mean L) / (n + 1), so that being undescribed is never an advantage. What
is borrowed is an average of cells: what is read off a cell of states is linear in it, so that a key's compiled form
can hold it. Of a number the readings are averaged, when they are known.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from reedmace.keys.model import NOT_KNOWN

Cell = Sequence[float]


class Kinship(NamedTuple):
    """Which guises are relatives: congeners of the same sex and age. `members[of_guise[g]]` are those of guise g."""

    of_guise: list[int]
    members: list[list[int]]


class Borrowed(NamedTuple):
    """`column` gives every guise a cell (or not applicable): those from the number of own cells on are in `cells`."""

    column: Sequence[int]
    cells: list[Cell]


def kinship(families: Iterable[tuple[str, str | None, str]]) -> Kinship:
    """Sort guises into relatives; `families` gives genus, sex and age of each."""
    numbers: dict[tuple[str, str | None, str], int] = {}
    of_guise: list[int] = []
    members: list[list[int]] = []
    for index, family in enumerate(families):
        if family not in numbers:
            numbers[family] = len(members)
            members.append([])
        of_guise.append(numbers[family])
        members[numbers[family]].append(index)
    return Kinship(of_guise, members)


def borrow(kin: Kinship, cells: Sequence[Cell], column: Sequence[int], width: int) -> Borrowed:
    """Cells for the guises of a column that have none of their own; `width` is the length of a cell."""
    if NOT_KNOWN not in column:
        return Borrowed(column, [])
    scored = Counter(column)
    mean = weighted_mean(cells, scored) or [1.0 / width] * width
    borrowed: list[Cell] = []
    found: dict[int, int] = {}
    filled = list(column)
    for index, cell in enumerate(column):
        if cell != NOT_KNOWN:
            continue
        family = kin.of_guise[index]
        at = found.get(family)
        if at is None:
            at = found[family] = len(cells) + len(borrowed)
            relatives = Counter([column[other] for other in kin.members[family]])
            borrowed.append(weighted_mean(cells, relatives, mean) or mean)
        filled[index] = at
    return Borrowed(filled, borrowed)


def weighted_mean(cells: Sequence[Cell], counts: Mapping[int, int], more: Cell | None = None) -> list[float]:
    """The mean of cells, each as often as it counts (numbers below 0 are no cells), and of one more; empty for none."""
    total: list[float] = list(more) if more is not None else []
    number = 1 if more is not None else 0
    for cell, count in counts.items():
        if cell < 0:
            continue
        number += count
        values = cells[cell]
        total = (
            [one + count * value for one, value in zip(total, values, strict=True)]
            if total
            else [count * value for value in values]
        )
    return [value / number for value in total]
