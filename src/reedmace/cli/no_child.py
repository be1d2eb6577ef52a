"""Names that may be a child's: a question about each at a terminal, else nothing is written."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import click

from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.cli.log_once import Walk
    from reedmace.keys.model import Key
    from reedmace.records import Sighting, Visit


def no_child(walks: Sequence[Walk], key: Key | None = None, *, remarks: bool = True) -> None:
    """Ask about the names of people and remarks of walks; `key` tells which names are animals'.

    Its words are gathered only where a name was found.
    """
    from reedmace.tasks.shorthand.children import children_named

    faults = children_named(walks, remarks=remarks)
    if faults and key is not None:
        from reedmace.keys.names import key_words

        faults = children_named(walks, key_words(key), remarks=remarks)
    _asked(faults)


def no_child_in(*texts: str) -> None:
    """Ask about the names in texts that are kept for ever, such as a reason."""
    from reedmace.tasks.shorthand.children import children_in_text

    _asked([fault for text in texts for fault in children_in_text(text)])


def no_child_amended(
    record: Sighting | Visit, visit: Visit | None, changes: Sequence[str], reason: str, key: Callable[[], Key]
) -> None:
    """Ask about the names in the words of a correction and in its reason."""
    from reedmace.tasks.records.amend_people import children_in_changes

    _asked(children_in_changes(record, visit, changes, reason, key))


def _asked(faults: Sequence[Fault]) -> None:
    from reedmace.cli.asking import confirm
    from reedmace.terminal.plain import literal

    if faults and not sys.stdin.isatty():
        raise Refused(*faults)
    for fault in faults:
        if not confirm(f"{literal(fault.message)} Is it an adult's name?", default=False):
            raise click.Abort
