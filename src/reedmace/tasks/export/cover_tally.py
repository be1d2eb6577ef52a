"""Totals of what was chosen for a page: names with first and last day, visits, sites, observers; what asks for care."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from reedmace.keys.care import CareNote, care_on
from reedmace.ledger.entries import EntryMeta
from reedmace.records import Sighting, Visit, span
from reedmace.records.verification import Verification
from reedmace.reports.covering import SpeciesLine

REJECTED = "answered incorrect"
"""The sign of a name that the county recorder does not accept."""
_DOUBTS = {"uncertain": "?", "probable": "probable"}
_SIGNS = ("cf.", "aff.", "nr.")


def doubt_of(sighting: Sighting, said: Verification | None = None) -> str:
    """Give the sign of the doubt about a name: `?`, `probable`, or the determiner's own, such as `cf.`.

    Of a sign in other words, which may say anything, only the doubt is told. A name that the county recorder does
    not accept, by what they `said`, is marked as such before all else.
    """
    if said is not None and said.rejects(sighting.taxon.scientific_name):
        return REJECTED
    if sighting.qualifier:
        return next((sign for sign in _SIGNS if sighting.qualifier.startswith(sign)), "?")
    return _DOUBTS.get(sighting.certainty or "", "")


class _Line:
    """One name, as far as it was counted."""

    __slots__ = ("first", "flying", "last", "others", "records", "sites")

    def __init__(self) -> None:
        self.records = 0
        self.flying: dict[str, int] = {}  # by visit
        self.others: dict[str, int] = {}  # cast skins and larvae, by visit
        self.first = self.last = ""
        self.sites: set[str] = set()

    @property
    def most(self) -> int | None:
        """The most on one visit; of cast skins and larvae only where nothing else was counted."""
        return max((self.flying or self.others).values(), default=None)


class Tally:
    """Totals of what was chosen."""

    def __init__(self) -> None:
        self.ids: dict[str, EntryMeta] = {}
        self.species: set[str] = set()
        self._doubtful: set[str] = set()
        self._rejected: set[str] = set()
        self.visits: dict[str, None] = {}
        self.days: set[str] = set()
        self.sites: set[str] = set()
        self.observers: set[str] = set()
        self.undated = 0
        self.last_day = ""
        self._lines: dict[tuple[str, str, str], _Line] = {}
        self._occasions: dict[str, None] = {}

    def people(self, twice: Mapping[str, str]) -> int:
        """How many people saw it; `twice` has the ids of those who have another."""
        return len({twice.get(person, person) for person in self.observers})

    def take(self, sighting: Sighting, visit: Visit, meta: EntryMeta, said: Verification | None = None) -> None:
        """Count one sighting, of which the county recorder may have said something."""
        taxon, place = sighting.taxon, sighting.place or visit.place
        self.ids[sighting.id] = meta
        self.visits[visit.id] = None
        doubt = doubt_of(sighting, said)
        if taxon.rank in ("species", ""):
            among = self._rejected if doubt == REJECTED else self._doubtful if doubt else self.species
            among.add(taxon.scientific_name)
        site = place.site or place.locality.casefold().strip() or place.square or ""
        if site:
            self.sites.add(site)
        self.observers.update(sighting.observers or visit.observers)
        line = self._lines.setdefault((taxon.scientific_name, taxon.vernacular, doubt), _Line())
        line.records += 1
        line.sites.add(site)
        if sighting.count is not None:
            counts = line.others if sighting.stage in ("exuvia", "larva") else line.flying
            counts[visit.id] = counts.get(visit.id, 0) + sighting.count
        days = span(visit.date) if visit.date else None
        if days:
            self.last_day = max(self.last_day, days.last)
        if days and days.first == days.last:
            self.days.add(days.first)
            line.first = min(line.first or days.first, days.first)
            line.last = max(line.last, days.last)
        else:
            self.undated += 1
        self._remember(sighting, visit)

    def _remember(self, sighting: Sighting, visit: Visit) -> None:
        """Remember what asks for care."""
        if sighting.stage == "exuvia":
            self._occasions |= {"cast-skin": None, "larva": None}
        elif sighting.stage in ("larva", "teneral"):
            self._occasions[sighting.stage] = None
        if visit.habitat == "garden-pond":
            self._occasions["garden"] = None
        if visit.party:
            self._occasions["party"] = None

    @property
    def in_doubt(self) -> int:
        """How many species have no record with a certain name."""
        return len(self._doubtful - self.species)

    @property
    def rejected(self) -> int:
        """How many species have no record but those whose name was answered as incorrect."""
        return len(self._rejected - self.species - self._doubtful)

    def care(self) -> Iterable[CareNote]:
        """Give the notes of care and law for what was seen."""
        return care_on(*self._occasions)

    def lines(self) -> tuple[SpeciesLine, ...]:
        """Give the names, by scientific name; one in doubt behind the same that is certain."""
        return tuple(
            SpeciesLine(
                english or scientific,
                scientific,
                line.records,
                line.most,
                line.first,
                line.last,
                len(line.sites - {""}),
                doubt,
            )
            for (scientific, english, doubt), line in sorted(self._lines.items(), key=lambda one: one[0])
        )
