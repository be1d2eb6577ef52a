"""`reedmace ledger forget`."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reedmace.ledger.forget import Forgotten
    from reedmace.ledger.store import Ledger
    from reedmace.terminal.screen import Screen

_LISTED = 20  # entries or people told, of those that hold a name


@click.command(name="forget", short_help="Remove a person's name and contact details from the file.")
@click.argument("person", metavar="NAME_OR_ID")
@click.option("--redact", is_flag=True, help="Take the name out of words and other names too.")
@click.option("--also", multiple=True, metavar="TEXT", help="Another name to look for, in every spelling: a nickname.")
@click.option("--yes", is_flag=True, help="Without asking.")
@ledger_option
@json_option
def command(
    person: str, redact: bool, also: tuple[str, ...], yes: bool, ledger_name: str | None, as_json: bool
) -> None:
    """Remove a person's name and contact details by rewriting the file; the records stay, without the name.

    Words that people typed, names of several people in one ("Ada Marsh, Ben Sallow") and names of saved mappings are
    looked through for the name; --redact takes it out of them, the one case in which an entry is changed. This cannot
    be taken back. Copies elsewhere keep the name: backups, dumps, exported files, other ledgers (a ledger that merges
    this one forgets the person too).

    \b
      reedmace ledger forget "Ben Sallow" --also Benny
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.terminal.plain import literal

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        ids, names = _meant(ledger, person, redact)
        if not yes:
            if not sys.stdin.isatty():
                hint = "add  --yes  to do it without being asked"
                raise Refused(Fault("not-confirmed", "This cannot be taken back.", hint, person, typed=True))
            shown = ", ".join(map(literal, names)) or person
            said = "" if ids else _unregistered(ledger, person)
            click.confirm(f"{said}Remove the name {shown} from this ledger for ever?", default=False, abort=True)
        done = ledger.forget(ids, names, also, redact)
    if as_json:
        say_json(_values(done))
    else:
        _tell(done, (*names, *also), redact)
    if done.left:
        sys.exit(1)


def _values(done: Forgotten) -> dict[str, Any]:
    """What was done, for other programs; people by id and name."""
    people = ("named", "cleaned", "perhaps_named")
    told = {field: [{"id": one.id, "name": one.name} for one in getattr(done, field)] for field in people}
    return done._asdict() | told | {"renamed": [one._asdict() for one in done.renamed]}


def _meant(ledger: Ledger, person: str, redact: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give the ids and names that are meant; no id for a name that stands only within names of several people."""
    everybody = {one.id: one for one in ledger.people.all()}
    ids = (person,) if person in everybody else ledger.people.ids_of(person)
    if ids:
        return ids, tuple({everybody[one].name for one in ids if not everybody[one].forgotten})
    within = ledger.people_named_within(person)
    # Whoever was never registered may be named in words all the same: a child, say.
    said = within or ledger.entries_saying(person)
    if said and redact:
        return (), (" ".join(person.split()),)
    hint = "see who there is with  reedmace people"
    if said:
        hint = "it stands in words of entries: add  --redact  to take it out of them"
    if within:
        hint = f'it stands within "{within[0].name}": add  --redact  to take it out of there'
    raise Refused(Fault("unknown-person", "Nobody of this name is in the ledger.", hint, person, typed=True))


def _unregistered(ledger: Ledger, name: str) -> str:
    """Say in how many entries a name stands that nobody is registered by: it may be any word."""
    from reedmace.terminal.words import counted

    holding = counted(len(ledger.entries_saying(name)), "entry", "entries")
    return f"Nobody is registered by this name alone; words of {holding} hold it. "


def _tell(done: Forgotten, names: tuple[str, ...], redact: bool) -> None:
    from reedmace.terminal.screen import Screen
    from reedmace.terminal.words import counted, plural

    screen = Screen()
    if done.ids:
        screen.say("Removed: the name and any contact details; the file was written anew.")
        kept = f"{counted(done.saw, 'sighting')} seen or named, {counted(done.wrote, 'entry', 'entries')} written"
        screen.say(f"Kept, under the bare id {', '.join(done.ids)}: {kept}.")
    if done.redacted:
        screen.say(f"Taken out of the words of entries: {done.redacted:,}.")
    if done.cleaned:
        screen.say("Taken out of other names in the register; what is left of them:")
        _list(screen, [f"{one.name}  [{one.id}]" for one in done.cleaned])
    if done.renamed:
        screen.say("Taken out of the names of saved mappings; they are called now:")
        _list(screen, [mapping.now for mapping in done.renamed])
    if done.named:
        screen.say("Still in the register, within other names:")
        _list(screen, [f"{one.name}  [{one.id}]" for one in done.named])
    if done.saved:
        screen.say("Still in the names of saved mappings:")
        _list(screen, done.saved)
    if done.still_said:
        count = plural(len(done.still_said), "entry still holds", "entries still hold")
        why = ": what is left there are ids, and names of files or animals" if redact else ""
        screen.say(f"{count} the name in words of their own (remarks, lines as typed, reasons){why}.")
        _list(screen, done.still_said)
    if done.left and done.ids and not redact:
        # By the id: nobody is registered by the name any more.
        also = " --also ".join(f'"{name}"' for name in names)
        screen.say(f"Take it out with:  reedmace ledger forget {done.ids[0]} --redact --also {also}", hang=2)
    if done.perhaps:
        screen.say(
            "These hold the last part of the name alone, or the first; read them to see whether it is the person:"
        )
        _list(screen, done.perhaps)
        if done.ids:
            screen.say(f"Where it is:  reedmace ledger forget {done.ids[0]} --redact --also NAME", hang=2)
    if done.perhaps_named:
        screen.say("People whose names are like it; one who is the same is forgotten by the id:")
        _list(screen, [f"{one.name}  [{one.id}]" for one in done.perhaps_named])
    screen.say("Not reached: backups, dumps, exported files and other ledgers. Delete or redo those yourself.")


def _list(screen: Screen, lines: Sequence[str]) -> None:
    for line in lines[:_LISTED]:
        screen.say(line, indent=2, hang=2)
    if len(lines) > _LISTED:
        screen.say(f"and {len(lines) - _LISTED:,} more", indent=2)
