"""`reedmace check`: what is doubtful about the records."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, ledger_option, load
from reedmace.cli.output import say_json


@click.command(name="check")
@click.option("--season", type=click.IntRange(1600, 2999), metavar="YEAR", help="One year's records only.")
@click.option("--strict", is_flag=True, help="Exit with 1 when there is any query above a note.")
@key_option
@ledger_option
@json_option
def command(season: int | None, strict: bool, key_name: str | None, ledger_name: str | None, as_json: bool) -> None:
    """Show what is doubtful about the records, why, and what to do about it. Nothing is blocked."""
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.tasks.check_records import check

    key = load(key_name)
    doubts = 0
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        rows = ((sighting, visit) for sighting, visit, _ in ledger.current_sightings(Wanted(year=season)))
        checked = check(key, rows)
        if as_json:
            for one in checked:
                for query in one.queries:
                    doubts += query.severity != "note"
                    say_json(query._asdict())
        else:
            from reedmace.terminal.query_list import show_checked
            from reedmace.terminal.screen import Screen

            doubts = show_checked(Screen(), checked)
    if strict and doubts:
        raise SystemExit(1)
