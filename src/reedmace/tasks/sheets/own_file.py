"""A row of a file that this program wrote itself → the very records it was written from."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from reedmace.darwincore import place_contradicted, read_own, turned_back
from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.shared.regions import with_regions
from reedmace.tasks.sheets.made import Made
from reedmace.tasks.sheets.visits import RowVisits


def of_own_file(row: Mapping[str, str], person_of: Callable[[str], str], visits: RowVisits, key: Key) -> Made | None:
    """Make what a row of our own file says, exactly; None where it was changed and is to be read by its columns."""
    read = read_own(row, person_of)
    if read is None and (mended := turned_back(row)) is not None:
        read = read_own(mended, person_of)
    if read is None:
        clash = _two_places(row)
        return None if clash is None else Made(faults=(clash,))
    here = key.squares
    said = read.visit._replace(place=with_regions(here, read.visit.place))
    visit = visits.known(said)
    if visit.date != read.visit.date:
        return None
    place = read.sighting.place
    sighting = read.sighting._replace(place=place and with_regions(here, place))
    return Made(
        visit,
        (sighting,),
        modified=read.modified,
        earlier=read.earlier,
        reason=read.reason,
        verified=read.verified,
        said=said,
        exact=True,
        withheld=withheld(row),
    )


def withheld(row: Mapping[str, str]) -> bool:
    """Say whether a row is of a version of ours that was made for others: public, or with coarser places."""
    return "words as typed" in row.get("informationWithheld", "").casefold()


def _two_places(row: Mapping[str, str]) -> Fault | None:
    """Say that the columns of a row of our own, which are one place, were corrected in some of them only."""
    column = place_contradicted(row)
    if not column:
        return None
    hint = (
        "correct the reference, the position and the vice-county alike; of a record that is in your ledger, the place:"
    )
    hint += f'  reedmace ledger amend {row.get("occurrenceID", "ID")} place="..." --reason "..."'
    return Fault("place-differs", f"The column {column} says another place than the others do.", hint, row[column])
