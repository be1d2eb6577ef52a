"""`reedmace reply --receipt`: what a recipient said of having received a submission."""

from __future__ import annotations

import click

from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused


def receipt_command(
    file: str | None,
    submission: str,
    loaded: int | None,
    total: int | None,
    note: str,
    *,
    by: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Keep that so many rows of so many were loaded, and tell where more or fewer were sent."""
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.replies.receipts import take_receipt
    from reedmace.terminal.plain import literal

    if file is not None or loaded is None or total is None:
        hint = "reedmace reply --receipt SUBMISSION --loaded N --of M"
        raise Refused(Fault("receipt-unclear", "A receipt says how many of how many rows.", hint, typed=True))
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        with writing_as(ledger, by, new_id) as (person, _):
            sent = take_receipt(ledger, submission, (loaded, total, note), person, written_at(), new_id)
        who = ledger.people.name_of(sent.recipient)
    if as_json:
        say_json({"submission": sent.id, "loaded": loaded, "of": total, "note": note})
        return
    click.echo(f"Noted: {literal(who)} has loaded {loaded} of {total} rows of {literal(sent.file_name)}.")
    if total != sent.rows:
        click.echo(f"{sent.rows} rows were sent.")
