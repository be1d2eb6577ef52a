"""`reedmace place`: what a reference means."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, load
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused


@click.command(name="place", context_settings={"ignore_unknown_options": True})
@click.argument("reference", nargs=-1, required=True, metavar="REF")
@key_option
@json_option
def command(reference: tuple[str, ...], key_name: str | None, as_json: bool) -> None:
    """What a grid reference or a latitude, longitude means: square, centre, uncertainty, region."""
    from reedmace.places.place import read_place
    from reedmace.tasks.explain_place import explained
    from reedmace.tasks.setting import regions_of

    typed = " ".join(reference)
    place = read_place(typed)
    if isinstance(place, Fault):
        if as_json:
            parts = {"code": place.code, "message": place.message, "hint": place.hint, "said": place.said}
            say_json({"fault": parts})
            raise SystemExit(2)
        raise Refused(place._replace(typed=True))
    told = explained(place, regions_of(load(key_name), place))
    if as_json:
        say_json(told, indent=2)
        return
    from reedmace.terminal.plain import literal

    width = max(len(name) for name in told)
    for name, value in told.items():
        if value is not None:
            said = ", ".join(value) if isinstance(value, list) else str(value)
            click.echo(f"{name.replace('_', ' '):{width}}  {literal(said)}")
