"""The command line: which commands there are, and what becomes of faults.

Exit codes: 0 done · 1 faults in the data · 2 wrong usage · 3 our own bug.
Commands are imported only when they run, so that `reedmace --help` stays quick.
"""

from __future__ import annotations

import contextlib
import gc
import os
import sys
from typing import NoReturn

import click

from reedmace import __version__
from reedmace.cli.lazy import LazyGroup
from reedmace.cli.troubles import folder_gone, no_text, of_output, output_lost, show_faults
from reedmace.faults import Refused

# name → (module under reedmace.cli, one line of help), in the order of use
COMMANDS = {
    "key": ("key", "Name an insect in a conversation: any question, in any order."),
    "name": ("name", "Name an insect from marks given at once: wings=closed spur=present."),
    "apart": ("apart", "What tells look-alikes apart, best mark first."),
    "about": ("about", "One species: marks, season, range, look-alikes, sources."),
    "expected": ("expected", "What is likely here and now, before anything is looked at."),
    "log": ("logging", "Write down what was seen, after a walk or during it."),
    "visit": ("visit", "A visit under way: start it, end it; list and show visits."),
    "sites": ("sites", "Named places that you visit again."),
    "people": ("people", "Who observes: say once who you are."),
    "ledger": ("ledger", "Show the ledger, correct it, bring in and take out, look after it."),
    "season": ("season", "What a year came to, and the covering page that goes with its records."),
    "breeding": ("breeding", "Breeding status of species at sites, by rules that are told."),
    "check": ("check", "Show what is doubtful about the records, and what to do about it."),
    "export": ("export", "Write a season as a Darwin Core file for a county recorder."),
    "reply": ("reply", "Take in the county recorder's answers, and a receipt."),
    "describe": ("describe", "Write the description of a rarity, filled from its record."),
    "place": ("place", "What a grid reference or a position means."),
    "keys": ("keys", "The keys on this machine: list, check or try one."),
}
PARTS = {
    "key": "Naming",
    "log": "Writing down",
    "ledger": "Looking back",
    "export": "Sending",
    "place": "Looking up",
}


@click.group(
    cls=LazyGroup,
    lazy=COMMANDS,
    parts=PARTS,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="reedmace")
def cli() -> None:
    """Name dragonflies and damselflies by the pond, keep the sightings, send the records.

    \b
    To begin with:
      reedmace people --me "Your Name"   say once who you are
      reedmace key                       name an insect, question by question
      reedmace log                       write down what was seen
      reedmace help log                  all about one command

    Results go to standard output, everything else to standard error.
    """


def run() -> None:
    """The entry point: runs a command and turns what went wrong into words and an exit code."""
    leave(_run(sys.argv[1:]))


def leave(code: int) -> NoReturn:
    """End the process with what was said brought out first.

    Everything is closed by now; to take a key apart piece by piece, as the interpreter would, takes long.
    """
    try:
        sys.stdout.flush()
    except OSError as error:
        if not code and not isinstance(error, BrokenPipeError):
            show_faults(Refused(output_lost(error)))
            code = 1
    with contextlib.suppress(OSError):
        sys.stderr.flush()
    os._exit(code)


def _run(arguments: list[str]) -> int:
    # A command lives for a moment: the collector's many early rounds take a twentieth of it and find nothing.
    gc.set_threshold(200_000, 20, 20)
    from reedmace.cli.streams import say_everything

    say_everything()
    try:
        cli.main(arguments, prog_name="reedmace", standalone_mode=False)
    except Refused as refused:
        show_faults(refused, arguments)
        return 2 if all(fault.typed for fault in refused.faults) else 1
    except click.exceptions.NoArgsIsHelpError as shown:
        click.echo(shown.format_message(), err=True)
        return 2
    except click.ClickException as error:
        from reedmace.cli.usage import context_of, usage_fault

        show_faults(Refused(usage_fault(error, context_of(arguments, cli))), arguments)
        return 2
    except (click.Abort, KeyboardInterrupt):
        click.echo("\nStopped. Nothing that was logged is lost.", err=True)
        return 130
    except click.exceptions.Exit as leaving:
        return leaving.exit_code
    except BrokenPipeError:
        # Whoever read our output has gone; say nothing more to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        fault = output_lost(error) if of_output(error) else folder_gone()
        if fault is None:
            return _our_bug()
        show_faults(Refused(fault), arguments)
        return 1
    except UnicodeEncodeError:
        if not (unreadable := no_text(arguments)):
            return _our_bug()
        show_faults(Refused(*unreadable), arguments)
        return 2
    except Exception:  # the last net: whatever it is
        return _our_bug()
    return 0


def _our_bug() -> int:
    """Show the error that is being handled whole, named as ours."""
    import traceback

    traceback.print_exc()
    click.echo(
        f"\nThis is a bug in Reedmace {__version__}, not in what you did. Nothing that was logged is lost.\n"
        "Please report it with the lines above (see DEVELOPERS.md).",
        err=True,
    )
    return 3
