"""`reedmace people`: who observes."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused


@click.command(name="people")
@click.option("--me", metavar="NAME", help="Say once who you are; your records carry this name from now on.")
@click.option("--add", metavar="NAME", help="Put somebody into the register.")
@click.option("--contact", metavar="TEXT", help="With --me or --add: how to reach them; empty to remove it.")
@click.option("--contacts", is_flag=True, help="Show contact details as well.")
@ledger_option
@json_option
def command(
    me: str | None, add: str | None, contact: str | None, contacts: bool, ledger_name: str | None, as_json: bool
) -> None:
    """The people in the ledger, and which of them is you.

    Full names make a record; children's names go into nothing: count them in the party instead. Contact details
    stay in this ledger: no export has them, nor a dump that does not ask for them. To remove somebody's name:
    reedmace ledger forget NAME

    \b
      reedmace people --me "Ada Marsh"
      reedmace people --add "Ben Sallow" --contact ben@example.org
    """
    from reedmace.cli.observing import one_person
    from reedmace.cli.surroundings import ledger_path, new_id
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal

    if contact is not None and (me is None) == (add is None):
        hint = 'reedmace people --add "Ada Marsh" --contact ada@example.org'
        raise Refused(Fault("person-missing", "Say whose contact this is.", hint, contact, typed=True))
    with open_ledger(ledger_path(ledger_name), create=me is not None or add is not None) as ledger:
        begun = ledger.is_new() and not ledger.people.all()
        for name, is_me in ((add, False), (me, True)):
            if name is None:
                continue
            with ledger.together():
                person = ledger.people.find(name) or ledger.people.register(one_person(name), new_id)
                if is_me:
                    ledger.people.set_me(person)
                if contact is not None:
                    ledger.people.set_contact(person, contact.strip())
            if as_json:
                say_json({"id": person, "name": ledger.people.name_of(person), "me": person == ledger.people.me()})
                continue
            shown = literal(ledger.people.name_of(person))
            click.echo(f"You are {shown}." if is_me else f"In the register: {shown}.")
            if " " not in ledger.people.name_of(person).strip():
                click.echo("That is one word: a county recorder asks for the full name.", err=True)
        if me is not None or add is not None:
            if begun and not as_json:
                click.echo(f"This begins a new ledger: {literal(str(ledger.path))}", err=True)
            return
        mine = ledger.people.me()
        for one in ledger.people.all():
            if as_json:
                told = {"id": one.id, "name": one.name, "me": one.id == mine, "forgotten": one.forgotten}
                say_json(told | ({"contact": one.contact} if contacts else {}))
                continue
            shown = f"{literal(one.name)} [{one.id}]" if one.forgotten else literal(one.name)
            reach = f"  {literal(one.contact)}" if contacts and one.contact else ""
            click.echo(f"{shown}{'  (you)' if one.id == mine else ''}{reach}")
