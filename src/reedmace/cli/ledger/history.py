"""`reedmace ledger history`: the story of one record."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json


@click.command(name="history")
@click.argument("record_id", metavar="ID")
@ledger_option
@json_option
def command(record_id: str, ledger_name: str | None, as_json: bool) -> None:
    """Tell the story of one sighting or visit: who recorded, amended, named anew or took back what, when and why.

    ID is its id, or the end of it as `ledger list` shows it. JSON: one object an entry.

    \b
      reedmace ledger history 0198c2a1b3d4
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.records.tell_history import tell_history
    from reedmace.tasks.records.tell_visit import find_subject

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        subject = find_subject(ledger, record_id)
        steps = tell_history(ledger, subject)
        if as_json:
            for step in steps:
                meta = step.meta
                say_json(
                    {
                        "entry": meta.entry_id,
                        "parent": meta.parent,
                        "of": step.of,
                        "subject": meta.subject,
                        "act": meta.act,
                        "by": step.who,
                        "written_at": meta.written_at,
                        "reason": meta.reason,
                        "words": f"{step.who} {step.act}",
                        "said": step.said,
                        "changes": [change._asdict() for change in step.changes],
                        "head": step.head,
                    }
                )
            return
        from reedmace.terminal.history_page import show_history
        from reedmace.terminal.screen import Screen

        show_history(Screen(), subject, steps)
