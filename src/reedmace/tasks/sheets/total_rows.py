"""Rows that add up what stands above them: `Total,,,48`. They are no records, and come back as what they are."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reedmace.faults import Fault

_TOTAL = re.compile(r"(?:grand |sub-?)?totals?\b[^0-9]*|sum:?", re.ASCII | re.IGNORECASE)
_NUMBER = re.compile(r"[0-9][0-9., ]*", re.ASCII)


def says_total(cells: Sequence[str], *, filled_up: bool = False) -> Fault | None:
    """Say that a faulty row is one of totals, where it names itself so and holds nothing but numbers beside.

    Where empty cells were `filled_up` with what stands above them, that it names itself so will do.
    """
    filled = [cell for one in cells if (cell := one.strip())]
    named = [cell for cell in filled if _TOTAL.fullmatch(cell)]
    alone = filled_up or all(cell in named or _NUMBER.fullmatch(cell) for cell in filled)
    if not named or not alone:
        return None
    why = "This row adds up others, and is no record."
    return Fault("row-of-totals", why, "nothing has to be done: leave it out", named[0])
