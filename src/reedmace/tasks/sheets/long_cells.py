"""Cells too long for what they are to say: mostly a quote that was not closed, and slow to make sense of."""

from __future__ import annotations

from collections.abc import Mapping

from reedmace.faults import Fault

LONGEST = 400  # signs; a name with all that stands beside it in a list has room
_PEOPLE = 2000
# Remarks, and what a program kept for itself, may be of any length.
_MOST = {
    **dict.fromkeys(("date", "date_month_first", "date_to", "date_typed", "time", "start", "end"), LONGEST),
    **dict.fromkeys(("name", "scientific_name", "vernacular", "count", "sex", "stage", "sex_stage"), LONGEST),
    **dict.fromkeys(("certainty", "determined_on", "place", "latitude", "longitude", "vice_county"), LONGEST),
    **dict.fromkeys(("observer", "determiner", "locality", "behaviour"), _PEOPLE),
}


def too_long(fields: Mapping[str, str]) -> Fault | None:
    """Say which cell of a row is too long for what its column means."""
    for field, most in _MOST.items():
        if (cell := fields.get(field)) is not None and len(cell) > most:
            why = f"The cell of the {field.replace('_', ' ')} has {len(cell):,} signs, and {most:,} have room."
            hint = "look for a quote that is not closed; what is told at length belongs under  Remarks"
            return Fault("cell-too-long", why, hint, cell)
    return None
