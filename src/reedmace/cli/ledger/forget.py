"""`reedmace ledger forget`."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import ledger_option
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.terminal.screen import Screen

_LISTED = 20  # entries named, of those that hold a name


@click.command(name="forget", short_help="Remove a person's name and contact details from the file.")
@click.argument("person", metavar="NAME_OR_ID")
@click.option("--redact", is_flag=True, help="Take the name out of remarks, lines as typed and reasons too.")
@click.option("--also", multiple=True, metavar="TEXT", help="Another spelling to look for: a nickname, initials.")
@click.option("--yes", is_flag=True, help="Without asking.")
@ledger_option
def command(person: str, redact: bool, also: tuple[str, ...], yes: bool, ledger_name: str | None) -> None:
    """Remove a person's name and contact details by rewriting the file; the records stay, without the name.

    Words that people typed are looked through for the name; --redact takes it out of them, the one case in which an
    entry is changed. This cannot be taken back. Copies elsewhere keep the name: backups, dumps, exported files,
    other ledgers (a ledger that merges this one forgets the person too).
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.words import plural

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        everybody = {one.id: one for one in ledger.people.all()}
        ids = (person,) if person in everybody else ledger.people.ids_of(person)
        if not ids:
            hint = "see who there is with  reedmace people"
            raise Refused(Fault("unknown-person", "Nobody of this name is in the ledger.", hint, person, typed=True))
        names = tuple({everybody[one].name for one in ids if not everybody[one].forgotten})
        if not yes:
            if not sys.stdin.isatty():
                hint = "add  --yes  to do it without being asked"
                raise Refused(Fault("not-confirmed", "This cannot be taken back.", hint, person, typed=True))
            shown = ", ".join(map(literal, names)) or person
            click.confirm(f"Remove the name {shown} from this ledger for ever?", default=False, abort=True)
        done = ledger.forget(ids, names, also, redact)
    screen = Screen()
    screen.say("Removed: the name and any contact details; the file was written anew.")
    kept = f"{done.saw:,} sightings seen or named, {done.wrote:,} entries written"
    screen.say(f"Kept, under the bare id {', '.join(ids)}: {kept}.")
    if done.redacted:
        screen.say(f"Taken out of the words of entries: {done.redacted:,}.")
    if done.still_said:
        count = plural(len(done.still_said), "entry still holds", "entries still hold")
        why = "what is left there are names of files or animals" if redact else "take it out with  --redact"
        screen.say(f"{count} the name in words of their own (remarks, lines as typed, reasons): {why}.")
        _list(screen, done.still_said)
    if done.perhaps:
        screen.say("These hold the last part of the name alone; read them to see whether it is the person:")
        _list(screen, done.perhaps)
    screen.say("Not reached: backups, dumps, exported files and other ledgers. Delete or redo those yourself.")
    if done.still_said:
        sys.exit(1)


def _list(screen: Screen, ids: tuple[str, ...]) -> None:
    for entry_id in ids[:_LISTED]:
        screen.say(entry_id, indent=2)
    if len(ids) > _LISTED:
        screen.say(f"and {len(ids) - _LISTED:,} more", indent=2)
