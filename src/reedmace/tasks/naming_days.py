"""The day of the naming: whoever logs types none, so it is the visit's day, and goes along when that is corrected."""

from __future__ import annotations

from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit


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


def _typed(ledger: Ledger, sighting: Sighting) -> bool:
    """Whether it was ever a day that was not the visit's."""
    days = {record.determined_on for _, record in ledger.history(sighting.id) if isinstance(record, Sighting)}
    visits = {record.date for _, record in ledger.history(sighting.visit_id) if isinstance(record, Visit)}
    return not days <= visits
