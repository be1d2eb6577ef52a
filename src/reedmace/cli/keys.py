"""`reedmace keys`: the keys on this machine."""

from __future__ import annotations

import click

from reedmace.cli.lazy import Group
from reedmace.cli.options import json_option
from reedmace.cli.output import say_json
from reedmace.cli.trial import command as trial
from reedmace.keys.shipped import find_key


@click.group(name="keys", cls=Group)
def command() -> None:
    """The keys on this machine."""


@command.command(name="list")
@json_option
def list_keys(as_json: bool) -> None:
    """List the keys that travel with the program."""
    import textwrap

    from reedmace.cli.output import columns
    from reedmace.tasks.keys.inspect_key import shipped_titles

    for identifier, version, title in shipped_titles():
        if as_json:
            say_json({"id": identifier, "version": version, "title": title})
            continue
        line = f"{identifier}  {version}  {title}"
        wide = columns() or len(line)
        if len(line) > wide:  # the title below, so that a narrow terminal breaks no word of it
            below = textwrap.fill(title, wide, initial_indent="  ", subsequent_indent="  ")
            line = f"{identifier}  {version}\n{below}"
        click.echo(line)


@command.command(short_help="Check a key: faults, counts, sources.")
@click.argument("key", required=False)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, for other programs.")
def check(key: str | None, as_json: bool) -> None:
    """Check a key (an id or a folder): faults, counts, and where its values come from.

    \b
      reedmace keys check
      reedmace keys check my-key
    """
    from reedmace.cli.output import columns
    from reedmace.tasks.keys.inspect_key import inspect_key
    from reedmace.terminal.key_report import show_report

    report = inspect_key(find_key(key))
    if as_json:
        say_json(report.as_json(), indent=2)
    else:
        click.echo(show_report(report, columns()))
    if report.faults:
        raise SystemExit(1)


command.add_command(trial)
