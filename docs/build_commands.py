"""Write docs/commands.md from the commands' own help, or with --check say whether it is still true.

python docs/build_commands.py            writes the page
python docs/build_commands.py --check    exit code 1 where the page and the help differ
"""

from __future__ import annotations

import difflib
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from reedmace.cli.main import cli

PAGE = Path(__file__).resolve().parent / "commands.md"
WIDTH = 80
HEAD = """\
# Commands

This page is made from the commands' own help by `python docs/build_commands.py`; do not edit it.

Results go to standard output, everything else to standard error, so that a command can stand in a pipe.
What `--json` gives: [JSON](json.md).

| exit code | meaning |
|---|---|
| 0 | done |
| 1 | faults in the data: a key, a ledger, a file; or it is done, and something is left for you: \
rows that came back from `ledger import` or `reply`, what `ledger audit` found grave, \
a name that `ledger forget` still sees, with `--strict` a query |
| 2 | wrong usage: something typed cannot be used; nothing was written |
| 3 | a bug in Reedmace |
| 130 | stopped by Ctrl-C, or the input ended in the middle of a question |

| environment variable | meaning |
|---|---|
| `REEDMACE_LEDGER` | the ledger, where `--ledger` is not given |
| `REEDMACE_BY` | who saw and named it, where `--by` is not given |
| `NO_COLOR`, `TERM=dumb` | no colour |
| `COLUMNS` | how wide to print |
"""


def commands(command: click.Command, context: click.Context) -> Iterator[click.Context]:
    """Every command of the tree, groups before what is in them."""
    yield context
    if isinstance(command, click.Group):
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            assert below is not None
            yield from commands(below, click.Context(below, info_name=name, parent=context))


def page() -> str:
    """The whole page."""
    settings = {**cli.context_settings, "terminal_width": WIDTH, "max_content_width": WIDTH}
    top = click.Context(cli, info_name="reedmace", **settings)
    told = [
        f"## {context.command_path}\n\n```text\n{context.get_help().rstrip()}\n```\n" for context in commands(cli, top)
    ]
    return "\n".join([HEAD, *told])


def main(arguments: list[str]) -> int:
    """Write the page, or compare it."""
    wanted = page()
    if arguments != ["--check"]:
        PAGE.write_text(wanted, encoding="utf-8")
        return 0
    there = PAGE.read_text(encoding="utf-8") if PAGE.exists() else ""
    if there == wanted:
        return 0
    difference = difflib.unified_diff(there.splitlines(), wanted.splitlines(), "the page", "the help", n=1)
    click.echo("\n".join(difference))
    click.echo("docs/commands.md is out of date:  python docs/build_commands.py", err=True)
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
