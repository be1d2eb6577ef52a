"""Darwin Core terms and files: from a sighting to one line of a table that others can read, and back.

What each column means here: docs/darwin-core.md.
"""

from __future__ import annotations

from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.csvfile import one_line, write_csv, write_rows
from reedmace.darwincore.exact import Earlier
from reedmace.darwincore.occurrence import Dataset, RowNotes, occurrence
from reedmace.darwincore.own_rows import OwnRow, change_of, is_own, read_own
from reedmace.darwincore.reading import FIELD_OF_TERM, looks_like_darwin_core, undo_wording
from reedmace.darwincore.terms import TERMS, VERSION

__all__ = [
    "DEFAULT_COLUMNS",
    "FIELD_OF_TERM",
    "TERMS",
    "VERSION",
    "Dataset",
    "Earlier",
    "OwnRow",
    "RowNotes",
    "change_of",
    "is_own",
    "looks_like_darwin_core",
    "occurrence",
    "one_line",
    "read_own",
    "undo_wording",
    "write_csv",
    "write_rows",
]
