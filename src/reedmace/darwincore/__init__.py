"""Darwin Core terms and files: from a sighting to one line of a table that others can read, and back.

What each column means here: docs/darwin-core.md.
"""

from __future__ import annotations

from reedmace.darwincore.archive import write_archive
from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.csvfile import line_of, one_line, write_csv, write_lines, write_rows
from reedmace.darwincore.eml import About
from reedmace.darwincore.exact import Earlier
from reedmace.darwincore.identification import identification_rows
from reedmace.darwincore.occurrence import Dataset, RowNotes, occurrence, withdrawn_row
from reedmace.darwincore.own_check import place_contradicted
from reedmace.darwincore.own_rows import OwnRow, change_of, is_own, read_own
from reedmace.darwincore.plain_lines import PlainLines
from reedmace.darwincore.quantity import pair_words
from reedmace.darwincore.quick import PLAIN, QuickRows, chosen_cells
from reedmace.darwincore.read_archive import is_archive, occurrences_of
from reedmace.darwincore.reading import FIELD_OF_TERM, looks_like_darwin_core, properties_of, turned_back, undo_wording
from reedmace.darwincore.terms import TERMS, VERSION
from reedmace.darwincore.whole import digest_of, room_for, whole_file
from reedmace.darwincore.wording import sentences

__all__ = [
    "DEFAULT_COLUMNS",
    "FIELD_OF_TERM",
    "PLAIN",
    "TERMS",
    "VERSION",
    "About",
    "Dataset",
    "Earlier",
    "OwnRow",
    "PlainLines",
    "QuickRows",
    "RowNotes",
    "change_of",
    "chosen_cells",
    "digest_of",
    "identification_rows",
    "is_archive",
    "is_own",
    "line_of",
    "looks_like_darwin_core",
    "occurrence",
    "occurrences_of",
    "one_line",
    "pair_words",
    "place_contradicted",
    "properties_of",
    "read_own",
    "room_for",
    "sentences",
    "turned_back",
    "undo_wording",
    "whole_file",
    "withdrawn_row",
    "write_archive",
    "write_csv",
    "write_lines",
    "write_rows",
]
