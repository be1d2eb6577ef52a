"""`reedmace ledger restore`."""

from __future__ import annotations

import click

from reedmace.cli.options import ledger_option


@click.command(name="restore", short_help="A new ledger from a dump or a backup.")
@click.argument("source", metavar="FILE")
@ledger_option
def command(source: str, ledger_name: str | None) -> None:
    """Make a new ledger from a dump or a backup, with every entry that was in it.

    It never overwrites a ledger: name a new one with --ledger, or move the old one away first. To bring entries
    into a ledger that is there, restore to another file and merge that.
    """
    from reedmace.cli.progress import Progress
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.restoring import restore
    from reedmace.terminal.plain import literal

    path = ledger_path(ledger_name)
    progress = Progress("entries read")
    try:
        count = restore(source, str(path), progress)
    finally:
        progress.close()
    click.echo(f"Restored {count:,} {'entry' if count == 1 else 'entries'} to {literal(str(path))}.")
