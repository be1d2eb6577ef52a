"""`reedmace ledger where`."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json


@click.command(name="where")
@ledger_option
@json_option
def command(ledger_name: str | None, as_json: bool) -> None:
    """Say which file the ledger is."""
    from reedmace.cli.surroundings import ledger_path

    path = ledger_path(ledger_name)
    if as_json:
        say_json({"ledger": str(path.absolute()), "exists": path.exists()})
        return
    click.echo(str(path.absolute()))
    if not path.exists():
        click.echo("Nothing has been logged there yet.", err=True)
