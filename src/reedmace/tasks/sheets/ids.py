"""An id for a row that has none of its own, worked out from what it says (UUID version 5, RFC 9562).

So that the same row comes to the same id whenever it is imported: each cell counts with its heading, wherever its
column stands, and an empty cell not at all. Columns may be moved, or added beside the old rows, without making them
new records. Of rows that say exactly the same, the first, second and third are told apart.
"""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Iterable, Sequence

from reedmace.tasks.sheets.visits import ROWS

_CELL, _HEADING = "\x1f", "\x1e"  # what ends a cell, and a heading


class RowIds:
    """Ids for the rows of one file; `headings` name its columns, `own` are the places of those that count."""

    def __init__(self, headings: Sequence[str], own: Iterable[int]) -> None:
        # Columns of the same heading, or of none, stay in their order.
        self._columns = sorted((" ".join(headings[place].split()).casefold(), place) for place in own)
        self._alike: dict[int, int] = {}

    def of(self, cells: Sequence[str]) -> str:
        """Give the id of the next row."""
        said = _CELL.join(
            f"{heading}{_HEADING}{cell}" for heading, place in self._columns if (cell := cells[place].strip())
        )
        digest = int.from_bytes(hashlib.blake2b(said.encode("utf-8", "replace"), digest_size=8).digest())
        again = self._alike[digest] = self._alike.get(digest, 0) + 1
        return str(uuid.uuid5(ROWS, f"{said}{_CELL}{again}"))
