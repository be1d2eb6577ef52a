"""What a row of a sheet came to: a visit with sightings, faults, or neither."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.darwincore import Earlier
from reedmace.faults import Fault
from reedmace.records import Sighting, Visit
from reedmace.records.verification import Verification
from reedmace.tasks.sheets.names import NamedAs


class Made(NamedTuple):
    """What a row came to: a visit with sightings, or faults; `left_out` says why there is no sighting.

    A row that tells of a withdrawal comes to nothing; `withdrawn` is the id of the record it asks to be taken out.

    `modified` is when the record last changed where it came from (UTC), empty where the row does not say.
    `earlier` are the determinations of the sighting before the present one, and `reason` why that came;
    `verified` is what a county recorder said of it. `nobody` says that the row named nobody who observed,
    `timeless` that a time was left out because its zone is not known for that year.
    `visit_ids` and `objection` are those of `sheet_visits`. `named` is how the name was read, None where nothing
    had to be read into it and the key has it. `said` is the visit as the row itself says it, `exact` that the row is
    one of our own file read cell by cell, and `withheld` that it is of a version of ours that leaves words
    and places out.
    """

    visit: Visit | None = None
    sightings: tuple[Sighting, ...] = ()
    faults: tuple[Fault, ...] = ()
    left_out: str = ""
    withdrawn: str = ""
    modified: str = ""
    earlier: tuple[Earlier, ...] = ()
    verified: Verification | None = None
    reason: str = ""
    nobody: bool = False
    timeless: bool = False
    named: NamedAs | None = None
    visit_ids: tuple[str, ...] = ()
    objection: Fault | None = None
    said: Visit | None = None
    exact: bool = False
    withheld: bool = False
