"""Rows in which somebody wrote down that there was nothing at all: a visit without sightings, and no species."""

from __future__ import annotations

from collections.abc import Mapping

from reedmace.faults import Fault
from reedmace.tasks.sheets.parts import COUNTING

_NAMES = ("name", "scientific_name", "vernacular")
_NONE = frozenset(
    (
        *("none", "none seen", "nil", "nil return", "nothing", "nothing seen", "no sightings", "no records", "zero"),
        *("no odonata", "no dragonflies", "no dragonflies seen", "no damselflies or dragonflies", "no insects"),
        *("no dragonflies or damselflies", "no species", "no species seen", "none recorded", "nothing recorded"),
    )
)
_NO_COUNT = frozenset(("", "0", "0.0", "no", "n", "none", "nil", "-", "–", "—"))


def says_none_seen(fields: Mapping[str, str]) -> bool:
    """Say whether a row says in place of a name that nothing was seen, and counts nothing.

    A row with an id, or one of a visit with an id, says it of a record, or of a visit in which others were seen.
    """
    return not (fields.get("id", "").strip() or fields.get("visit_id", "").strip()) and _says_none(fields)


def none_of_a_record(fields: Mapping[str, str]) -> tuple[Fault, ...]:
    """Say of a row that says that nothing was seen, and has an id, why it is not taken for a visit of nothing."""
    if not _says_none(fields):
        return ()
    said = next(cell for name in _NAMES if (cell := fields.get(name, "").strip()))
    why = (
        "This row says that nothing was seen, and has the id of a record, or of a visit on which others may have been."
    )
    return (
        Fault("none-seen-with-id", why, "leave these ids empty: then it is a visit on which there was nothing", said),
    )


def _says_none(fields: Mapping[str, str]) -> bool:
    named = {" ".join(cell.casefold().rstrip(".").split()) for name in _NAMES if (cell := fields.get(name, "").strip())}
    counts = (fields.get(field, "") for field in ("count", *COUNTING))
    return bool(named) and named <= _NONE and all(cell.strip().casefold() in _NO_COUNT for cell in counts)
