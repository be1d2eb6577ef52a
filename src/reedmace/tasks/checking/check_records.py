"""Check records against the rules, one by one and against those before them."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from typing import NamedTuple

from reedmace.checks.history import History
from reedmace.checks.query import Grounds, Query, Record, record_of
from reedmace.checks.rules import RULES
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit, as_body
from reedmace.tasks.checking.children import NamesOf, with_children

Answers = Mapping[tuple[str, str], str]
"""Sighting id and code → the digest that the record had when the query was answered."""


class Checked(NamedTuple):
    """A record with its queries, and how many more were answered before and still stand answered."""

    record: Record
    queries: tuple[Query, ...]
    answered: int = 0


def _nobody(_: Record) -> tuple[str, ...]:
    return ()


def check(
    grounds: Grounds,
    rows: Iterable[tuple[Sighting, Visit]],
    *,
    answers: Answers | None = None,
    wanted: Callable[[Record], bool] | None = None,
    by_day: bool = True,
    names: NamesOf = _nobody,
) -> Iterator[Checked]:
    """Every record in its order, with the queries it raises.

    `wanted` chooses the records to tell of; the others are only remembered, as what went before. `by_day` says that
    rows come in order of their days, as a ledger gives them: then memory does not grow with their number.
    `names` gives those who saw a record.
    """
    history = History(grounds, by_day=by_day)
    for sighting, visit in rows:
        record = record_of(grounds, sighting, visit)
        before = history.look(record)
        if wanted and not wanted(record):
            continue
        queries = [query for rule in RULES for query in rule(grounds, record)]
        queries = with_children(grounds, record, [*queries, *before], names)
        if not (answers and queries):
            yield Checked(record, tuple(queries))
            continue
        left = _unanswered(record, queries, answers)
        yield Checked(record, left, len(queries) - len(left))


def check_ledger(
    grounds: Grounds,
    ledger: Ledger,
    season: int | None = None,
    *,
    until: str | None = None,
    wanted: Callable[[Record], bool] | None = None,
) -> Iterator[Checked]:
    """The ledger's records, those of one season if it is given; earlier ones count as what went before.

    `until` is the last day that is looked at, `wanted` chooses among the records. Queries that were answered stay
    out while the record is as it was.
    """
    grounds = grounds._replace(sites={site.id: site for site in ledger.sites()}, memo={})
    answers = {(one.sighting, one.code): one.digest for one in ledger.answered_queries()}
    until = f"{season}-12-31" if season else until
    rows = ((sighting, visit) for sighting, visit, _ in ledger.current_sightings(Wanted(until=until)))
    if season:
        wanted = _of_year(f"{season:04}")
    return check(grounds, rows, answers=answers, wanted=wanted, names=names_in(ledger))


def names_in(ledger: Ledger) -> NamesOf:
    """Give those who saw a record by the names of the register, which is read once, and only if that is asked."""

    @cache
    def register() -> dict[str, str]:
        return {one.id: one.name for one in ledger.people.all() if not one.forgotten}

    def names(record: Record) -> list[str]:
        observers = record.sighting.observers or record.visit.observers
        return [register()[one] for one in observers if one in register()]

    return names


def _of_year(year: str) -> Callable[[Record], bool]:
    """Give a test whether all that a record's date may mean lies in one year."""

    def lies(record: Record) -> bool:
        days = record.days
        return days is not None and days.first[:4] == days.last[:4] == year

    return lies


def digest_of(sighting: Sighting, visit: Visit) -> str:
    """What a record says, as a digest: the same in every copy of the ledger, another one once it is changed."""
    whole = json.dumps([as_body(sighting), as_body(visit)], sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(whole.encode("utf-8", "surrogatepass")).hexdigest()


def _unanswered(record: Record, queries: list[Query], answers: Answers) -> tuple[Query, ...]:
    given = {query.code: answers.get((query.sighting, query.code)) for query in queries}
    if not any(given.values()):
        return tuple(queries)
    now = digest_of(record.sighting, record.visit)
    return tuple(query for query in queries if given[query.code] != now)
