"""The story of one record on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.tasks.records.tell_history import Step
from reedmace.terminal.screen import Screen

_SHOWN = 12  # signs of an id


def show_history(screen: Screen, subject: str, steps: Sequence[Step]) -> None:
    """Entry after entry: when, who, what, and why."""
    screen.say(f"{steps[0].of} {subject}")
    for step in steps:
        what = step.act.replace(" it", " its visit") if (step.of, steps[0].of) == ("visit", "sighting") else step.act
        screen.say(
            (step.meta.written_at, "dim"),
            f"  {step.who} {what}",
            (f" ({step.meta.reason})" if step.meta.reason else ""),
        )
        if step.said:
            screen.say(f"{step.said}", indent=4, hang=2)
        for change in step.changes:
            was = f"{change.was} → " if change.was else ""
            screen.say(f"{change.field}: {was}{change.now}", indent=4, hang=2)
    heads = [step for step in steps if step.head and step.of == steps[0].of]
    if len(heads) > 1:
        screen.say(
            ("Diverged", "bold yellow"),
            f": {len(heads)} entries stand side by side, from two copies of the ledger; compare them and choose one:",
        )
        screen.say(f"reedmace ledger settle {subject[-_SHOWN:]}", indent=2)
    elif heads and heads[0].meta.act == "withdrawn":
        screen.say("It does not stand any more; the entries stay.")
