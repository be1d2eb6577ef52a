"""`reedmace ledger backup`."""

from __future__ import annotations

import shlex

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json


@click.command(name="backup", short_help="A consistent copy in one file, also while the ledger is in use.")
@click.argument("to", metavar="FILE")
@ledger_option
@json_option
def command(to: str, ledger_name: str | None, as_json: bool) -> None:
    """Copy the ledger as it stands at this moment to a new FILE; an existing file is never overwritten.

    The copy holds names and contact details as the ledger does: keep it where you would keep those.

    \b
      reedmace ledger backup "sightings 12 July.ledger"
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        ledger.backup(to)
    if as_json:
        say_json({"file": to})
        return
    click.echo(f"Copied to {literal(to)}.")
    click.echo(f"Go back to it with:  reedmace ledger restore {literal(shlex.quote(to))} --ledger NEW_FILE")
