"""What was wrong in a file: each kind of fault once, with why and what to do."""

from __future__ import annotations

from collections.abc import Mapping

from reedmace.tasks.sheets.faults_file import FaultKind
from reedmace.terminal.screen import Screen


def show_faulty_rows(screen: Screen, rows: int, kinds: Mapping[str, FaultKind]) -> None:
    """Say how many rows were faulty, and every kind of fault, the most frequent first, as its first row had it."""
    screen.say(f"Faulty rows: {rows:,}")
    for code, kind in sorted(kinds.items(), key=lambda one: (-one[1].rows, one[0])):
        screen.say(f"{kind.rows:,} {code}: {kind.why}", indent=2, hang=2)
        screen.say(f"→ {kind.hint}", indent=4, hang=2)
