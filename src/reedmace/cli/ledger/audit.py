"""`reedmace ledger audit`."""

from __future__ import annotations

import sys

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json


@click.command(name="audit", short_help="Look whether everything in the file is as it should be.")
@click.option("--photos", metavar="FOLDER", help="Look for photographs here where their path is relative.")
@click.option("--relist", is_flag=True, help="Work out anew what lists are answered from; no entry is touched.")
@ledger_option
@json_option
def command(photos: str | None, relist: bool, ledger_name: str | None, as_json: bool) -> None:
    """Look whether everything in the ledger is as it should be.

    Looked at are the file itself, its triggers, every entry, the chains of entries, visits and sightings
    without each other, and photographs that are gone or are not what they were. Changes nothing.

    Exit code 1 where something is damaged or gone.
    """
    from reedmace.cli.progress import Progress
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.records.audit_ledger import audit_ledger
    from reedmace.terminal.screen import Screen

    progress = Progress("entries looked at")
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if relist:
            ledger.relist()
        found = audit_ledger(ledger, photos, progress)
    progress.close()
    grave = sum(one.grave for one in found)
    if as_json:
        for one in found:
            say_json(one._asdict())
    else:
        screen = Screen()
        for one in found:
            screen.say((one.code, "bold"), f": {one.about}" if one.about else "", hang=2)
            screen.say(one.said, indent=2)
            screen.say(f"hint: {one.remedy}", indent=2, hang=2)
        if not found:
            click.echo("Everything is as it should be.")
        else:
            click.echo(f"{len(found)} to look at, {grave} of them grave." if grave else f"{len(found)} to look at.")
    if grave:
        sys.exit(1)
