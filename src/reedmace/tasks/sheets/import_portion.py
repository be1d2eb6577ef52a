"""What is asked of the rows of one portion before it is written: how old its visits are, who else is met, what fits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from reedmace.faults import Refused
from reedmace.ledger.entries import Stamp
from reedmace.records import Sighting, Visit, as_body
from reedmace.tasks.sheets.made import Made
from reedmace.tasks.sheets.rows import Row


def earliest(waiting: Iterable[tuple[Row, Made]]) -> dict[str, str]:
    """Give for each visit that waits when the first of its records last changed: no sighting seems older."""
    found: dict[str, str] = {}
    for _, made in waiting:
        assert made.visit is not None
        before = found.setdefault(made.visit.id, made.modified)
        found[made.visit.id] = min(before, made.modified)
    return found


def others(waiting: Iterable[tuple[Row, Made]]) -> Iterator[str]:
    """Give those who named what waits before, or verified it."""
    for _, made in waiting:
        yield from (one.sighting.determiner for one in made.earlier if one.sighting.determiner)
        if made.verified is not None:
            yield made.verified.verifier


def would_refuse(records: Sequence[tuple[Visit | Sighting, Stamp]]) -> dict[int, Refused]:
    """Say what writing would refuse, by the places of these."""
    refused = {}
    for place, (record, _) in enumerate(records):
        try:
            as_body(record)
        except Refused as problem:
            refused[place] = problem
    return refused
