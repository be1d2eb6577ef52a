"""Rows of an export before they are put into words, and what they say once they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from typing import NamedTuple

from reedmace.darwincore import PLAIN, Dataset, RowNotes, identification_rows, occurrence, withdrawn_row
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import BLURRED, WITHDRAWN, mark
from reedmace.places.vice_counties import vice_counties
from reedmace.records import Sighting, Visit
from reedmace.tasks.export.closed import Closed
from reedmace.tasks.export.coarse_places import coarsened, side_words
from reedmace.tasks.export.coarse_words import without_finer
from reedmace.tasks.export.determinations import determinations
from reedmace.tasks.export.profiles import ExportProfile

# A record of one's own is given away freely unless its owner says otherwise.
LICENCES = {
    "cc0": "https://creativecommons.org/publicdomain/zero/1.0/",
    "cc-by": "https://creativecommons.org/licenses/by/4.0/",
    "cc-by-nc": "https://creativecommons.org/licenses/by-nc/4.0/",
}


class Told(NamedTuple):
    """A record to be told of: how it stands, and what has become of it since it was told of before.

    `blurred` says that nobody else may see its place: the square that is told instead is worked out as it is written.
    """

    sighting: Sighting
    visit: Visit
    meta: EntryMeta
    change: str = ""
    change_note: str = ""
    blurred: bool = False

    @property
    def mark(self) -> str:
        """What a submission keeps of it."""
        if self.change == "withdrawn":
            return WITHDRAWN
        return mark(self.meta.entry_id, self.meta.visit_entry) + (BLURRED if self.blurred else "")


class ExportRow(NamedTuple):
    """One row: the record, when it last changed, and what goes with it."""

    sighting: Sighting
    visit: Visit
    modified: str
    notes: RowNotes
    name_of: Callable[[str], str]
    dataset: Dataset
    blurred: bool = False

    def terms(self) -> dict[str, str]:
        """Give the row as terms of Darwin Core with their text."""
        notes = self.notes
        row = occurrence(self.sighting, self.visit, self.modified, self.name_of, self.dataset, notes)
        return withdrawn_row(row, self.modified[:10], notes.change_note) if notes.change == "withdrawn" else row

    def identifications(self) -> list[dict[str, str]]:
        """Give its determinations, likewise, the oldest first; none of a record that was withdrawn."""
        notes = self.notes
        if notes.change == "withdrawn":
            return []
        return identification_rows(self.sighting, notes.earlier, self.name_of, notes.verification)


def rows(
    ledger: Ledger,
    profile: ExportProfile,
    records: Iterable[Told],
    as_of: str = "",
    habitat_of: Callable[[str], str] = str,
) -> Iterator[ExportRow]:
    """Stream records as rows, with what county recorders had said of them by `as_of` (UTC), "" for now.

    `habitat_of` gives the title of a habitat of the key by its id.
    """
    closed = cache(lambda: Closed(ledger))
    verification = ledger.verifications(as_of)
    shared, side = dataset(profile, habitat_of), profile.precision_m
    name_of = cache(ledger.people.name_of)
    for sighting, visit, meta, change, note, blurred in records:
        notes = PLAIN
        if blurred:
            told, around, notes = closed().blurred(sighting, visit)
            said = verification(sighting.id)
            notes = notes._replace(change=change, change_note=note)
            if said is not None:
                held = said.holds_for(sighting.taxon.scientific_name)
                notes = notes._replace(verification=held, verified=said._replace(remark=""))
            yield ExportRow(told, around, meta.modified, notes, name_of, shared, blurred=True)
            continue
        if meta.parent is not None or change:
            earlier, reason = determinations(ledger, meta)
            notes = RowNotes(earlier=earlier, reason=reason, change=change, change_note=note)
        said = verification(sighting.id)
        if said is not None:
            held = said.holds_for(sighting.taxon.scientific_name)
            # The remark may name the very place that is to be kept coarse.
            notes = notes._replace(verification=held, verified=said._replace(remark="") if side else said)
        if side:
            sighting, visit, kept_back = without_finer(sighting, visit)
            notes = notes._replace(
                generalised=f"Place no finer than {side_words(side)}", withheld=kept_back[0].upper() + kept_back[1:]
            )
            visit = visit._replace(place=coarsened(visit.place, side))
            naming = sighting.naming
            if naming is not None:  # the key was told the place too
                naming = naming._replace(circumstances=naming.circumstances._replace(place=""))
            own = sighting.place and coarsened(sighting.place, side)
            sighting = sighting._replace(place=own, naming=naming)
        yield ExportRow(sighting, visit, meta.modified, notes, name_of, shared)


def dataset(profile: ExportProfile, habitat_of: Callable[[str], str] = str) -> Dataset:
    """Give what all rows of a file share."""
    names = {county.number: county.name for county in vice_counties()}
    present, _, _ = profile.occurrence_status.partition("/")
    return Dataset(profile.dataset, LICENCES[profile.licence], names, present, habitat_of)
