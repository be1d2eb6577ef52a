"""`reedmace keys trial`: simulated observers against a key."""

from __future__ import annotations

import os
import sys
from math import isnan
from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import json_option, load
from reedmace.cli.output import say_json
from reedmace.trial.plan import ORDERS

if TYPE_CHECKING:
    from reedmace.tasks.keys.try_key import Progress


class Within(click.FloatRange):
    """A number from `min` to `max`; "nan" is none."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """The number typed."""
        number: float = super().convert(value, param, ctx)
        if isnan(number):
            self.fail(f"{value!r} is not a number.", param, ctx)
        return number


FACTOR = Within(min=0, max=100)
CHANCE = Within(min=0, max=1)


@click.command(name="trial", short_help="Try a key with simulated observers.")
@click.argument("key_name", required=False, metavar="[KEY]")
@click.option("--runs", type=click.IntRange(min=1), default=1000, show_default=True, help="Insects looked at.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same runs.")
@click.option(
    "--eye",
    type=click.Choice(["beginner", "practised"]),
    default="beginner",
    show_default=True,
    help="How practised the observers are.",
)
@click.option("--misread", type=FACTOR, default=1.0, show_default=True, help="Factor on every chance of a misread.")
@click.option("--as-stated", is_flag=True, help="Never raise the key's own misread rates to a believable mean.")
@click.option("--chain", type=FACTOR, default=1.0, show_default=True, help="Factor on the answer after a wrong one.")
@click.option("--wrong-sex", type=CHANCE, default=0.03, show_default=True, help="Chance to misjudge sex or age.")
@click.option("--echo-lapse", type=CHANCE, default=0.03, show_default=True, help="Chance that a whole echo group errs.")
@click.option("--shares-wrong", is_flag=True, help="Draw guises evenly, not by the shares the key states.")
@click.option("--even", is_flag=True, help="Draw every species as often as any other.")
@click.option("--flat", is_flag=True, help="Tell the engine no date, place or habitat.")
@click.option(
    "--order",
    type=click.Choice(ORDERS),
    default="look-next",
    show_default=True,
    help="What is looked at next.",
)
@click.option("--answers", type=click.IntRange(min=1), default=200, show_default=True, help="Most looks, a safety.")
@click.option("--leave-out", multiple=True, metavar="SPECIES", help='Take it out of the key, observe it; or "each".')
@click.option("--leave-out-genus", is_flag=True, help="Take the congeners of left-out species out as well.")
@click.option("--assume", multiple=True, metavar="NAME=VALUE", help="Another value for a number the engine assumes.")
@click.option("--jobs", type=click.IntRange(min=1), help="Processes; by default one for each core.")
@click.option("--progress", is_flag=True, help="Show progress also where standard error is no terminal.")
@json_option
def command(
    key_name: str | None,
    as_stated: bool,
    leave_out: tuple[str, ...],
    assume: tuple[str, ...],
    jobs: int | None,
    progress: bool,
    as_json: bool,
    **planned: Any,
) -> None:
    """Try a key (an id or a folder) with simulated observers who err, and count what they were told.

    Each observer meets an insect drawn from the key, looks where the program says, misreads and overlooks as
    people do, and stops when there is a verdict or nothing left to look at. docs/trials.md says how they err.

    \b
      reedmace keys trial --runs 200
      reedmace keys trial odonata-exuviae --eye practised
    """
    from reedmace.tasks.keys.trial_json import as_json as to_json
    from reedmace.tasks.keys.try_key import species_left_out, try_key
    from reedmace.tasks.naming.assume import read_assumptions
    from reedmace.trial.plan import Plan

    key = load(key_name)
    plan = Plan(**planned, leave_out=species_left_out(key, leave_out, with_genus=planned["leave_out_genus"]))
    trial = try_key(
        key,
        plan,
        jobs=jobs or os.cpu_count() or 1,
        assumptions=read_assumptions(assume),
        as_stated=as_stated,
        on_progress=_teller(progress),
    )
    if as_json:
        say_json(to_json(trial), indent=2)
        return
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.trial_page import show_trial

    show_trial(Screen(), trial)


def _teller(wanted: bool) -> Progress | None:
    """What tells how far the trial is: a line that is written over on a terminal, a line a tenth elsewhere."""
    on_terminal = sys.stderr.isatty()
    if not (wanted or on_terminal):
        return None
    told, part = -1, 0

    def tell(done: int, count: int) -> None:
        nonlocal told, part
        tenth = 10 * done // count
        part += done == 0  # all runs are made again where misread rates are raised, or species are left out
        words = f"{f'part {part}: ' if part > 1 else ''}{done} of {count} runs"
        if on_terminal:
            click.echo(f"\r{words}" + ("\r\x1b[K" if done == count else ""), err=True, nl=False)
        elif tenth != told or done == 0:
            click.echo(words, err=True)
        told = tenth

    return tell
