"""`reedmace ledger review`."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, ledger_option, load, season_option
from reedmace.cli.output import say_json


@click.command(name="review", short_help="Past names against the key of today: what would come out otherwise.")
@season_option("Sightings")
@click.option("--all", "everything", is_flag=True, help="Also what comes out as it did.")
@key_option
@ledger_option
@json_option
def command(season: int | None, everything: bool, key_name: str | None, ledger_name: str | None, as_json: bool) -> None:
    """Run past answers again through the key of today, and list what would be named otherwise.

    Keys grow: a mark is added, a species arrives, a frequency is corrected. Only sightings that were named with
    this key are looked at. Nothing is changed: whether a record should carry another name is for you to say.
    """
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.scoring.tables import Tables
    from reedmace.tasks.naming.review_names import review
    from reedmace.terminal.review_list import show_reviewed
    from reedmace.terminal.screen import Screen

    key = load(key_name)
    tables = {eye: Tables(key, eye) for eye in ("beginner", "practised")}
    screen = Screen()
    looked = listed = 0
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        for one in review(ledger, tables, Wanted(year=season), today()):
            looked += 1
            if not (one.differs or everything):
                continue
            listed += 1
            if as_json:
                say_json(
                    {
                        "id": one.sighting.id,
                        "name": one.sighting.taxon.scientific_name,
                        "then": {"word": one.then_word, "name": one.then},
                        "now": {"word": one.now_word, "name": one.now},
                        "differs": one.differs,
                        "recorded_still_possible": one.recorded_still_possible,
                        "faults": [fault.code for fault in one.faults],
                    }
                )
            else:
                show_reviewed(screen, one)
    if not as_json:
        click.echo(f"{looked} named with this key looked at; {listed} listed. Nothing was changed.")
