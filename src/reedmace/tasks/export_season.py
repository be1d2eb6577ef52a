"""Export a season for a recipient: what is chosen, in the form that the recipient wants, whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import NamedTuple

from reedmace.darwincore import DEFAULT_COLUMNS, Dataset, RowNotes, occurrence, write_csv
from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.places.vice_counties import vice_counties
from reedmace.tasks.determinations import determinations
from reedmace.tasks.export_choice import chosen
from reedmace.tasks.export_profiles import ExportProfile, FileKind

# A record of one's own is given away freely unless its owner says otherwise.
LICENCES = {
    "cc0": "https://creativecommons.org/publicdomain/zero/1.0/",
    "cc-by": "https://creativecommons.org/licenses/by/4.0/",
    "cc-by-nc": "https://creativecommons.org/licenses/by-nc/4.0/",
}
_ENDINGS: dict[str, FileKind] = {".csv": "csv", ".zip": "archive"}


class Asked(NamedTuple):
    """What is to be exported: the year (None for all), the file, how, and today's date."""

    season: int | None
    to: Path
    profile: ExportProfile
    today: date
    overwrite: bool = False


def export_season(ledger: Ledger, asked: Asked) -> int:
    """Write the chosen sightings to a file; the number of rows.

    The same ledger gives the same bytes. Raises Refused for a file that cannot be written or is there already.
    """
    file_kind(asked.to, asked.profile)
    columns = asked.profile.columns or DEFAULT_COLUMNS
    return write_csv(asked.to, rows(ledger, asked), columns, overwrite=asked.overwrite)


def rows(ledger: Ledger, asked: Asked) -> Iterator[Mapping[str, str]]:
    """Stream the rows of Darwin Core, term to text."""
    shared = dataset(asked.profile)
    for sighting, visit, meta in chosen(ledger, asked.profile.choose, asked.season, asked.today):
        earlier, reason = determinations(ledger, meta)
        notes = RowNotes(earlier=earlier, reason=reason)
        yield occurrence(sighting, visit, meta.modified, ledger.people.name_of, shared, notes)


def dataset(profile: ExportProfile) -> Dataset:
    """Give what all rows of a file share."""
    names = {county.number: county.name for county in vice_counties()}
    return Dataset(profile.dataset, LICENCES[profile.licence], names)


def file_kind(to: Path, profile: ExportProfile) -> FileKind:
    """Say what kind of file is to be written, by the profile and the file's ending, which must agree."""
    by_ending = _ENDINGS.get(to.suffix.casefold())
    wanted = profile.file
    if by_ending is None or (wanted is not None and (wanted == "archive") != (by_ending == "archive")):
        ending = ".zip" if wanted == "archive" else ".csv"
        said = f'"{to.name}" is no {ending} file.' if wanted else f'"{to.name}" is neither a .csv nor a .zip file.'
        hint = f"name it  {to.stem or 'season'}{ending}"
        raise Refused(Fault("export-format", said, hint, str(to), typed=True))
    return wanted or by_ending
