"""`reedmace ledger forget`."""

from __future__ import annotations

import sys

import click

from reedmace.cli.options import ledger_option
from reedmace.faults import Fault, Refused


@click.command(name="forget", short_help="Remove a person's name and contact details from the file.")
@click.argument("person", metavar="NAME_OR_ID")
@click.option("--yes", is_flag=True, help="Without asking.")
@ledger_option
def command(person: str, yes: bool, ledger_name: str | None) -> None:
    """Remove a person's name and contact details by rewriting the file; the records stay, without the name.

    This cannot be taken back. Copies elsewhere keep the name: backups, dumps, exported files, other ledgers (a
    ledger that merges this one forgets the person too).
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal
    from reedmace.terminal.screen import Screen

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
        done = ledger.forget(ids, names)
    screen = Screen()
    screen.say("Removed: the name and any contact details; the file was written anew.")
    kept = f"{done.saw:,} sightings seen or named, {done.wrote:,} entries written"
    screen.say(f"Kept, under the bare id {', '.join(ids)}: {kept}.")
    if done.still_said:
        said = (
            f"Still there: {len(done.still_said)} entries hold the name in their own words (remarks, lines as typed),"
        )
        screen.say(said, " and those are never rewritten:")
        for entry_id in done.still_said:
            screen.say(entry_id, indent=2)
    screen.say("Not reached: backups, dumps, exported files and other ledgers. Delete or redo those yourself.")
    if done.still_said:
        sys.exit(1)
