"""A query: something doubtful about a record, with the reason and what to do about it. Nothing is ever blocked."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from datetime import date
from typing import Any, NamedTuple, TypeVar

from reedmace.checks.county import County
from reedmace.keys.model import Key, Species
from reedmace.places.boundaries import Boundary
from reedmace.records import PlaceRecord, Sighting, Site, Span, Visit, span

T = TypeVar("T")


class Query(NamedTuple):
    """One doubt. `code` never changes meaning; `severity` is `error`, `doubt` or `note`; `sighting` is its id.

    For a row of a file `sighting` is its occurrenceID, or "row 17" where it has none; "" is the file as a whole.
    """

    code: str
    severity: str
    sighting: str
    reason: str
    remedy: str


class Record(NamedTuple):
    """A sighting with its visit, as the rules look at it.

    `species` are those of the key that it names (empty where the key has none), `place` is its own or the visit's,
    `days` what its date may mean (None without a date, or where it is none).
    """

    sighting: Sighting
    visit: Visit
    species: tuple[Species, ...]
    place: PlaceRecord
    days: Span | None

    @property
    def name(self) -> str:
        """The name to show."""
        return self.sighting.taxon.vernacular or self.sighting.taxon.scientific_name


class Grounds(NamedTuple):
    """What records are judged by: the key, the county recorder's word on it, the day, and whose boundaries.

    `named` finds species of the key by accepted name or synonym; `sites` are the registered sites by id.
    """

    key: Key
    today: date
    named: Mapping[str, Species]
    county: County | None = None
    boundaries: tuple[Boundary, ...] = ()
    sites: Mapping[str, Site] = {}
    memo: dict[Hashable, Any] = {}  # noqa: RUF012  (grounds() gives each its own)

    def once(self, what: Hashable, work: Callable[[], T]) -> T:
        """Work something out once: a million records ask the same of sixty species."""
        if what not in self.memo:
            self.memo[what] = work()
        return self.memo[what]  # type: ignore[no-any-return]

    def site_of(self, record: Record) -> Site | None:
        """The registered site of a record: by its id, or by its name in words, which means the same place."""
        if not self.sites:
            return None
        known = self.sites.get(record.place.site or "")
        if known:
            return known
        return self.once("sites by name", self._sites_by_name).get(record.place.locality.casefold())

    def _sites_by_name(self) -> dict[str, Site]:
        return {name.casefold(): site for site in self.sites.values() for name in (site.name, *site.also)}

    def county_of(self, record: Record) -> County | None:
        """The county file, where it speaks for the place of this record."""
        # Most have no county file, and this is asked several times of each record.
        if self.county is None or not self.county.speaks_for(record.place.square, record.place.vice_county):
            return None
        return self.county


Rule = Callable[[Grounds, Record], Iterator[Query]]


def grounds(
    key: Key,
    today: date,
    county: County | None = None,
    boundaries: Iterable[Boundary] = (),
    sites: Iterable[Site] = (),
) -> Grounds:
    """Put together what records are judged by. A synonym never hides an accepted name."""
    named = {name: species for species in key.species for name in species.synonyms}
    named |= {species.name: species for species in key.species}
    return Grounds(key, today, named, county, tuple(boundaries), {site.id: site for site in sites}, {})


def record_of(grounds: Grounds, sighting: Sighting, visit: Visit) -> Record:
    """Match a sighting's name against the key, and find its place and days."""
    taxon = sighting.taxon
    found = [grounds.named[name] for name in taxon.one_of or (taxon.scientific_name,) if name in grounds.named]
    place = sighting.place or visit.place
    return Record(sighting, visit, tuple(found), place, span(visit.date) if visit.date else None)


def query(record: Record, code: str, severity: str, reason: str, remedy: str) -> Query:
    """A query about a record."""
    return Query(code, severity, record.sighting.id, reason, remedy)


def first_of_visit(grounds: Grounds, record: Record, code: str) -> bool:
    """Whether this is the record of its visit on which something said of the whole visit is told: the first."""
    told = grounds.once((code, record.visit.id), lambda: record.sighting.id)
    return not record.visit.id or bool(told == record.sighting.id)
