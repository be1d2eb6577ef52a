"""A flight period as one line of twelve months, a sign for each third: peak, on the wing, and nothing."""

from __future__ import annotations

from reedmace.keys.seasons import show_third
from reedmace.reports.strips import INITIALS, Strip, signs
from reedmace.terminal.screen import Screen


def show_flight(screen: Screen, flight: tuple[int, int, int, int], indent: int = 2) -> None:
    """The months, the chart below them, and the period in words."""
    first, peak_from, peak_to, last = flight
    screen.say("  ".join(INITIALS), indent=indent)
    screen.say(signs(Strip("", "", (first, last), (peak_from, peak_to))), indent=indent)
    peak = f"{show_third(peak_from)} to {show_third(peak_to)}" if peak_from != peak_to else show_third(peak_from)
    screen.say(f"{show_third(first)} to {show_third(last)} (-), most of them {peak} (=)", indent=indent)
