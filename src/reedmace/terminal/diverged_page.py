"""What two copies of a ledger said differently, on the screen: each entry with what it says, and how to choose."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.tasks.records.tell_diverged import Diverged, short
from reedmace.terminal.screen import Screen

_SHOWN = 12  # signs of an id


def show_diverged(screen: Screen, waiting: Sequence[Diverged]) -> None:
    """One subject after another, its entries below each other, only where they differ."""
    for number, one in enumerate(waiting):
        if number:
            screen.blank()
        screen.say((f"{one.kind}: {one.title}", "bold"), f"  [{one.subject[-_SHOWN:]}]", hang=2)
        for choice in one.choices:
            now = " (stands until you choose)" if choice.stands else ""
            why = f": {choice.reason}" if choice.reason else ""
            done = {"withdrawn": "taken back", "redetermined": "named anew"}.get(choice.act, choice.act)
            screen.say((f"entry {short(one, choice)}", "bold"), now, indent=2, hang=2)
            screen.say(f"{done} by {choice.who} at {choice.written_at}{why}", indent=4, hang=2)
            for name, value in choice.says:
                screen.say(f"{name}: {value}", indent=4, hang=2)
            if not choice.says and choice.act != "withdrawn":
                screen.say("as it was before the other took it back", indent=4, hang=2)
        screen.say("Choose with:", indent=2)
        for choice in one.choices:
            command = f"reedmace ledger settle {one.subject[-_SHOWN:]} --keep {short(one, choice)}"
            screen.say(command, indent=4)
