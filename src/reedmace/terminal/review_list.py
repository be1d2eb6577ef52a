"""One reviewed sighting on the screen."""

from __future__ import annotations

from reedmace.tasks.naming.review_names import Reviewed
from reedmace.terminal.ledger_list import told
from reedmace.terminal.screen import Screen


def show_reviewed(screen: Screen, one: Reviewed) -> None:
    """What was recorded, what the key said then and what it says now."""
    screen.say((f"{one.visit.date or 'no date'}  {told(one.sighting)}", "bold"), hang=2)
    screen.say(f"then: {_verdict(one.then_word, one.then)}", indent=2, hang=2)
    if one.faults:
        screen.say("now: the answers do not read any more:", indent=2, hang=2)
        for fault in one.faults:
            screen.say(f"{fault.said}: {fault.message}" if fault.said else fault.message, indent=4, hang=2)
        return
    screen.say(f"now: {_verdict(one.now_word, one.now)}", indent=2, hang=2)
    if not one.recorded_still_possible:
        screen.say("The name on the record is not among what the answers leave possible now.", indent=2, hang=2)


def _verdict(word: str, name: str) -> str:
    return word if word == name or not name else f"{word}: {name}"
