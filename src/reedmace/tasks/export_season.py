"""Export a season's sightings as a Darwin Core CSV file."""

from __future__ import annotations

from pathlib import Path

from reedmace.darwincore import Dataset, occurrence, write_csv
from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.vice_counties import vice_counties

# A record of one's own is given away freely unless its owner says otherwise.
LICENCES = {
    "cc0": "https://creativecommons.org/publicdomain/zero/1.0/",
    "cc-by": "https://creativecommons.org/licenses/by/4.0/",
    "cc-by-nc": "https://creativecommons.org/licenses/by-nc/4.0/",
}


def export_season(ledger: Ledger, season: int | None, to: Path, *, licence: str, dataset: str, overwrite: bool) -> int:
    """Write the sightings that stand (of one year, or all) to `to`; the number of rows.

    The same ledger gives the same bytes. Raises Refused for a file that cannot be written or is there already.
    """
    if to.suffix.casefold() != ".csv":
        raise Refused(
            Fault(
                "export-format",
                f'"{to.name}" is not a .csv file.',
                f"name it  {to.stem or 'season'}.csv",
                str(to),
                typed=True,
            )
        )
    shared = Dataset(dataset, LICENCES[licence], {county.number: county.name for county in vice_counties()})
    rows = (
        occurrence(sighting, visit, meta.modified, ledger.people.name_of, shared)
        for sighting, visit, meta in ledger.current_sightings(Wanted(year=season))
    )
    return write_csv(to, rows, overwrite=overwrite)
