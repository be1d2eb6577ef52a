"""Groups whose commands are imported only when they run, so that help and start stay quick."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from typing import Any

import click


class LazyGroup(click.Group):
    """A group whose commands are modules; `lazy` gives name → (module under reedmace.cli, one line of help)."""

    def __init__(self, *arguments: Any, lazy: Mapping[str, tuple[str, str]], **more: Any) -> None:
        super().__init__(*arguments, **more)
        self.lazy = lazy

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

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, with the nearest command named for a slip."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from reedmace.faults import did_you_mean

            hint = did_you_mean(args[0], self.lazy, f"commands: {', '.join(self.lazy)}")
            raise click.UsageError(f"{error.message} {hint[0].upper()}{hint[1:]}", ctx) from None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands, without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in self.lazy.items()])
