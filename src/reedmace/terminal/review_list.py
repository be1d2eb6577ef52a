"""One reviewed sighting on the screen."""

from __future__ import annotations

from reedmace.tasks.review_names import Reviewed
from reedmace.terminal.ledger_list import told
from reedmace.terminal.plain import literal


def review_lines(one: Reviewed) -> list[str]:
    """What was recorded, what the key said then and what it says now, as lines of plain text."""
    lines = [f"{one.visit.date or 'no date'}  {told(one.sighting)}"]
    lines.append(f"  then: {_verdict(one.then_word, one.then)}")
    if one.faults:
        lines.append("  now:  the answers do not read any more:")
        lines += [f"    {literal(fault.said or '')}: {literal(fault.message)}" for fault in one.faults]
        return lines
    lines.append(f"  now:  {_verdict(one.now_word, one.now)}")
    if not one.recorded_still_possible:
        lines.append("  The name on the record is not among what the answers leave possible now.")
    return lines


def _verdict(word: str, name: str) -> str:
    return word if word == name or not name else f"{word}: {literal(name)}"
