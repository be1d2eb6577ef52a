"""`reedmace name`: one look, given at once."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, load, looking_options, setting_options
from reedmace.cli.output import say_json


@click.command(name="name")
@click.argument("traits", nargs=-1, metavar="TRAIT...")
@setting_options
@looking_options
@key_option
@click.option("--why", "against", metavar="NAME", help="Why the first and not this species.")
@json_option
def command(
    traits: tuple[str, ...],
    when: str | None,
    place: str | None,
    habitat: str | None,
    eye: str,
    flat: bool,
    key_name: str | None,
    against: str | None,
    as_json: bool,
) -> None:
    """Name an insect from what was seen.

    A TRAIT is character=state. Use a/b for either, a trailing ~ for unsure, and a unit with a length:

    \b
      reedmace name wings=closed abdomen-colour=blue spur=present~ length=30-35mm

    "reedmace key" asks the same questions one by one.
    """
    from reedmace.cli.surroundings import today
    from reedmace.scoring.tables import Tables
    from reedmace.tasks.naming.name_insect import as_json as to_json
    from reedmace.tasks.naming.name_insect import name_insect
    from reedmace.tasks.shared.setting import read_setting

    key = load(key_name)
    setting = read_setting(key, when, place, habitat, flat=flat, today=today())
    other = None
    if against is not None:
        from reedmace.tasks.naming.find_species import one_species

        other = one_species(key, against)
    named = name_insect(Tables(key, eye), setting, traits)
    if as_json:
        from reedmace.tasks.naming.say_why import as_json as why_json
        from reedmace.tasks.naming.say_why import closest_rival

        first = named.assessment.candidates[0].species
        rival = closest_rival(named) if other in (None, first) else other
        say_json(to_json(named) | {"why": why_json(named, rival) if rival is not None else None}, indent=2)
        return
    from reedmace.terminal.naming import show_named, show_setting
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.understood import show_understood

    screen = Screen()
    show_understood(screen, named)
    show_setting(screen, named)
    show_named(screen, named, other)
