"""`reedmace people`: who observes."""

from __future__ import annotations

import click

from reedmace.cli.options import ledger_option


@click.command(name="people")
@click.option("--me", metavar="NAME", help="Say once who you are; your records carry this name from now on.")
@ledger_option
def command(me: str | None, ledger_name: str | None) -> None:
    """The people in the ledger, and which of them is you.

    Full names make a record; children's names go into nothing: count them in the party instead.
    """
    from reedmace.cli.surroundings import ledger_path, new_id
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=me is not None) as ledger:
        if me is not None:
            person = ledger.people.register(me, new_id)
            ledger.people.set_me(person)
            click.echo(f"You are {literal(ledger.people.name_of(person))}.")
            return
        mine = ledger.people.me()
        for one in ledger.people.all():
            click.echo(f"{literal(one.name)}{'  (you)' if one.id == mine else ''}")
