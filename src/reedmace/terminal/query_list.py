"""Queries on the screen, record by record, and what a code means."""

from __future__ import annotations

from collections.abc import Iterable

from reedmace.checks.catalogue import Entry
from reedmace.tasks.checking.check_records import Checked
from reedmace.terminal.ledger_list import seen
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural

STYLES = {"error": "bold red", "doubt": "yellow", "note": "dim"}


def show_checked(screen: Screen, checked: Iterable[Checked], *, ids: bool = False) -> int:
    """Show every record that raised a query, then the count. Returns how many queries are more than notes.

    The record without an id stands for a file as a whole. With `ids` the ends of the ids are shown, for answering.
    """
    records = queried = doubts = answered = 0
    for one in checked:
        whole = not one.record.sighting.id
        records += not whole
        answered += one.answered
        if not one.queries:
            continue
        queried += not whole
        sighting, visit, place = one.record.sighting, one.record.visit, one.record.place
        if whole:
            screen.say(("The file", "bold"))
        else:
            screen.say(
                (one.record.name or "no name", "bold"),
                f", {seen(sighting)}, {visit.date or 'no date'}, {place.square or place.typed or 'no place'}",
                (f"  {sighting.id[-12:]}" if ids else "", "dim"),
            )
        for query in one.queries:
            doubts += query.severity != "note"
            screen.say((query.severity, STYLES[query.severity]), f" {query.code}: {query.reason}", indent=2, hang=2)
            screen.say(f"→ {query.remedy}", indent=4, hang=2)
    if records == 0:
        screen.say("No records.")
    else:
        told = f"{queried} with queries." if queried else "no queries."
        before = f" {plural(answered, 'query', 'queries')} answered before." if answered else ""
        screen.say(f"{plural(records, 'record')} checked; {told}{before}")
    return doubts


def show_code(screen: Screen, code: str, entry: Entry) -> None:
    """What a code asks, why, and what to do about it."""
    screen.say((code, "bold"), f"  ({entry.severities})")
    screen.say(entry.asks, indent=2)
    screen.say(entry.why, indent=2)
    screen.say(f"→ {entry.remedy}", indent=2, hang=2)
