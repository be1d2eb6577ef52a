"""`reedmace ledger amend`."""

from __future__ import annotations

import click

from reedmace.cli.options import by_option, ledger_option


@click.command(name="amend", short_help="Correct a sighting or a visit, by a new entry with a reason.")
@click.argument("one", metavar="ID")
@click.argument("changes", nargs=-1, required=True, metavar="FIELD=VALUE...")
@click.option("--reason", required=True, help="Why, in a few words.")
@by_option
@ledger_option
def command(one: str, changes: tuple[str, ...], reason: str, by: str | None, ledger_name: str | None) -> None:
    """Correct a sighting or a visit, by a new entry; what was there before stays in its history.

    Of a sighting: count, sex, stage, behaviour, evidence, certainty, time, place, locality, remarks. Of a visit:
    date, start, end, place, locality, vice-county, habitat, weather, method, party, all, none-seen, permission,
    remarks. An empty value clears a field. The last signs of an id, as in the list, will do.

    \b
      reedmace ledger amend 0198c2a1b3d4 count=13 sex=male --reason "recounted"
    """  # noqa: D301  (\b is click's own sign)
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.logging import observer
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.amend_record import amended
    from reedmace.tasks.tell_history import changes_between
    from reedmace.terminal.ledger_list import told
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        [subject] = subjects(ledger, [one])
        standing = ledger.standing(subject)
        assert standing is not None
        record, meta = standing
        changed = amended(record, changes, today())
        person, _ = observer(ledger, by, new_id)
        ledger.amend(changed, reason, person, written_at(), new_id, follows=meta.entry_id)
        differences = changes_between(ledger, record, changed)
    was, now = told(record), told(changed)
    click.echo(f"Was:  {was}")
    click.echo(f"Now:  {now}")
    for change in differences:
        # What the two lines do not show, such as a vice-county.
        if any(literal(text) not in line for text, line in ((change.was, was), (change.now, now)) if text != "nothing"):
            click.echo(f"      {change.field}: {literal(change.was)} → {literal(change.now)}")
