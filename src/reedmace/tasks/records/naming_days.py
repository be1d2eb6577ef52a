"""The day of the naming: whoever logs types none, so it is the visit's day, and goes along when that is corrected."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit, from_body


def moved_along(ledger: Ledger, was: Visit, now: Visit) -> list[tuple[Sighting, str]]:
    """Give the sightings of a visit whose date is corrected as they then stand, each with the entry it follows.

    Those whose day of the naming was typed keep it.
    """
    if was.date == now.date or was.date is None:
        return []
    moved = []
    for sighting, _, meta in ledger.current_sightings(Wanted(visit_id=was.id)):
        if sighting.determined_on == was.date and not meta.diverged and not _typed(ledger, sighting):
            moved.append((sighting._replace(determined_on=now.date), meta.entry_id))
    return moved


class Choosing(NamedTuple):
    """Who chose between versions of a visit, why and when; and new ids."""

    reason: str
    person: str
    written_at: str
    new_id: Callable[[], str]


def follow_choice(ledger: Ledger, visit_id: str, versions: Sequence[Mapping[str, Any]], by: Choosing) -> int:
    """Let the day of the naming follow the date of the version that was chosen; gives in how many sightings it did.

    `versions` are the bodies that there were to choose between. Of what is no visit nothing follows.
    """
    standing = ledger.standing(visit_id)
    if standing is None or not isinstance(standing[0], Visit):
        return 0
    chosen = standing[0]
    entries = _settled_along(ledger, chosen)
    for entry in entries:
        ledger.settle(entry, by.reason, by.person, by.written_at, by.new_id)
    moved = [pair for body in versions for pair in moved_along(ledger, from_body(Visit, body), chosen)]
    if moved:
        ledger.amend_all(moved, by.reason, by.person, by.written_at, by.new_id)
    return len(entries) + len(moved)


def _settled_along(ledger: Ledger, visit: Visit) -> list[str]:
    """Give the entries that are to stand with a version of a visit that was chosen.

    Of its sightings that diverged in nothing but the day of the naming, those that say the visit's date.
    """
    keep = []
    for subject, heads in ledger.diverged():
        if heads[0].kind != "sighting" or any(one.act == "withdrawn" for one in heads):
            continue
        said = {rival.meta.entry_id: from_body(Sighting, rival.body) for rival in ledger.rivals(subject, "sighting")}
        first, *others = said.values()
        if first.visit_id != visit.id or any(
            one._replace(determined_on=first.determined_on) != first for one in others
        ):
            continue
        keep += [entry for entry, one in said.items() if one.determined_on == visit.date][:1]
    return keep


def _typed(ledger: Ledger, sighting: Sighting) -> bool:
    """Whether it was ever a day that was not the visit's."""
    days = {record.determined_on for _, record in ledger.history(sighting.id) if isinstance(record, Sighting)}
    visits = {record.date for _, record in ledger.history(sighting.visit_id) if isinstance(record, Visit)}
    return not days <= visits
