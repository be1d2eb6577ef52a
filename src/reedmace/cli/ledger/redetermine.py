"""`reedmace ledger redetermine`."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, ledger_option, load, reason_option, writer_option
from reedmace.cli.output import say_written
from reedmace.faults import Fault, Refused


@click.command(name="redetermine", short_help="Give sightings another name, by a new entry with a reason.")
@click.argument("ids", nargs=-1, required=True, metavar="ID...")
@click.option("--name", required=True, metavar="NAME", help="The new name; a ? at its end for one in doubt.")
@reason_option
@writer_option
@key_option
@ledger_option
@json_option
def command(
    ids: tuple[str, ...],
    name: str,
    reason: str,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Give sightings another name, by a new entry each; who named it is you, or --by.

    The earlier name, with the reasons given for it then, stays in the history.

    \b
      reedmace ledger redetermine 0198c2a1b3d4 --name variable --reason photograph
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.no_child import no_child_in
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.records import Sighting
    from reedmace.tasks.records.redetermine import redetermined
    from reedmace.terminal.ledger_list import told

    no_child_in(reason)
    key = load(key_name)
    with (
        open_ledger(ledger_path(ledger_name), create=False) as ledger,
        writing_as(ledger, by, new_id) as (person, _),
    ):
        changes = []
        for subject in subjects(ledger, ids):
            standing = ledger.standing(subject)
            assert standing is not None
            record, meta = standing
            if not isinstance(record, Sighting):
                hint = "give the ids of its sightings"
                raise Refused(Fault("not-a-sighting", "This is a visit, which has no name.", hint, subject, typed=True))
            changes.append((record, redetermined(key, record, name, person, today().isoformat()), meta.entry_id))
        entries = ledger.amend_all(
            [(after, seen) for _, after, seen in changes], reason, person, written_at(), new_id, "redetermined"
        )
    if as_json:
        say_written(entries, "redetermined")
        return
    for before, after, _ in changes:
        click.echo(f"Was:  {told(before)}")
        click.echo(f"Now:  {told(after)}")
