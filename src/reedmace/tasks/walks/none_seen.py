"""A visit that says none were seen, beside one of the same day, place and people that says otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Visit
from reedmace.records.visit import apart_in_time
from reedmace.tasks.shorthand.page_said import PageVisit
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.walks.already_logged import visits_like
from reedmace.tasks.walks.log_walk import visit_of


def said_otherwise(
    ledger: Ledger, key: Key, page: PageVisit, said: VisitSaid, person: str, joins: Visit | None
) -> Fault | None:
    """What is wrong with lines where a visit that stands says none were seen, and with "none seen" beside sightings.

    `person` is whoever writes, `joins` the visit that the lines become a part of. Visits whose times exclude each
    other do not contradict each other.
    """
    if not (page.lines or said.none_seen):
        return None
    others: Iterator[Visit]
    if joins is not None:
        others = iter((joins,))
    else:
        wanted = visit_of(key, said, person, lambda name: ledger.people.find(name) or f"nobody called {name}")
        others = (one for one in visits_like(ledger, wanted) if not apart_in_time(wanted, one))
    for visit in others:
        if page.lines and visit.none_seen:
            return _told(visit, "says that none were seen", "none-seen=no")
        if said.none_seen and any(True for _ in ledger.current_sightings(Wanted(visit_id=visit.id))):
            return _told(visit, "has sightings", "")
    return None


def _told(visit: Visit, what: str, change: str) -> Fault:
    times = "-".join(filter(None, (visit.start, visit.end)))
    when = " ".join(filter(None, (visit.date, times)))
    where = visit.place.locality or visit.place.square or visit.place.typed
    another = "if it was another one, say the times of both"
    if change:
        amend = f'reedmace ledger amend {visit.id[-12:]} {change} --reason "..."'
        hint = f"if it is that one, correct it first:  {amend}  ; {another}"
    else:
        hint = f"see it with  reedmace visit show {visit.id[-12:]}  ; {another}"
    return Fault("none-seen-but-seen", f"The visit of {when} at {where} {what}.", hint, typed=True)
