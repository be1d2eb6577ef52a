"""`reedmace ledger where`."""

from __future__ import annotations

import click

from reedmace.cli.options import ledger_option


@click.command(name="where")
@ledger_option
def command(ledger_name: str | None) -> None:
    """Say which file the ledger is."""
    from reedmace.cli.surroundings import ledger_path

    path = ledger_path(ledger_name)
    click.echo(str(path.absolute()))
    if not path.exists():
        click.echo("Nothing has been logged there yet.", err=True)
