"""What was answered at the prompts of `reedmace log` is given back where somebody stops: nothing is typed twice."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from reedmace.faults import Refused
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.terminal.plain import literal

if TYPE_CHECKING:
    from reedmace.cli.asking import InTurn
    from reedmace.keys.model import Key
    from reedmace.tasks.shorthand.page_said import SeenLine


class Answered:
    """What was answered so far: of the visit (`apart` are remarks that no answer holds), and the lines.

    `visit` are the questions about the visit, once they are put; `told` where it was told how to write what was seen.
    """

    def __init__(self, said: VisitSaid, *, joins: bool) -> None:
        self.said, self.joins = said, joins
        self.apart = said.notes
        self.lines: list[SeenLine] = []
        self.visit: InTurn[VisitSaid] | None = None
        self.told = False

    def keep(self, said: VisitSaid) -> None:
        """Keep what was said of the visit."""
        self.said = said


@contextmanager
def given_back(key: Key, answered: Answered) -> Iterator[None]:
    """Where it is stopped within: show what was answered, in words that `log` reads."""
    try:
        yield
    except (click.Abort, KeyboardInterrupt, Refused):
        from reedmace.tasks.shorthand.say_again import line_again, visit_again

        told = [] if answered.joins else visit_again(answered.said, apart=answered.apart)
        told += [line_again(key, seen.line) for seen in answered.lines]
        if told:
            click.echo("\nStopped: nothing was written. What you typed, for the next time or for a file:", err=True)
            for line in told:
                click.echo(literal(f"  {line}"), err=True)
        raise
