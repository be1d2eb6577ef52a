"""Which sightings an export takes: filters → one stream in the ledger's own order."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from datetime import date

from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.vice_counties import ViceCounty, find_vice_county
from reedmace.records import Sighting, Visit, span
from reedmace.tasks.export.profiles import Choose
from reedmace.tasks.records.list_sightings import choice

Chosen = tuple[Sighting, Visit, EntryMeta]
Called = Callable[[str], tuple[str, ...]]
Test = Callable[[Sighting, Visit, EntryMeta], bool]


def plainly(choose: Choose, season: int | None) -> Wanted | None:
    """Give the choice as one question that the ledger answers by itself; None where it takes more than that."""
    return Wanted(year=season) if choose == Choose() else None


def chosen(
    ledger: Ledger, choose: Choose, season: int | None, today: date, called: Called | None = None
) -> Iterator[Chosen]:
    """Stream what is chosen, by date, visit, name and id; each sighting once.

    `called` gives the scientific names that a name of a species or group means; without it names are taken in full.
    Raises `Refused` for days and names that cannot be read.
    """
    meant = [Wanted(taxa=called(name)) if called else Wanted(taxon=name) for name in choose.species] or [Wanted()]
    wanted = [
        choice(
            ledger,
            taxa._replace(year=season, status=None if choose.status == "recorded" else choose.status),
            since=choose.since,
            until=choose.until,
            place=place,
            person=None,
            today=today,
        )
        for place in choose.places or (None,)
        for taxa in meant
    ]
    streams = [ledger.current_sightings(one) for one in wanted]
    rows = streams[0] if len(streams) == 1 else _once(heapq.merge(*streams, key=order))
    tests = _tests(choose)
    return (row for row in rows if all(test(*row) for test in tests)) if tests else rows


def _tests(choose: Choose) -> list[Test]:
    tests: list[Test] = []
    found = [find_vice_county(typed) for typed in choose.vice_counties]
    counties = {county.number for county in found if isinstance(county, ViceCounty)}
    if counties:
        # A spot of a visit that says no vice-county is looked for in the visit's.
        tests.append(
            lambda sighting, visit, _: (
                ((sighting.place and sighting.place.vice_county) or visit.place.vice_county) in counties
            )
        )
    if choose.certainty != "all":
        doubts = ("uncertain",) if choose.certainty == "probable" else ("probable", "uncertain")
        tests.append(lambda sighting, *_: sighting.certainty not in doubts)
    if choose.status == "recorded":
        tests.append(lambda *row: row[2].act == "recorded")
    return tests


def order(row: Chosen) -> tuple[str, str, str, str]:
    """The order of the ledger: SQLite folds the case of ASCII letters only."""
    sighting, visit, _ = row
    days = span(visit.date) if visit.date else None
    name = "".join(sign.lower() if sign.isascii() else sign for sign in sighting.taxon.scientific_name)
    return days.first if days else "", visit.id, name, sighting.id


def _once(rows: Iterator[Chosen]) -> Iterator[Chosen]:
    """Leave out what comes twice: a sighting that two places or two species both take stands side by side here."""
    before = ""
    for row in rows:
        if row[0].id != before:
            yield row
        before = row[0].id
