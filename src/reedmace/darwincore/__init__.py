"""Darwin Core terms and files: from a sighting to one line of a table that others can read.

What each column means here: docs/darwin-core.md.
"""

from __future__ import annotations

from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.csvfile import one_line, write_csv, write_rows
from reedmace.darwincore.occurrence import Dataset, RowNotes, occurrence
from reedmace.darwincore.terms import TERMS, VERSION

__all__ = [
    "DEFAULT_COLUMNS",
    "TERMS",
    "VERSION",
    "Dataset",
    "RowNotes",
    "occurrence",
    "one_line",
    "write_csv",
    "write_rows",
]
