"""What stops a command, on standard error: faults shown, and the machine's own troubles told as faults."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Sequence

import click

from reedmace.faults import Fault, Refused


def show_faults(refused: Refused, arguments: Sequence[str] = ()) -> None:
    """All faults: in words, or where the arguments ask for JSON as one object a line."""
    options = arguments[: arguments.index("--")] if "--" in arguments else arguments
    if "--json" not in options:
        click.echo(_in_words(refused), err=True)
        return
    from reedmace.cli.output import fault_values, say_json

    for fault in refused.faults:
        say_json({"fault": fault_values(fault)}, err=True)


def of_output(error: OSError) -> bool:
    """True where what we say could not be written: a file that we open has a name, and faults of its own."""
    return error.filename is None and error.errno in (errno.ENOSPC, errno.EFBIG, errno.EDQUOT, errno.EIO)


def output_lost(error: OSError) -> Fault:
    """The fault where what should have been shown found no room."""
    return Fault(
        "output-not-written",
        f"What should have been shown could not be written: {error.strerror}.",
        "make room where the output goes, and ask again; nothing in the ledger is lost",
    )


def folder_gone() -> Fault | None:
    """The fault where the folder that the command was called in is gone, as on a stick that was pulled."""
    try:
        os.getcwd()  # noqa: PTH109  (pathlib does the same, and no more)
    except OSError:
        hint = "look whether the stick is in, and go to a folder that is there:  cd"
        return Fault("folder-gone", "The folder you are in is not there any more.", hint)
    return None


def no_text(arguments: Sequence[str]) -> list[Fault]:
    """The faults of what was typed that holds bytes which are no text in this terminal's encoding."""
    return [
        Fault("text-unreadable", "This holds signs that are no text.", "type it again", typed, typed=True)
        for typed in arguments
        if any("\ud800" <= sign <= "\udfff" for sign in typed)
    ]


def _in_words(refused: Refused) -> str:
    import shutil

    from reedmace.cli.streams import use_colour
    from reedmace.terminal.fault_text import show_faults as shown
    from reedmace.terminal.plain import in_signs_of, lacks_signs

    known = sys.stderr.isatty() or "COLUMNS" in os.environ
    width = shutil.get_terminal_size().columns if known else None
    plain = lacks_signs(sys.stderr.encoding)
    text = shown(refused.faults, colour=use_colour(sys.stderr), width=width, plain=plain)
    return in_signs_of(sys.stderr.encoding, text) if plain else text
