"""`reedmace about`: one species."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, load


@click.command(name="about")
@click.argument("name", nargs=-1, required=True, metavar="NAME")
@key_option
@json_option
def command(name: tuple[str, ...], key_name: str | None, as_json: bool) -> None:
    """What the key knows of one species: marks by sex and age, season, range, look-alikes, evidence, sources.

    \b
      reedmace about emperor
    """
    from reedmace.cli.output import say_json
    from reedmace.cli.surroundings import cache_folder
    from reedmace.keys.cache import load_sources
    from reedmace.keys.shipped import find_key
    from reedmace.tasks.naming.describe_species import as_json as to_json
    from reedmace.tasks.naming.find_species import one_species

    key = load(key_name)
    species = one_species(key, " ".join(name))
    if as_json:
        say_json(to_json(key, species), indent=2)
        return
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.species_page import show_species

    show_species(Screen(), key, species, load_sources(find_key(key_name), cache_folder()))
