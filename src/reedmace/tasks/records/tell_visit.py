"""Visits as they stand, with their sightings; and finding one by the end of its id."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from reedmace.faults import Fault, Refused
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit
from reedmace.tasks.walks.under_way import under_way


def counted_visits(ledger: Ledger, year: int | None) -> list[tuple[Visit, int]]:
    """Every visit (of one year), oldest first, with the number of sightings that stand in it."""
    numbers = ledger.numbers_of_visits()
    return [(visit, numbers.get(visit.id, 0)) for visit, _ in ledger.current_visits(year)]


def years_recorded(ledger: Ledger) -> list[str]:
    """The years of which sightings stand, oldest first; a visit without a year is of none."""
    return sorted({visit.date[:4] for visit, number in counted_visits(ledger, None) if number and visit.date})


def sightings_of_visit(ledger: Ledger, visit: Visit) -> list[tuple[Sighting, Visit, EntryMeta]]:
    """The sightings that stand in a visit, in the order in which they were written."""
    rows = ledger.current_sightings(Wanted(visit_id=visit.id))
    return sorted(rows, key=lambda row: (row[0].line_id, row[0].id))


def emptied(ledger: Ledger, subjects: Iterable[str]) -> list[Visit]:
    """The visits of sightings that were taken back, as far as they stand, hold nothing any more and are not under way.

    One that says none were seen is not among them.
    """
    going_on = under_way(ledger)
    taken = [standing[0] for subject in subjects if (standing := ledger.standing(subject)) is not None]
    found = []
    for visit_id in dict.fromkeys(one.visit_id for one in taken if isinstance(one, Sighting)):
        standing = ledger.standing(visit_id)
        if standing is None or not isinstance(standing[0], Visit) or standing[1].act == "withdrawn":
            continue
        left = any(True for _ in ledger.current_sightings(Wanted(visit_id=visit_id)))
        if not left and not standing[0].none_seen and (going_on is None or going_on.id != visit_id):
            found.append(standing[0])
    return found


def find_visit(ledger: Ledger, ending: str) -> Visit:
    """The visit with this id or end of an id; of none, the one under way, else the last one."""
    if not ending:
        last = deque(ledger.current_visits(), maxlen=1)
        visit = under_way(ledger) or (last[0][0] if last else None)
        if visit is None:
            raise Refused(
                Fault("no-visit", "There is no visit in this ledger yet.", "log one:  reedmace log", typed=True)
            )
        return visit
    found = find_subject(ledger, ending)
    standing = ledger.standing(found)
    if standing is not None and isinstance(standing[0], Sighting):
        standing = ledger.standing(standing[0].visit_id)
    assert standing is not None
    assert isinstance(standing[0], Visit)
    return standing[0]


def find_subject(ledger: Ledger, ending: str) -> str:
    """The id of the one visit or sighting that has this id or end of an id; raises `Refused` for none or several."""
    found = ledger.subjects_ending(ending)
    if len(found) == 1:
        return found[0]
    if not found:
        hint = "see the ids with  reedmace ledger list  or  reedmace visit list"
        raise Refused(Fault("not-recorded", "There is nothing with this id.", hint, ending, typed=True))
    shown = ", ".join(f"…{one[-12:]}" for one in found[:4])
    message = f"{len(found)} ids end like this."
    raise Refused(Fault("id-ambiguous", message, f"write more of one of them: {shown}", ending, typed=True))
