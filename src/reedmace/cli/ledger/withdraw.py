"""`reedmace ledger withdraw`."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option, reason_option, writer_option
from reedmace.cli.output import say_written


@click.command(name="withdraw", short_help="Take back sightings or visits, by new entries with a reason.")
@click.argument("ids", nargs=-1, required=True, metavar="ID...")
@reason_option
@writer_option
@ledger_option
@json_option
def command(ids: tuple[str, ...], reason: str, by: str | None, ledger_name: str | None, as_json: bool) -> None:
    """Take back sightings or visits, by a new entry each: nothing is deleted, the history keeps them.

    A visit goes only together with, or after, its sightings.

    \b
      reedmace ledger withdraw 0198c2a1b3d4 --reason "counted twice"
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.ledger.emptied import tell_emptied
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.records.tell_visit import emptied
    from reedmace.terminal.ledger_list import told

    no_child_in(reason)
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        chosen = subjects(ledger, ids)
        with writing_as(ledger, by, new_id) as (person, _):
            entries = ledger.withdraw(chosen, reason, person, written_at(), new_id)
        if as_json:
            say_written(entries, "withdrawn")
            return
        for subject in chosen:
            standing = ledger.standing(subject)
            assert standing is not None
            click.echo(f"Taken back: {told(standing[0])}")
        tell_emptied(emptied(ledger, chosen))
