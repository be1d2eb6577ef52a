"""Headings in two rows: groups above (`Adults`, `When and where`), and below what each column of a group is."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.tasks.sheets.heading_words import headed, heading_known, plain_heading
from reedmace.tasks.sheets.parts import part_headed

_SURE = 2  # headings that must be known in a second row


def second_row(above: Sequence[str], below: Sequence[str]) -> list[str] | None:
    """Give the headings of two rows joined; None where the second is a record, and the first has all of them.

    A second row of headings holds nothing but such: no figure, and hardly a word that heads no column.
    """
    cells = [cell.strip() for cell in below if cell.strip()]
    known = sum(map(heading_known, cells))
    if known < _SURE or 3 * known < 2 * len(cells) or any(sign.isdigit() for cell in cells for sign in cell):
        return None
    return _each(above, below)


def groups_above(above: Sequence[str], below: Sequence[str]) -> list[str] | None:
    """Give headings joined with those of groups above them; None where what stands above is a title."""
    cells = [cell.strip() for cell in above if cell.strip()]
    known = sum(map(heading_known, cells))
    told = any(cell.endswith(":") for cell in cells)  # `Recorder:  Ada Marsh`
    return _each(above, below) if known and 3 * known >= 2 * len(cells) and not told else None


def _each(above: Sequence[str], below: Sequence[str]) -> list[str]:
    """Join two rows. Of a group that says what insects were, its columns are parts; any other says nothing more."""
    wide = max(len(above), len(below))
    one, other = ([*(cell.strip() for cell in row), *[""] * (wide - len(row))] for row in (above, below))
    joined, group = [], ""
    for place, (over, under) in enumerate(zip(one, other, strict=True)):
        group = over or (group if under else "")
        following = one[place + 1 : place + 2], other[place + 1 : place + 2]
        joined.append(_joined(group, under, alone=bool(over) and (any(following[0]) or not any(following[1]))))
    return joined


def _joined(group: str, under: str, *, alone: bool) -> str:
    """Join two headings; `alone` says that the one above has no column but this."""
    both = f"{group} {under}".strip()
    if not (group and under) or headed(both) is not None:
        return both
    if alone and headed(under) is None and headed(group) is not None:
        return group  # below stands how it is to be written: `dd/mm/yyyy`
    # `Males` of the exuviae are no males.
    apart = _counts(group) and (_counts(under) or headed(under) is None)
    return both if apart or headed(under) is None else under


def _counts(heading: str) -> bool:
    return part_headed(plain_heading(heading)) is not None
