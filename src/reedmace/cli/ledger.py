"""`reedmace ledger`: show it, take back the last line, say where it is."""

from __future__ import annotations

import click

from reedmace.cli.history import history
from reedmace.cli.options import by_option, json_option, ledger_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused


@click.group(name="ledger")
def command() -> None:
    """The ledger: every sighting, and everything that was ever said about it."""


@command.command(name="list")
@click.option("--season", type=click.IntRange(1600, 2999), metavar="YEAR", help="One year's sightings.")
@click.option("--name", metavar="NAME", help="One species, genus or group: any English or scientific name in full.")
@click.option("--withdrawn", is_flag=True, help="Show what was taken back as well.")
@ledger_option
@json_option
def list_sightings(
    season: int | None, name: str | None, withdrawn: bool, ledger_name: str | None, as_json: bool
) -> None:
    """List the sightings as they stand, oldest first. JSON: one object a line, one line a sighting."""
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.ledger.wanted import Wanted
    from reedmace.tasks.list_sightings import as_json as to_json

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        rows = ledger.current_sightings(Wanted(year=season, taxon=name, withdrawn=withdrawn))
        if as_json:
            for sighting, visit, meta in rows:
                say_json(to_json(sighting, visit, meta, ledger.people.name_of))
            return
        from reedmace.terminal.ledger_list import show_sightings
        from reedmace.terminal.screen import Screen

        show_sightings(Screen(), rows)


@command.command(short_help="Take back the last line, by a new entry.")
@click.option("--reason", default="taken back by the person who wrote it", show_default=True)
@by_option
@ledger_option
def undo(reason: str, by: str | None, ledger_name: str | None) -> None:
    """Take back the last line, by a new entry: nothing is deleted, the history keeps it."""
    from reedmace.cli.logging import observer
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.records import Sighting
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        person, _ = observer(ledger, by, new_id)
        subjects = ledger.last_line(person)
        if not subjects:
            raise Refused(
                Fault(
                    "nothing-to-undo",
                    "There is no line of yours to take back.",
                    "see  reedmace ledger list",
                    typed=True,
                )
            )
        said = []
        for subject in subjects:
            standing = ledger.standing(subject)
            if standing and isinstance(standing[0], Sighting):
                said.append(f"{standing[0].taxon.vernacular or standing[0].taxon.scientific_name}: {standing[0].typed}")
        ledger.withdraw(subjects, reason, person, written_at(), new_id)
        for line in dict.fromkeys(said):
            click.echo(f"Taken back: {literal(line)}")


@command.command()
@ledger_option
def where(ledger_name: str | None) -> None:
    """Say which file the ledger is."""
    from reedmace.cli.surroundings import ledger_path

    path = ledger_path(ledger_name)
    click.echo(str(path.absolute()))
    if not path.exists():
        click.echo("Nothing has been logged there yet.", err=True)


command.add_command(history)
