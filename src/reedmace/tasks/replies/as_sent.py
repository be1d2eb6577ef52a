"""A record as it was sent: what an answer is about, and what in a row is no more than what went out.

The submissions say from which entries each record was told. A record that no submission holds was sent in some other
way, and may have been so at any time of its history.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from itertools import product
from typing import NamedTuple

from reedmace.darwincore import pair_words, sentences
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import BLURRED, WITHDRAWN, mark
from reedmace.records import Sighting, Visit
from reedmace.tasks.export.sent_again import Cells, cells_sent
from reedmace.tasks.replies.match import Found

# What fills a column of a sheet that was sent, by the field of an answer that comes back in it.
_SOURCES = {
    "name": ("species", "english name", "code", "scientificName", "vernacularName"),
    "date": ("date", "eventDate", "verbatimEventDate"),
    "place": ("grid reference", "place as written", "verbatimCoordinates"),
    "locality": ("locality", "verbatimLocality"),
    "count": ("count", "adults", "individualCount", "organismQuantity"),
    "sex": ("sex",),
    "stage": ("stage", "lifeStage"),
    "vice_county": ("vice-county", "vice-county name"),
    "remark": ("remarks", "visit remarks", "occurrenceRemarks", "eventRemarks"),
}
_BETWEEN = " .;,:|/-–—"  # what stands between our words and theirs in one cell
Says = Callable[[Sighting, Visit], bool]
"""A test whether a sighting with its visit says what stands in a cell."""


class Version(NamedTuple):
    """A sighting with its visit as they stood once; `since` is when (UTC): when it was sent, or written."""

    sighting: Sighting
    visit: Visit
    since: str


class AsSent:
    """What all submissions told, looked up record by record."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._submissions = ledger.submissions()
        self._versions: dict[str, tuple[Version, ...]] = {}

    @cached_property
    def _marks(self) -> Mapping[str, list[tuple[str, str]]]:
        """Sighting id → the marks of what was told of it, each with when, the oldest first."""
        found: dict[str, list[tuple[str, str]]] = {}
        for submission in self._submissions:
            for subject, told in submission.sent.items():
                if told != WITHDRAWN:
                    found.setdefault(subject, []).append((told.removesuffix(BLURRED), submission.made_at))
        return found

    @cached_property
    def _cells(self) -> Mapping[str, list[Cells]]:
        """Sighting id → the cells of every row about it in a recipient's own sheet."""
        found: dict[str, list[Cells]] = {}
        for submission in self._submissions:
            for ids, cells in cells_sent(self._ledger, submission):
                for one in ids:
                    found.setdefault(one, []).append(cells)
        return found

    def was_sent(self, found: Found) -> bool:
        """Say whether a submission holds this record."""
        return found.sighting.id in self._marks

    def versions(self, found: Found) -> tuple[Version, ...]:
        """Give how a record stood whenever it was sent, the oldest first; else how it stood at any time."""
        subject = found.sighting.id
        if subject not in self._versions:
            self._versions[subject] = tuple(self._made(found))
        return self._versions[subject]

    def _made(self, found: Found) -> list[Version]:
        seen = [(meta, one) for meta, one in self._ledger.history(found.sighting.id) if isinstance(one, Sighting)]
        visits: dict[str, list[tuple[EntryMeta, Visit]]] = {
            visit_id: [(at, one) for at, one in self._ledger.history(visit_id) if isinstance(one, Visit)]
            for visit_id in dict.fromkeys((found.visit.id, *(one.visit_id for _, one in seen)))
        }
        if told := self._marks.get(found.sighting.id):
            stood = {mark(meta.entry_id, at.entry_id): (one, v) for meta, one in seen for at, v in visits[one.visit_id]}
            if sent := [Version(*stood[which], made_at) for which, made_at in told if which in stood]:
                return sent
        # The visit's other versions, of a sighting that moved, count too: the file may be older than the move.
        every = product(((meta, one) for meta, one in seen), (pair for of in visits.values() for pair in of))
        all_times = [Version(one, visit, max(meta.written_at, at.written_at)) for (meta, one), (at, visit) in every]
        return sorted(all_times, key=lambda one: one.since)

    def stood_so(self, found: Found, says: Says) -> bool:
        """Say whether a record was sent like this; of one that no submission holds, whether it ever read like this."""
        return any(says(one.sighting, one.visit) for one in self.versions(found))

    def came_back(self, found: Found, field: str, text: str) -> bool:
        """Say whether a cell is, sign for sign, what stood in a recipient's own sheet that was sent."""
        return any(
            " ".join(text.split()) == " ".join(cells[source].split())
            for cells in self._cells.get(found.sighting.id, ())
            for source in _SOURCES.get(field, ())
            if source in cells
        )

    def own_words(self, found: Found, remark: str) -> str:
        """Give what of a remark is the county recorder's: nothing of what was sent in that column, by us."""
        plain = " ".join(remark.split())
        ours = {
            " ".join(text.split())
            for one in (found.sighting, *(version.sighting for version in self.versions(found)))
            for text in (one.remarks, sentences(*pair_words(one), one.remarks))
        }
        ours |= {
            " ".join(cells[source].split())
            for cells in self._cells.get(found.sighting.id, ())
            for source in _SOURCES["remark"]
            if source in cells
        }
        for text in sorted(filter(None, ours), key=len, reverse=True):
            if plain == text:
                return ""
            if plain.startswith(text) and not plain[len(text)].isalnum():
                return plain[len(text) :].lstrip(_BETWEEN)
        return remark

    def meant(self, found: Found, says: Says | None, day: str, known: frozenset[str]) -> Sighting:
        """Give the sighting under the name that an answer is about.

        `says` tests whether a version has the name that stands in the row, where one does. Else it is the name that
        had been sent, or stood, by the `day` of the decision; the name that stands now, if those who answer gave it
        themselves (`known`), or nothing else is known.
        """
        now = found.sighting
        versions = self.versions(found)
        if says is not None:
            if says(now, found.visit):
                return now
            so = [one.sighting for one in versions if says(one.sighting, one.visit)]
            if so:
                return so[-1]
        if now.taxon.scientific_name in known:
            return now
        by_then = [one for one in versions if not day or one.since[: len(day)] <= day]
        if self.was_sent(found):
            return (by_then or list(versions))[-1].sighting if versions else now
        return by_then[-1].sighting if day and by_then else now
