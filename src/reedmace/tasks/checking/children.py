"""Names that may be children's in the words of records that are there already: a doubt each, with its remedy."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from reedmace.checks.query import Grounds, Query, Record, first_of_visit, query
from reedmace.faults import Fault
from reedmace.tasks.shorthand.children_kept import children_of_sighting, children_of_visit, name_told

CODE = "child-named"
_IN_FILE = 'write initials or "a child" in place of the name, or count the children'

NamesOf = Callable[[Record], Iterable[str]]
"""Those who saw a record, by name."""


def with_children(grounds: Grounds, record: Record, queries: list[Query], names: NamesOf | None = None) -> list[Query]:
    """Give the queries of a record with one for each name, in place of the note that its words speak of a child.

    `names` gives those who saw a record of the ledger; without it the record is a row of a file.
    """
    found = children_of_sighting(record.sighting, record.visit, lambda: grounds.key, lambda: _names(record, names))
    of_visit = children_of_visit(record.visit, lambda: grounds.key, lambda: _names(record, names))
    if of_visit and first_of_visit(grounds, record, CODE):
        found = list({name_told(fault): fault for fault in (*found, *of_visit)}.values())
    if not found:
        return queries
    return [*(one for one in queries if one.code != CODE), *(_asked(record, one, names is None) for one in found)]


def _names(record: Record, names: NamesOf | None) -> Iterable[str]:
    # Of a row the party is all that its cell of people says.
    return names(record) if names else record.visit.party.split("|")


def _asked(record: Record, fault: Fault, in_file: bool) -> Query:
    name = name_told(fault)
    remedy = f'take it out of every word of the ledger:  reedmace ledger forget "{name}" --redact'
    reason = fault.message.replace(", for the line says", ", for the record says")
    return query(record, CODE, "doubt", reason, _IN_FILE if in_file else remedy)
