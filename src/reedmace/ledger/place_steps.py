"""Step 4 of the schema: the names of places in order, so that those with some words in them are found by jumps."""

from __future__ import annotations

PLACES: tuple[str, ...] = (
    "CREATE INDEX listed_place ON listed (locality, day, visit_id) WHERE locality IS NOT NULL",
    "CREATE INDEX listed_visit_place ON listed_visit (locality COLLATE NOCASE) WHERE locality IS NOT NULL",
)
