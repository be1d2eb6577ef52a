"""`reedmace export profiles`: what is kept about recipients."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused, did_you_mean


@click.command(name="profiles")
@click.argument("name", required=False)
@ledger_option
@json_option
def command(name: str | None, ledger_name: str | None, as_json: bool) -> None:
    """List the recipients that something is kept about; with NAME, show it as the YAML file it could come from.

    \b
      reedmace export profiles "Tarn Fenwick"
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.export.profiles import as_body, as_yaml, profile_for, saved
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if name is not None:
            found = profile_for(ledger, name)
            if found is None:
                names = [ledger.people.name_of(person) for person in saved(ledger)]
                hint = did_you_mean(name, names, 'keep one:  reedmace export --to FILE --for "NAME" --save')
                raise Refused(Fault("unknown-profile", "Nothing is kept about this recipient.", hint, name, typed=True))
            if as_json:
                say_json(as_body(found[1]), indent=2)
            else:
                for line in as_yaml(found[1], ledger.people.name_of(found[0])).splitlines():
                    click.echo(literal(line))
            return
        profiles = saved(ledger)
        for person, profile in profiles.items():
            shown = ledger.people.name_of(person)
            if as_json:
                say_json({"recipient": shown, **as_body(profile)})
            else:
                click.echo(f"{literal(shown)}  {profile.file or 'csv or archive'}")
        if not profiles and not as_json:
            click.echo('Nothing is kept yet:  reedmace export --to FILE --for "NAME" --save', err=True)
