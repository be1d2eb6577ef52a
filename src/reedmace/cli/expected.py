"""`reedmace expected`: what is likely here and now."""

from __future__ import annotations

import click

from reedmace.cli.options import json_option, key_option, load, setting_options
from reedmace.cli.output import say_json


@click.command(name="expected")
@setting_options
@key_option
@click.option("--all", "everything", is_flag=True, help="Every species of the key, not only the likeliest twenty.")
@json_option
def command(
    when: str | None, place: str | None, habitat: str | None, key_name: str | None, everything: bool, as_json: bool
) -> None:
    """What is likely here and now, before anything has been looked at.

    Without a date, today counts. Without a place or a habitat, the whole of the key's area does.

    \b
      reedmace expected --place "SU 431 118" --date July
    """
    from reedmace.cli.surroundings import today
    from reedmace.tasks.naming.expect_here import as_json as to_json
    from reedmace.tasks.naming.expect_here import expect
    from reedmace.tasks.shared.setting import read_setting

    key = load(key_name)
    setting = read_setting(key, when or today().isoformat(), place, habitat, today=today())
    found = expect(key, setting)
    if as_json:
        for one in to_json(key, found):
            say_json(one)
        return
    from reedmace.terminal.expected_list import show_expected
    from reedmace.terminal.naming import say_setting
    from reedmace.terminal.screen import Screen

    screen = Screen()
    say_setting(screen, setting)
    show_expected(screen, key, found, None if everything else 20)
