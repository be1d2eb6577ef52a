"""`reedmace ledger reinstate`."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option, reason_option, writer_option
from reedmace.cli.output import say_written


@click.command(name="reinstate", short_help="Let what was withdrawn stand again.")
@click.argument("ids", nargs=-1, required=True, metavar="ID...")
@reason_option
@writer_option
@ledger_option
@json_option
def command(ids: tuple[str, ...], reason: str, by: str | None, ledger_name: str | None, as_json: bool) -> None:
    """Let what was withdrawn stand again, as it was, by a new entry each.

    \b
      reedmace ledger reinstate 0198c2a1b3d4 --reason "it was right after all"
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.ledger_list import told

    no_child_in(reason)
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        chosen = subjects(ledger, ids)
        with writing_as(ledger, by, new_id) as (person, _):
            entries = ledger.reinstate(chosen, reason, person, written_at(), new_id)
        if as_json:
            say_written(entries, "amended")
            return
        for subject in chosen:
            standing = ledger.standing(subject)
            assert standing is not None
            click.echo(f"Stands again: {told(standing[0])}")
