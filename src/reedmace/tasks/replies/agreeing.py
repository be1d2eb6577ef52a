"""Answers of one file held against each other: the same twice, different ones of one record, a column sorted alone."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Fault
from reedmace.tasks.replies.answered import Answered, Faulty

_SORTED = 3  # rows that speak of another record than their id's, for a column to have been sorted without the others


def agreeing(answers: list[Answered], faulty: Faulty) -> Iterator[Answered]:
    """Give the answers, once each; rows that say different things of one record come back, all of them."""
    of: dict[str, list[Answered]] = {}
    for one in answers:
        of.setdefault(one.found.sighting.id, []).append(one)
    for subject, alike in of.items():
        by_person = {(one.verifier.casefold(), one.said.date): (one.said, one.offers) for one in alike}
        if all(by_person[one.verifier.casefold(), one.said.date] == (one.said, one.offers) for one in alike):
            seen = dict.fromkeys((one.verifier.casefold(), one.said.date) for one in alike)
            yield from (
                next(one for one in alike if (one.verifier.casefold(), one.said.date) == which) for which in seen
            )
            continue
        for one in alike:
            others = ", ".join(str(other.row.line) for other in alike if other is not one)
            said = f"Of this record line {others} says something else."
            faulty.append((one.row, (Fault("reply-twice", said, "leave one of them", subject),)))


def not_sorted(answers: list[Answered], faulty: Faulty) -> Iterator[Answered]:
    """Give the answers that can be trusted where a column was sorted without the others.

    Where several rows speak of another record than their id's, one that differs from its record in a single word may
    be just as wrong: what differs in a column that was sent is no correction there, and the row comes back.
    """
    lines = [row.line for row, faults in faulty if any(fault.code == "reply-of-another" for fault in faults)]
    for one in answers:
        other = [offer for offer in one.offers if offer.field in one.overwritten]
        if len(lines) < _SORTED or not other:
            yield one
            continue
        said = f"The {other[0].field} is another than the record's, and {len(lines)} rows of this file speak of other"
        said += " records than their ids."
        hint = "look whether one column was sorted without the others"
        faulty.append((one.row, (Fault("reply-of-another", said, hint, other[0].typed),)))
