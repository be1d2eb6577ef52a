"""Is it a record: who, what, where and when, and exactly enough?"""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.query import Grounds, Query, Record, query

SIX_FIGURES_M = 100  # what recorders ask for
COARSE_M = 1000
# Ten years before the tenth edition of Systema Naturae (Linnaeus 1758), from which the names of animals count.
EARLIEST_YEAR = 1748


def who_what_where_when(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Without all four it is no record."""
    sighting, visit, place = record.sighting, record.visit, record.place
    observers = sighting.observers if sighting.observers is not None else visit.observers
    if not (observers or visit.party):
        yield query(record, "who-missing", "error", "Nobody is named as the observer.", "say who saw it")
    if not sighting.taxon.scientific_name:
        yield query(record, "what-missing", "error", "The record names nothing.", "say what it was, or leave it out")
    if not visit.date:
        remedy = "give the date, as exact as it is known"
        yield query(record, "when-missing", "error", "The record has no date.", remedy)
    if not (place.square or place.latitude is not None):
        reason = "The record has no grid reference or position."
        yield query(record, "where-missing", "error", reason, "give one of six figures or better")


def impossible_date(grounds: Grounds, record: Record) -> Iterator[Query]:
    """No date at all, one still to come, or one before anybody kept such records."""
    date, days = record.visit.date, record.days
    if not date:
        return
    if days is None:
        remedy = "write it as  2026-07-12  or look it up in the notebook"
        yield query(record, "date-impossible", "error", f'"{date}" is no date.', remedy)
    elif days.first > grounds.today.isoformat():
        remedy = "check day, month and year"
        yield query(record, "date-in-future", "error", f"{date} is still to come.", remedy)
    elif int(days.first[:4]) < EARLIEST_YEAR:
        reason = f"{date} is older than any record of this kind."
        yield query(record, "date-very-old", "doubt", reason, "check the year; a lost figure is the usual slip")


def named_before_seen(grounds: Grounds, record: Record) -> Iterator[Query]:
    """It was named on a day before it was seen."""
    named, days = record.sighting.determined_on, record.days
    if named and days and named < days.first[: len(named)]:
        reason = f"It was named on {named}, before it was seen on {record.visit.date}."
        ending = record.sighting.id[-12:]
        remedy = f"check both dates; in your ledger:  reedmace ledger amend {ending} named=DATE --reason WHY"
        yield query(record, "named-before-seen", "doubt", reason, remedy)


def vague_date(grounds: Grounds, record: Record) -> Iterator[Query]:
    """An exact day is wanted; a vague one is accepted."""
    if record.days and record.days.first != record.days.last:
        reason = f"The date is only {record.visit.date}."
        yield query(record, "date-vague", "note", reason, "give the day if it is known; leave it vague if not")


def coarse_place(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Six figures or better are wanted, or what the county file says."""
    side = record.place.side_m
    if not side or side <= SIX_FIGURES_M:
        return
    county = grounds.county_of(record)
    wanted = (county and county.wants_m) or SIX_FIGURES_M
    if side <= wanted:
        return
    whose = f" The {county.cited} asks for {metres(wanted)}." if county and county.wants_m else ""
    reason = f"{record.place.square} is a square of {metres(side)}.{whose}"
    remedy = f"give {'six figures (100 m)' if wanted == SIX_FIGURES_M else metres(wanted)} if the spot is known"
    severity = "doubt" if side > max(COARSE_M, wanted) else "note"
    yield query(record, "place-coarse", severity, reason, remedy)


def metres(side_m: int) -> str:
    """A length as people say it."""
    return f"{side_m // 1000} km" if side_m >= 1000 and side_m % 1000 == 0 else f"{side_m} m"
