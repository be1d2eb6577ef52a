"""What is likely here and now, as a table."""

from __future__ import annotations

from reedmace.keys.model import Key
from reedmace.keys.seasons import PERIODS
from reedmace.tasks.naming.expect_here import Expected
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import percent

UPPERMOST = 10  # if none of so many flies, a stray that does is not what is looked for
STRAYS = ("vagrant", "absent")


def show_expected(screen: Screen, key: Key, expected: list[Expected], most: int | None) -> None:
    """Likeliest first; at most so many, and a line on the rest."""
    shown = expected[:most] if most else expected
    rows: list[list[str | tuple[str, str]]] = []
    for place, one in enumerate(shown, 1):
        species = key.species[one.species]
        scientific = [(species.name, "italic")] if screen.width >= 90 else []
        season = [one.season] if any(other.season for other in expected) else []
        rows.append([f"{place}", species.english, *scientific, one.level, *season, percent(one.probability)])
    heads = [("", "right"), ("species", "left")]
    heads += [("", "left")] if screen.width >= 90 else []
    heads += [("here", "left")]
    heads += [("season", "left")] if any(one.season for one in expected) else []
    period = PERIODS[key.stage]
    if shown and all(one.season == period.over or one.level in STRAYS for one in shown[:UPPERMOST]):
        screen.say(f"Hardly anything {period.hardly} then: what comes first is only the least unlikely.", indent=2)
    screen.table([*heads, ("chance", "right")], rows)
    rest = expected[len(shown) :]
    if rest:
        screen.say(
            f"{len(rest)} more species share {percent(sum(one.probability for one in rest))}; none is impossible.",
            indent=2,
        )
    screen.say("This is what is likely before it is looked at: it says nothing of what it is.", indent=2)
