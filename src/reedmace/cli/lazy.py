"""Groups of commands: the nearest command for a slip, `help` as a word, and commands imported only when they run."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from typing import Any

import click

from reedmace.faults import Fault, Refused


class Group(click.Group):
    """A group whose commands stand in the order they are given in; `help` before a command is `--help` behind it."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Commands in the order they are given in."""
        return list(self.commands)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, with the nearest command named for a slip."""
        known = self.list_commands(ctx)
        if args[0] == "help":
            if len(args) == 1:
                click.echo(ctx.get_help())
                ctx.exit()
            args = [*args[1:], "--help"]
        if args[0] not in known and not args[0].startswith("-"):
            raise Refused(_no_such_command(ctx, args[0], known))
        return super().resolve_command(ctx, args)


def _no_such_command(context: click.Context, typed: str, known: list[str]) -> Fault:
    from reedmace.cli.usage import example_of, with_more
    from reedmace.faults import did_you_mean

    example = example_of(context) if context.command.invoke_without_command else ""  # type: ignore[attr-defined]
    otherwise = f"commands: {', '.join(known)}" + (f"; without a command:  {example}" if example else "")
    hint = with_more(did_you_mean(typed, [*known, "help"], otherwise), context.command_path)
    return Fault("unknown-command", f"There is no such command in  {context.command_path} .", hint, typed, typed=True)


class LazyGroup(Group):
    """A group whose commands are modules; `lazy` gives name → (module under reedmace.cli, one line of help).

    `parts` gives the command that begins a part of the list → the part's heading.
    """

    def __init__(
        self, *arguments: Any, lazy: Mapping[str, tuple[str, str]], parts: Mapping[str, str] | None = None, **more: Any
    ) -> None:
        super().__init__(*arguments, **more)
        self.lazy = lazy
        self.parts = parts or {}

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Commands in the order they are given in."""
        return list(self.lazy)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command; None when there is no such command."""
        if cmd_name not in self.lazy:
            return None
        module = importlib.import_module(f"reedmace.cli.{self.lazy[cmd_name][0]}")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands in its parts, without importing them."""
        told: dict[str, list[tuple[str, str]]] = {}
        heading = "Commands"
        wide = max(map(len, self.lazy))
        for name, (_, line) in self.lazy.items():
            heading = self.parts.get(name, heading)
            told.setdefault(heading, []).append((name.ljust(wide), line))
        for heading, lines in told.items():
            with formatter.section(heading):
                formatter.write_dl(lines)
