"""A year on the screen: totals, and each name with its first and last day."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.reports.covering import Cover
from reedmace.reports.strips import Strip
from reedmace.terminal.screen import Screen
from reedmace.terminal.season_chart import show_chart
from reedmace.terminal.words import plural


def show_season(
    screen: Screen, cover: Cover, chart: Sequence[Strip] = (), *, none_seen: int = 0, two_versions: int = 0
) -> None:
    """Totals, the table of names, the flight chart, and what is worth a second look.

    `none_seen` are visits of which nothing was seen, beside those counted; `two_versions` the records that wait for
    a choice between two.
    """
    doubt = f", {cover.in_doubt} more in doubt" if cover.in_doubt else ""
    doubt += f", {cover.rejected} more answered incorrect" if cover.rejected else ""
    totals = [plural(cover.records, "record"), f"{cover.species} species{doubt}", plural(cover.visits, "visit")]
    totals += [plural(cover.days, "day"), plural(cover.sites, "site"), plural(cover.observers, "observer")]
    nothing = f" On {plural(none_seen, 'more visit', 'more visits')} none were seen." if none_seen else ""
    screen.say((cover.period, "bold"), f": {', '.join(totals)}.{nothing}", hang=2)
    if two_versions:
        which = plural(two_versions, "record has", "records have")
        screen.say(f"{which} two versions; choose with  reedmace ledger settle")
    if not cover.lines:
        return
    heads = [("name", "left"), ("records", "right"), ("most", "right"), ("first", "left"), ("last", "left")]
    rows = [
        (line.shown, f"{line.records:,}", f"{line.most:,}" if line.most else "", line.first, line.last)
        for line in cover.lines
    ]
    screen.table(heads, rows)
    show_chart(screen, chart)
    notable = len(cover.notable)
    if notable:
        which = plural(notable, "record is", "records are")
        screen.say(
            f"{which} worth a second look; {plural(len(cover.queries) + cover.left, 'open query', 'open queries')}."
        )
        screen.say(f"For the county recorder:  reedmace season {cover.period} --cover FILE.html")
