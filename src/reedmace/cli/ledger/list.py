"""`reedmace ledger list`."""

from __future__ import annotations

import sys
from itertools import islice

import click

from reedmace.cli.options import (
    json_option,
    key_option,
    ledger_option,
    load,
    place_option,
    season_option,
    species_option,
)
from reedmace.cli.output import say_json

STAGES = ["larva", "exuvia", "emerging", "teneral", "immature", "adult"]
STATUSES = [
    *("withdrawn", "amended", "diverged"),
    *("verified", "plausible", "unconfirmed", "incorrect", "not-reviewed"),
]
SCREENFUL = 200  # rows shown at a terminal before it says that there are more


@click.command(name="list")
@season_option("Sightings")
@click.option("--since", metavar="DATE", help="From this day, month or year on.")
@click.option("--until", metavar="DATE", help="Up to this day, month or year.")
@place_option
@species_option
@click.option("--person", metavar="NAME", help="Only what was seen or named by this person.")
@click.option("--stage", type=click.Choice(STAGES), help="Only this stage.")
@click.option("--sex", type=click.Choice(["male", "female"]), help="Only this sex.")
@click.option("--status", type=click.Choice(STATUSES), metavar="WORD", help=f"Only these: {', '.join(STATUSES)}.")
@click.option("--text", metavar="WORDS", help="With words that begin like these, in the sighting or its visit.")
@click.option("--withdrawn", is_flag=True, help="Show what was taken back as well.")
@click.option("--first", type=click.IntRange(1, 1_000_000_000), metavar="N", help="No more than the first N.")
@click.option("--all", "everything", is_flag=True, help=f"At a terminal too, more than the first {SCREENFUL}.")
@key_option
@ledger_option
@json_option
def command(
    season: int | None,
    since: str | None,
    until: str | None,
    place: str | None,
    name: str | None,
    person: str | None,
    stage: str | None,
    sex: str | None,
    status: str | None,
    text: str | None,
    withdrawn: bool,
    first: int | None,
    everything: bool,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """List the sightings as they stand, oldest first. JSON: one object a line, one line a sighting.

    Several conditions must all hold.

    \b
      reedmace ledger list --season 2026 --species azure --place SU41
      reedmace ledger list --since "1 July 2026" --text swallow
    """
    from reedmace.cli.surroundings import ledger_path, today
    from reedmace.cli.without_visit import tell_without_visit
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.tasks.records.list_sightings import as_json as to_json
    from reedmace.tasks.records.list_sightings import choice
    from reedmace.tasks.records.names_wanted import taxa_called

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        taxa = taxa_called(ledger, load(key_name), name) if name is not None else ()
        plain = Wanted(year=season, taxa=taxa, stage=stage, sex=sex, text=text, status=status, withdrawn=withdrawn)
        wanted = choice(ledger, plain, since=since, until=until, place=place, person=person, today=today())
        if first is None and not everything and not as_json and sys.stdout.isatty():
            first, everything = SCREENFUL, True
            rows = ledger.current_sightings(wanted, first + 1)
        else:
            everything = False
            rows = ledger.current_sightings(wanted, first)
        if as_json:
            verification = ledger.verifications()
            for sighting, visit, meta in rows:
                said = verification(sighting.id)
                say_json(to_json(sighting, visit, meta, ledger.people.name_of, said))
            tell_without_visit(ledger)
            return
        from reedmace.terminal.ledger_list import show_sightings
        from reedmace.terminal.screen import Screen

        show_sightings(Screen(), islice(rows, first))
        if everything and next(rows, None) is not None:
            click.echo("There are more: narrow it down, or add  --all", err=True)
        tell_without_visit(ledger)
