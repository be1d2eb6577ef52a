"""`reedmace season`: what a year came to, and its covering page."""

from __future__ import annotations

from pathlib import Path

import click

from reedmace.cli.options import json_option, key_option, ledger_option, load
from reedmace.cli.output import say_json

FILE = click.Path(path_type=Path)


@click.command(name="season")
@click.argument("year", type=click.IntRange(1600, 2999))
@click.option("--cover", metavar="FILE", help="Write the covering page for the county recorder: .html or .md")
@click.option("--for", "recipient", metavar="NAME", default="", help="For whom the page is, as it should stand there.")
@click.option("--county", type=FILE, metavar="FILE", help="A county recorder's file; it comes before the key.")
@key_option
@ledger_option
@json_option
def command(
    year: int,
    cover: str | None,
    recipient: str,
    county: Path | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Say what a year came to: totals, and each name with its first and last day.

    With --cover the page that goes with the records: totals, what is worth a second look with its evidence, open and
    answered queries, what changed since that recipient had the records last, and how sensitive places are handled.
    It holds exact places: send it to the county recorder, do not publish it.
    """
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.reports.covering import covering_page
    from reedmace.tasks.cover_season import CoverSaid, cover_season
    from reedmace.tasks.export_changes import submissions_to
    from reedmace.tasks.judging import judging
    from reedmace.tasks.write_page import page_format, write_page
    from reedmace.terminal.plain import literal

    if cover is not None:
        page_format(cover)
    grounds = judging(load(key_name), today(), county)
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        me = ledger.people.me()
        sender = ledger.people.name_of(me) if me else ""
        ids = ledger.people.ids_of(recipient) if recipient.strip() else ()
        before = submissions_to(ledger, ids[0]) if ids else ()
        said = CoverSaid(f"Records of {year}", sender, recipient, str(year), today().isoformat())
        summary = cover_season(ledger, grounds, lambda: ledger.current_sightings(Wanted(year=year)), said, before)
    if cover is not None:
        write_page(cover, covering_page(summary))
        click.echo(f"Covering page written to {literal(cover)}", err=as_json)
    if as_json:
        lists = ("lines", "notable", "firsts", "queries", "answered", "changes")
        say_json(summary._asdict() | {name: [one._asdict() for one in getattr(summary, name)] for name in lists})
    elif cover is None:
        from reedmace.terminal.screen import Screen
        from reedmace.terminal.season_page import show_season

        show_season(Screen(), summary)
