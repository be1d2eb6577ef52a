"""Breeding status on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.reports.breeding import LeftOut, RuleSet, Seen, Status
from reedmace.terminal.ledger_list import seen as seen_words
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import plural

_STYLES = {"confirmed": "bold green", "probable": "green", "possible": "yellow", "adult present": ""}


def show_breeding(screen: Screen, rules: RuleSet, found: Sequence[Status], left_out: Sequence[LeftOut] = ()) -> None:
    """Site by site: each species with its status, the rule that fired, and the record behind it; what was left out."""
    site = None
    for status in sorted(found, key=lambda one: (one.site, one.vernacular or one.taxon)):
        if status.site != site:
            site = status.site
            screen.say((site or "place unknown", "bold"))
        years = (
            f"{status.first_year}"
            if status.first_year == status.last_year
            else f"{status.first_year}–{status.last_year}"
        )
        screen.say(
            (status.status, _STYLES[status.status]), f"  {status.vernacular or status.taxon}, {years}", indent=2, hang=4
        )
        left = f"; {plural(status.uncertain, 'uncertain name')} left out" if status.uncertain else ""
        screen.say(f"{status.rule}: {_evidence(status.evidence)}{left}", indent=4, hang=2)
    if not found:
        screen.say("No records of species that say anything about breeding.")
    _left_out(screen, left_out)
    screen.blank()
    screen.say(f"Rules: {rules.title} ({rules.id} {rules.version}).")
    screen.say(
        "They take it that everything was seen at or beside suitable water. Be careful with ponds under a year old, "
        "or planted with bought weed; adults alone prove no breeding."
    )


def _left_out(screen: Screen, left_out: Sequence[LeftOut]) -> None:
    if left_out:
        screen.say(("Left out:", "bold"))
    for left in sorted(left_out, key=lambda one: (one.site, one.vernacular or one.taxon, one.reason)):
        name = left.vernacular or left.taxon
        where = left.site or "place unknown"
        screen.say(f"{name}, {where}: {plural(left.records, 'record')}, {left.reason}", indent=2, hang=2)


def _evidence(evidence: Sequence[Seen]) -> str:
    last = evidence[-1]
    # A vague date as it was typed: "1980s".
    when = f"on {last.visit.date}" if last.days.day else f"({last.visit.date_typed or last.visit.date})"
    first = f"{seen_words(last.sighting)} {when}"
    more = len(evidence) - 1
    return f"{first}, and {plural(more, 'record')} before" if more else first
