"""`reedmace season`: what a year came to, its page for anybody, and its covering page for the county recorder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import Year, county_option, json_option, key_option, ledger_option, load
from reedmace.cli.output import say_json

if TYPE_CHECKING:
    from reedmace.reports.covering import Cover
    from reedmace.reports.season import Season
    from reedmace.reports.strips import Strip


@click.command(name="season")
@click.argument("year", type=Year())
@click.option("--html", metavar="FILE", help="Write the season's page, for anybody to see: .html, or .md for Markdown.")
@click.option("--exact-places", is_flag=True, help="On that page name sensitive places too; then do not publish it.")
@click.option("--cover", metavar="FILE", help="Write the covering page for the county recorder: .html or .md")
@click.option("--for", "recipient", metavar="NAME", default="", help="For whom the covering page is, as it is to say.")
@county_option
@click.option("--force", is_flag=True, help="Replace a file if it is there.")
@key_option
@ledger_option
@json_option
def command(
    year: int,
    html: str | None,
    exact_places: bool,
    cover: str | None,
    recipient: str,
    county: Path | None,
    force: bool,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Say what a year came to: totals, each name with its first and last day, and a flight chart.

    With --html a page to show to others: totals, names, places and the chart, in one file. Nobody is named on it.
    Sensitive places are not named either, squares are no finer than 1 km, and what nobody else may see is left out.

    With --cover the page that goes with the records: totals, what is worth a second look with its evidence, open and
    answered queries, what changed since that recipient had the records last, and how sensitive places are handled.
    It holds exact places: send it to the county recorder, do not publish it.

    \b
      reedmace season 2026
      reedmace season 2026 --html season.html
      reedmace season 2026 --cover cover.html --for "Tarn Fenwick"
    """
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.reports.covering import covering_page
    from reedmace.reports.season import season_page
    from reedmace.tasks.checking.judging import judging
    from reedmace.tasks.export.changes import submissions_to
    from reedmace.tasks.export.cover_season import CoverSaid, cover_season
    from reedmace.tasks.export.tell_season import chart, tell_season
    from reedmace.tasks.records.tell_visit import years_recorded
    from reedmace.tasks.shared.write_page import page_room, write_page
    from reedmace.terminal.plain import literal

    for name in (html, cover):
        if name is not None:
            page_room(name, force)
    grounds = judging(load(key_name), today(), county)
    season = None
    strips: tuple[Strip, ...] = ()
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        me = ledger.people.me()
        sender = ledger.people.name_of(me) if me else ""
        ids = ledger.people.ids_of(recipient) if recipient.strip() else ()
        before = submissions_to(ledger, ids[0]) if ids else ()
        said = CoverSaid(f"Records of {year}", sender, recipient, str(year), today().isoformat())
        summary = cover_season(ledger, grounds, lambda: ledger.current_sightings(Wanted(year=year)), said, before)
        if as_json or (html is None and cover is None):
            strips = chart(grounds, ledger.current_sightings(Wanted(year=year)), ledger.verifications())
        waiting = sum(meta.diverged for _, _, meta in ledger.current_sightings(Wanted(year=year, status="diverged")))
        nothing = sum(visit.none_seen for visit, _ in ledger.current_visits(year))
        if html is not None or as_json:
            season = tell_season(ledger, grounds, year, today(), exact_places)
        if not summary.records:
            years = ", ".join(years_recorded(ledger))
            click.echo(f"There are records of: {years}." if years else "Nothing was logged yet.", err=True)
    if html is not None and season is not None:
        write_page(html, season_page(season), force)
        click.echo(f"Page of the season written to {literal(html)}", err=as_json)
    if cover is not None:
        write_page(cover, covering_page(summary), force)
        click.echo(f"Covering page written to {literal(cover)}", err=as_json)
    if as_json:
        assert season is not None
        say_json(_values(summary, strips, season) | {"visits_none_seen": nothing, "two_versions": waiting})
    elif cover is None and html is None:
        from reedmace.terminal.screen import Screen
        from reedmace.terminal.season_page import show_season

        show_season(Screen(), summary, strips, none_seen=nothing, two_versions=waiting)


def _values(summary: Cover, strips: tuple[Strip, ...], season: Season) -> dict[str, Any]:
    """What a year came to, its chart, and under `page` what the page for anybody says."""
    lists = ("lines", "notable", "firsts", "queries", "answered", "changes")
    page = season._asdict() | {name: [one._asdict() for one in getattr(season, name)] for name in ("lines", "places")}
    return (
        summary._asdict()
        | {name: [one._asdict() for one in getattr(summary, name)] for name in lists}
        | {"chart": [_charted(strip) for strip in strips]}
        | {"page": page | {"chart": [_charted(strip) for strip in season.chart]}}
    )


def _charted(strip: Strip) -> dict[str, Any]:
    """One name of the chart: thirds of months by name, and the records in each that has any."""
    from reedmace.keys.seasons import show_third

    def thirds(ends: tuple[int, int] | None) -> list[str] | None:
        return None if ends is None else [show_third(third).lower() for third in ends]

    def records(numbers: tuple[int, ...]) -> dict[str, int]:
        return {show_third(third).lower(): number for third, number in enumerate(numbers) if number}

    return strip._asdict() | {
        "flies": thirds(strip.flies),
        "peak": thirds(strip.peak),
        "adults": records(strip.adults),
        "skins": records(strip.skins),
    }
