"""`reedmace apart`: what tells species apart."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, load


@click.command(name="apart")
@click.argument("names", nargs=-1, required=True, metavar="NAME NAME...")
@click.option(
    "--eye",
    type=click.Choice(["beginner", "practised"]),
    default="beginner",
    show_default=True,
    help="How practised the observer is.",
)
@key_option
@json_option
def command(names: tuple[str, ...], eye: str, key_name: str | None, as_json: bool) -> None:
    """What tells two to five species apart: best mark first, and what to write when it can't be seen.

    Put a name of several words in quotes.

    \b
      reedmace apart emperor "lesser emperor"
    """
    from reedmace.cli.output import say_json
    from reedmace.scoring.tables import Tables
    from reedmace.tasks.naming.find_species import several_species
    from reedmace.tasks.naming.tell_apart import as_json as to_json
    from reedmace.tasks.naming.tell_apart import tell_apart

    key = load(key_name)
    apart = tell_apart(Tables(key, eye), several_species(key, names))
    if as_json:
        say_json(to_json(key, apart), indent=2)
        return
    from reedmace.terminal.apart_page import show_apart
    from reedmace.terminal.screen import Screen

    show_apart(Screen(), key, apart)
