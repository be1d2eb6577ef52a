"""Columns that number the rows of a sheet, 1, 2, 3: no ids, for the next sheet begins with 1 again."""

from __future__ import annotations

import re
from collections.abc import Collection

_NUMBER = re.compile(r"[0-9]{1,6}(?:\.0+)?", re.ASCII)


def is_number(cell: str) -> bool:
    """Say whether a cell of a column headed like an id may be a row's number: a whole number of up to six figures."""
    return _NUMBER.fullmatch(cell.strip()) is not None


def numbers_rows(cells: Collection[str]) -> bool:
    """Say whether a column headed like an id looks like a running number: it has such numbers only."""
    filled = [cell for cell in cells if cell.strip()]
    return bool(filled) and all(map(is_number, filled))
