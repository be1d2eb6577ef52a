"""Which sightings an export takes: filters → one stream in the ledger's own order."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from datetime import date

from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.meeting import meets
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
    status = None if choose.status == "recorded" else choose.status
    return _passed(ledger, wanted_by(ledger, choose, season, today, called), choose, status)


def without_year(ledger: Ledger, choose: Choose, today: date, called: Called | None = None) -> Iterator[Chosen]:
    """Stream what has no date, or one of several years, and is otherwise among what is chosen."""
    status = None if choose.status == "recorded" else choose.status
    any_day = choose.model_copy(update={"since": None, "until": None})
    wanted = [one._replace(without_year=True) for one in wanted_by(ledger, any_day, None, today, called)]
    return _passed(ledger, wanted, choose, status)


def belongs(ledger: Ledger, choose: Choose, season: int | None, today: date, called: Called | None = None) -> Test:
    """Give what says whether a record, as it stands or once stood, is one that was asked for.

    Whether two copies of the ledger changed it in different ways is not looked at: that is so now only.
    """
    every = wanted_by(ledger, choose, season, today, called)
    every = [one._replace(taxon=None, taxa=ledger.taxa_called(one.taxon)) if one.taxon else one for one in every]
    tests = _tests(choose)
    if choose.status == "amended":
        tests.append(lambda *row: row[2].act != "recorded")
    return lambda *row: any(meets(one, *row[:2]) for one in every) and all(test(*row) for test in tests)


def wanted_by(ledger: Ledger, choose: Choose, season: int | None, today: date, called: Called | None) -> list[Wanted]:
    """Give the questions whose answers together are what is chosen by days, places and species."""
    meant = [Wanted(taxa=called(name)) if called else Wanted(taxon=name) for name in choose.species] or [Wanted()]
    return [
        choice(
            ledger,
            taxa._replace(year=season),
            since=choose.since,
            until=choose.until,
            place=place,
            person=None,
            today=today,
        )
        for place in choose.places or (None,)
        for taxa in meant
    ]


def _passed(ledger: Ledger, wanted: list[Wanted], choose: Choose, status: str | None) -> Iterator[Chosen]:
    streams = [ledger.current_sightings(one._replace(status=status)) for one in wanted]
    rows = streams[0] if len(streams) == 1 else _once(heapq.merge(*streams, key=order))
    tests = _tests(choose)
    return (row for row in rows if all(test(*row) for test in tests)) if tests else rows


def vice_county_of(sighting: Sighting, visit: Visit) -> str | None:
    """Give the vice-county that is stated; a spot of a visit that says none is in the visit's."""
    return (sighting.place and sighting.place.vice_county) or visit.place.vice_county


def _tests(choose: Choose) -> list[Test]:
    tests: list[Test] = []
    found = [find_vice_county(typed) for typed in choose.vice_counties]
    counties = {county.number for county in found if isinstance(county, ViceCounty)}
    if counties:
        tests.append(lambda sighting, visit, _: vice_county_of(sighting, visit) in counties)
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
