"""Export a season for a recipient: what is chosen, in the form that the recipient wants, whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import NamedTuple

from reedmace.darwincore import (
    DEFAULT_COLUMNS,
    About,
    Dataset,
    RowNotes,
    identification_rows,
    occurrence,
    write_archive,
    write_csv,
)
from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.places.vice_counties import vice_counties
from reedmace.records import Sighting, Visit
from reedmace.tasks.determinations import determinations
from reedmace.tasks.export_choice import Chosen, chosen
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
    kind = file_kind(asked.to, asked.profile)
    columns = asked.profile.columns or DEFAULT_COLUMNS
    made = rows(ledger, asked.profile, chosen(ledger, asked.profile.choose, asked.season, asked.today))
    if kind == "archive":
        with_identifications = ((one.terms(), one.identifications()) for one in made)
        return write_archive(asked.to, with_identifications, columns, _about(ledger, asked), asked.overwrite)
    return write_csv(asked.to, (one.terms() for one in made), columns, overwrite=asked.overwrite)


class ExportRow(NamedTuple):
    """One row before it is put into words: the record, when it last changed, and what goes with it."""

    sighting: Sighting
    visit: Visit
    modified: str
    notes: RowNotes
    name_of: Callable[[str], str]
    dataset: Dataset

    def terms(self) -> dict[str, str]:
        """Give the row as terms of Darwin Core with their text."""
        return occurrence(self.sighting, self.visit, self.modified, self.name_of, self.dataset, self.notes)

    def identifications(self) -> list[dict[str, str]]:
        """Give its determinations, likewise, the oldest first."""
        notes = self.notes
        return identification_rows(self.sighting, notes.earlier, self.name_of, notes.verification)


def rows(ledger: Ledger, profile: ExportProfile, records: Iterable[Chosen]) -> Iterator[ExportRow]:
    """Stream records as rows."""
    shared = dataset(profile)
    name_of = cache(ledger.people.name_of)
    for sighting, visit, meta in records:
        earlier, reason = determinations(ledger, meta)
        notes = RowNotes(earlier=earlier, reason=reason)
        yield ExportRow(sighting, visit, meta.modified, notes, name_of, shared)


def _about(ledger: Ledger, asked: Asked) -> About:
    me = ledger.people.me()
    year = f", {asked.season}" if asked.season else ""
    title = asked.profile.dataset or f"Sightings{year}"
    return About(title, ledger.people.name_of(me) if me else "unnamed", LICENCES[asked.profile.licence])


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
