"""`reedmace ledger restore`."""

from __future__ import annotations

import sys

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json


@click.command(name="restore", short_help="A new ledger from a dump or a backup.")
@click.argument("source", metavar="FILE")
@ledger_option
@json_option
def command(source: str, ledger_name: str | None, as_json: bool) -> None:
    """Make a new ledger from a dump or a backup, with every entry that was in it.

    It never overwrites a ledger: name a new one with --ledger, or move the old one away first. To bring entries
    into a ledger that is there, restore to another file and merge that.

    \b
      reedmace ledger restore "sightings 12 July.ledger"
      reedmace ledger restore old.ledger --ledger copy.ledger
    """
    from reedmace.cli.progress import Progress
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.restoring import restore
    from reedmace.terminal.plain import literal
    from reedmace.terminal.words import counted, plural

    path = ledger_path(ledger_name)
    progress = Progress("entries read")
    try:
        done = restore(source, str(path), progress)
    finally:
        progress.close()
    if as_json:
        missing = [{"person": person, "sightings": number} for person, number in done.missing]
        say_json({"ledger": str(path), "entries": done.entries, "missing": missing})
        sys.exit(1 if missing else 0)
    entries = counted(done.entries, "entry", "entries")
    click.echo(f"Restored {entries} to {literal(str(path))}.")
    if done.missing:
        people = plural(len(done.missing), "person", "people")
        click.echo(f"{people} named in the entries stand nowhere in this dump, so their names are not known:")
        for person, number in done.missing:
            click.echo(f"  {literal(person)}: seen or named by them, {counted(number, 'sighting')}")
        click.echo("Bring the names in from a dump or backup that has them:  reedmace ledger merge FILE")
        sys.exit(1)
