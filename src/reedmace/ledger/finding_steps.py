"""Step 4 of the schema: places and sexes in indexes, in order.

Of the names of places, those with some words in them are found by jumps.
"""

from __future__ import annotations

FINDING: tuple[str, ...] = (
    # With the name in it, a walk through the days passes what is elsewhere without reading its row.
    "DROP INDEX listed_day",
    "CREATE INDEX listed_day ON listed (day, visit_id, locality)",
    "CREATE INDEX listed_place ON listed (locality, day, visit_id) WHERE locality IS NOT NULL",
    "CREATE INDEX listed_visit_place ON listed_visit (locality COLLATE NOCASE, day) WHERE locality IS NOT NULL",
    "CREATE INDEX listed_sex ON listed (sex, day, visit_id) WHERE sex IS NOT NULL",
)
