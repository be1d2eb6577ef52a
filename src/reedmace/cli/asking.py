"""Prompts: ask until an answer can be used; every prompt says what an empty answer means."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

import click

from reedmace.faults import Fault

if TYPE_CHECKING:
    from reedmace.tasks.naming.name_insect import Named
    from reedmace.terminal.screen import Screen

T = TypeVar("T")


def fault_shown(fault: Fault) -> str:
    """A fault in what was typed this moment: there is no need to say where."""
    from reedmace.cli.output import columns
    from reedmace.terminal.fault_text import show_fault

    where = fault.where and fault.where._replace(file="")
    return show_fault(fault._replace(where=where), colour=False, width=columns())


def ask(
    prompt: str,
    read: Callable[[str], T | Fault],
    otherwise: T | None = None,
    *,
    needed: bool = False,
    ends: bool = False,
) -> T | None:
    """Ask until the answer reads; an empty one gives `otherwise`.

    The end of input stops the command, or with `ends` is an empty answer too.
    """
    from reedmace.cli.key import read_line

    while True:
        line = read_line(prompt)
        if line is None and not ends:
            raise click.Abort
        if line is None:
            click.echo()
            return otherwise
        if not line.strip():
            if otherwise is not None or not needed:
                return otherwise
            click.echo("This is needed for a record.")
            continue
        read_value = read(line.strip())
        if not isinstance(read_value, Fault):
            return read_value
        click.echo(fault_shown(read_value))


def ask_and_log(screen: Screen, named: Named, ledger_name: str | None, by: str | None) -> None:
    """At the end of a conversation: ask what the record still needs, show it, write it."""
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.places.place import read_place
    from reedmace.tasks.naming.keep_naming import as_naming
    from reedmace.tasks.naming.read_record_name import read_record_name
    from reedmace.tasks.naming.record_name import record_name
    from reedmace.tasks.shared.dates import read_date
    from reedmace.tasks.shared.setting import regions_of
    from reedmace.tasks.shorthand.line import Line, read_tallies
    from reedmace.tasks.shorthand.line_said import Counted
    from reedmace.tasks.shorthand.line_words import show_line
    from reedmace.tasks.walks.log_walk import Occasion, log_lines
    from reedmace.terminal.walk_text import name_shown

    key, verdict, setting = named.key, named.assessment.verdict, named.setting
    offered = record_name(key, verdict)
    own = ask(f"Log it as [{offered.typed}]: ", lambda text: read_record_name(key, verdict, text))
    # A day whose year was taken is offered, and stands with its year on the screen; a month is no day.
    day = setting.date if setting.date and (setting.date.is_day or not setting.date.assumed) else None
    day = day if day and day.iso <= today().isoformat() else None
    when = ask(f"Date [{day.iso if day else 'needed'}]: ", lambda text: read_date(text, today()), day, needed=True)
    known = setting.place.typed if setting.place else "needed"
    place = ask(f"Place, as grid reference or latitude, longitude [{known}]: ", read_place, setting.place, needed=True)
    locality = ask("Name of the place, village first [none]: ", lambda text: text, "")
    sex = f" {verdict.sex[0]}" if verdict.sex else ""
    default = read_tallies(f"1{sex}")
    assert not isinstance(default, Fault)
    counted: Counted | None = ask(
        f"How many, with sex and stage: 2m 1f, 1 f imm, 3 cop [1{sex}]: ",
        read_tallies,
        default,
        needed=True,
    )
    assert when is not None
    assert counted is not None
    if own is None:
        line = Line(offered, counted._replace(typed=f"{counted.typed} {offered.typed} (named with the key)".strip()))
    else:
        typed = f"{counted.typed} {own.typed}".strip()
        doubt, qualifier = own.said.certainty or counted.certainty, own.said.qualifier or counted.qualifier
        line = Line(own.name, counted._replace(typed=typed, certainty=doubt, qualifier=qualifier))
    shown = name_shown(key, line)
    screen.say(f"{shown}: {show_line(line)}; {when.iso}, {place.typed if place else ''} {locality or ''}".rstrip())
    with open_ledger(ledger_path(ledger_name)) as ledger, writing_as(ledger, by, new_id) as (person, name):
        occasion = Occasion(
            when,
            place,
            locality or "",
            regions=regions_of(key, place),
            habitat=setting.habitat.id if setting.habitat else "",
            habitat_typed=setting.habitat_typed,
        )
        log_lines(
            ledger,
            key,
            occasion,
            [line],
            person=person,
            written_at=written_at(),
            new_id=new_id,
            naming=as_naming(named),
        )
    screen.say(
        ("Logged", "bold green"),
        f" for {name} in {ledger.path}. Take it back with:  reedmace ledger undo",
    )
