"""`reedmace export log`: what went to whom."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json


@click.command(name="log")
@click.option("--for", "recipient", metavar="NAME", help="Only what went to this recipient.")
@ledger_option
@json_option
def command(recipient: str | None, ledger_name: str | None, as_json: bool) -> None:
    """List what was sent to whom, when, with the file's digest, and what they said of having received it.

    JSON: one object a line, with the ids of the records.
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.export.log import export_log

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        sent = export_log(ledger, recipient)
        if as_json:
            for one in sent:
                say_json(one.as_json())
            return
        from reedmace.terminal.export_list import show_sent
        from reedmace.terminal.screen import Screen

        show_sent(Screen(), sent)
