"""A record beside those before it: written twice, far from where its site was, new here, out of all proportion.

What is kept in memory grows with names and sites, not with sightings: duplicates are looked for within a day, and
forgotten when the next day begins, where records come in order of their days (else: twins.py). Firsts are told only
while days never fall: in any other order nobody can say what came first.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, radians

from reedmace.checks.query import Grounds, Query, Record, query
from reedmace.checks.twins import DayTwins, FileTwins
from reedmace.places.slips import likely_meant

FAR_M = 2000  # a pond with its banks is smaller; a canal or a river may not be, so it is only a doubt
SPOTS = 8  # so many earlier positions of a site are remembered
PROPORTION = 10  # times the largest count before
COUNTS_BEFORE = 5  # from so many counts on there is a proportion at all
FEW = 20  # counts up to this raise no question
MOST_EVER = 10_000  # of one species, stage and sex at one place on one day
_DEGREE_M = 111_200
_SHOWN = 12  # signs of an id


class History:
    """What the records before have told; give it every record once, in order. `by_day` says that days never fall."""

    def __init__(self, grounds: Grounds, *, by_day: bool = True) -> None:
        self._grounds = grounds
        self._by_day = by_day
        self._twins = DayTwins() if by_day else FileTwins()
        self._last_day = ""
        self._in_order = True
        self._spots: dict[str, list[tuple[float, float, float]]] = {}
        self._site_days: dict[str, str] = {}
        self._met: set[str] = set()
        self._met_here: set[tuple[str, str]] = set()
        self._first_year = ""
        self._largest: dict[tuple[str, str | None], tuple[int, int]] = {}

    def look(self, record: Record) -> list[Query]:
        """The queries that come from the records before, and remember this one."""
        known = self._grounds.site_of(record)
        site = known.id if known else record.place.site or record.place.locality.casefold()
        return [*self._twice(record), *self._far(record, site), *self._first(record, site), *self._count(record)]

    def _twice(self, record: Record) -> Iterator[Query]:
        """The same again: on one day, of one name, at one place."""
        sighting, visit = record.sighting, record.visit
        day = record.days.first if record.days else ""
        taxon, where = sighting.taxon, record.place.square or record.place.typed
        said = (
            taxon.scientific_name,
            taxon.one_of,
            visit.date,
            where,
            sighting.sex,
            sighting.stage,
            sighting.behaviour,
        )
        alike = hash(said)
        same = hash((alike, sighting.count, sighting.time))
        twin = self._twins.look(day, alike, same, sighting.id, visit.id, (visit.start, visit.end))
        if twin is None:
            return
        if twin.whole:
            reason = f"The same was written before ({twin.called})."
            remedy = "leave one row out if it is the same sighting"
            if self._by_day:  # a record of the ledger
                withdraw = f'reedmace ledger withdraw {sighting.id[-_SHOWN:]} --reason "written twice"'
                remedy = f"take this one back if it is the same sighting:  {withdraw}"
            yield query(record, "written-twice", "doubt", reason, remedy)
        elif where:
            reason = f"Another visit of that day counted the same insects here ({twin.called})."
            remedy = "two people's tallies of one walk are one: keep the larger count and take back the other"
            yield query(record, "counted-twice", "doubt", reason, remedy)

    def _far(self, record: Record, site: str) -> Iterator[Query]:
        """Away from where this site was before, or where it is registered."""
        place = record.place
        if not site or place.latitude is None or place.longitude is None:
            return
        spots = self._spots.get(site)
        if spots is None:
            spots = self._spots[site] = []
            register = self._grounds.sites.get(site)
            if register and register.place.latitude is not None and register.place.longitude is not None:
                reach = register.place.uncertainty_m or 100
                spots.append((register.place.latitude, register.place.longitude, float(reach)))
        reach = place.uncertainty_m or 0
        here = (place.latitude, place.longitude, float(reach))
        if here in spots:
            return
        nearest = min((_apart(here, spot) - spot[2] - reach for spot in spots), default=0.0)
        if nearest > FAR_M:
            yield from _told_far(record, spots, nearest)
        if len(spots) < SPOTS:
            spots.append(here)

    def _first(self, record: Record, site: str) -> Iterator[Query]:
        """New to the ledger once it holds an earlier year; new to a site once it was visited on an earlier day."""
        name, date = record.sighting.taxon.scientific_name, record.visit.date
        self._in_order = self._in_order and (not record.days or record.days.first >= self._last_day)
        if record.days and self._in_order:
            self._last_day = record.days.first
        if not self._in_order or not record.days or not date or record.sighting.taxon.rank not in ("species", ""):
            return
        year = date[:4]
        self._first_year = self._first_year or year
        if name not in self._met:
            self._met.add(name)
            if site:
                self._met_here.add((site, name))
                self._site_days.setdefault(site, date)
            if year > self._first_year:
                reason = f"{record.name} is new to these records."
                yield query(record, "first-here", "note", reason, "a photograph and a few words make it a better first")
            return
        if not site:
            return
        since = self._site_days.setdefault(site, date)
        if (site, name) not in self._met_here:
            self._met_here.add((site, name))
            if since < date:
                where = record.place.locality or "this site"
                reason = f"{record.name} is new to {where}."
                yield query(record, "first-at-site", "note", reason, "look once more at name and place; then be glad")

    def _count(self, record: Record) -> Iterator[Query]:
        """A count out of all proportion to those before."""
        sighting = record.sighting
        count = sighting.count
        if count is None:
            return
        which = (sighting.taxon.scientific_name, sighting.stage)
        largest, number = self._largest.get(which, (0, 0))
        if count > MOST_EVER:
            reason = f"{count} is more than anybody counts in a day."
            yield query(record, "count-out-of-proportion", "doubt", reason, "check the figures; a lost space joins two")
        elif number >= COUNTS_BEFORE and count > FEW and count > PROPORTION * largest:
            reason = f"{count} is more than {PROPORTION} times the largest count before, {largest}."
            remedy = "check the figures; if it was so, say in the remarks how they were counted"
            yield query(record, "count-out-of-proportion", "doubt", reason, remedy)
        self._largest[which] = (max(largest, count), number + 1)


def _apart(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    """Metres between two positions, near enough for a query."""
    east = (one[1] - other[1]) * cos(radians(one[0]))
    return hypot(one[0] - other[0], east) * _DEGREE_M


def _told_far(record: Record, spots: list[tuple[float, float, float]], off: float) -> Iterator[Query]:
    place = record.place
    where = place.locality or "this site"
    meant = likely_meant(place.square, [(spot[0], spot[1]) for spot in spots], FAR_M) if place.square else None
    reason = f"{place.square or place.typed} is {off / 1000:.0f} km from where {where} was before."
    if meant is None:
        yield query(
            record, "far-from-site", "doubt", reason, "check letters and figures, or give the place a name of its own"
        )
        return
    code = "looks-swapped" if meant.swapped else "far-from-site"
    slip = "if easting and northing were swapped" if meant.swapped else "if the letters are those of the next square"
    yield query(record, code, "doubt", reason, f"{slip}, write {meant.reference}")
