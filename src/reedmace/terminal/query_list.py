"""Queries on the screen, record by record."""

from __future__ import annotations

from collections.abc import Iterable

from reedmace.tasks.check_records import Checked
from reedmace.terminal.ledger_list import seen
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural

STYLES = {"error": "bold red", "doubt": "yellow", "note": "dim"}


def show_checked(screen: Screen, checked: Iterable[Checked]) -> int:
    """Show every record that raised a query, then the count. Returns how many queries are more than notes."""
    records = queried = doubts = 0
    for one in checked:
        records += 1
        if not one.queries:
            continue
        queried += 1
        sighting, visit = one.record.sighting, one.record.visit
        place = sighting.place or visit.place
        screen.say(
            (one.record.name, "bold"),
            f", {seen(sighting)}, {visit.date or 'no date'}, {place.square or place.typed or 'no place'}",
        )
        for query in one.queries:
            doubts += query.severity != "note"
            screen.say((query.severity, STYLES[query.severity]), f" {query.code}: {query.reason}", indent=2, hang=2)
            screen.say(f"→ {query.remedy}", indent=4, hang=2)
    if records == 0:
        screen.say("No records.")
    elif queried == 0:
        screen.say(f"{plural(records, 'record')} checked; no queries.")
    else:
        screen.say(f"{plural(records, 'record')} checked; {queried} with queries.")
    return doubts
