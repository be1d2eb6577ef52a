"""What a row of a sheet says otherwise than the record of its id."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault
from reedmace.records import Sighting

_COMPARED = ("count", "count_to", "count_kind", "pairs", "sex", "stage", "behaviour", "certainty", "remarks")


def differences(one: Sighting, there: Sighting) -> list[str]:
    """Name what two records say otherwise, of what a row can say; it cannot say everything that a record can."""
    found = [field.replace("_", " ") for field in _COMPARED if getattr(one, field) != getattr(there, field)]
    if one.taxon.scientific_name != there.taxon.scientific_name:
        found.insert(0, "name")
    return found


def otherwise(record: str, differs: Sequence[str], *, stands: bool) -> Fault:
    """Say that a row says otherwise than the record of its id, which `stands` or was taken back."""
    others = ", ".join(differs)
    if stands:
        said = f"A record with this id is in the ledger, with another {others}."
        hint = f'if the file is right, amend the record:  reedmace ledger amend {record} FIELD=VALUE --reason "..."'
    else:
        said = f"The record with this id was withdrawn in this ledger; it had another {others}."
        hint = f'leave the row out; or, if it should stand again:  reedmace ledger reinstate {record} --reason "..."'
    return Fault("differs-from-ledger", said, hint, record)
