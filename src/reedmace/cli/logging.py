"""`reedmace log`: sightings into the ledger."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import by_option, json_option, key_option, ledger_option, load, setting_options
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.keys.model import Key
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.log_walk import Occasion
    from reedmace.tasks.shorthand import Line

EVIDENCE = ["sight", "photo", "in hand", "exuvia"]


@click.command(name="log")
@click.argument("words", nargs=-1, metavar="LINE...")
@setting_options
@click.option("--locality", metavar="NAME", default="", help='Name of the place: "Harrowmere, Sallow Farm pond".')
@click.option("--vice-county", metavar="VC", help="Vice-county, by number or name.")
@click.option("--evidence", type=click.Choice(EVIDENCE), help="What the name rests on.")
@click.option("--remarks", default="", help="Anything else about the visit.")
@by_option
@key_option
@ledger_option
@json_option
def command(
    words: tuple[str, ...],
    when: str | None,
    place: str | None,
    habitat: str | None,
    locality: str,
    vice_county: str | None,
    evidence: str | None,
    remarks: str,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Write down what was seen.

    A LINE is a count, a name and what else was seen, in any order; several lines go in quotes, or come on
    standard input, and are one visit. Without a line it asks.

    \b
      reedmace log 12 common blue m --place "SU 431 118" --date 2026-07-12
      reedmace log "3 cop azure" "emperor f ovip" --place "51.06, -1.31"
    """  # noqa: D301  (\b is click's own sign: keep these lines as they are)
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.log_walk import log_lines

    key = load(key_name)
    asking = not words and sys.stdin.isatty()
    occasion = _occasion(key, when, place, habitat, locality, vice_county, evidence, remarks, asking=asking)
    lines = _ask_lines(key) if asking else _read_lines(key, words)
    if not lines:
        raise Refused(
            Fault(
                "nothing-to-log",
                "There is nothing to log.",
                "write, for example,  reedmace log 12 common blue m",
                typed=True,
            )
        )
    with open_ledger(ledger_path(ledger_name)) as ledger:
        person, name = observer(ledger, by, new_id)
        visit, sightings = log_lines(
            ledger, key, occasion, lines, person=person, written_at=written_at(), new_id=new_id
        )
        path = ledger.path
    if as_json:
        say_json({"visit": visit.id, "sightings": [one.id for one in sightings], "ledger": str(path)})
        return
    _tell(key, lines, occasion, name, str(path))


def observer(ledger: Ledger, by: str | None, new_id: Callable[[], str]) -> tuple[str, str]:
    """Who observes: --by, or who said `people --me`. Id and name."""
    if by is not None:
        person = ledger.people.register(by, new_id)
        return person, ledger.people.name_of(person)
    me = ledger.people.me()
    if me is not None:
        return me, ledger.people.name_of(me)
    if sys.stdin.isatty():
        from reedmace.cli.asking import ask

        name = ask("Your name, as it should stand in the records: ", lambda text: text, needed=True)
        person = ledger.people.register(name or "", new_id)
        ledger.people.set_me(person)
        return person, ledger.people.name_of(person)
    raise Refused(
        Fault(
            "observer-unknown",
            "Nobody has said who observes.",
            'say it once:  reedmace people --me "Your Name"   or add  --by NAME',
            typed=True,
        )
    )


def _occasion(
    key: Key,
    when: str | None,
    place: str | None,
    habitat: str | None,
    locality: str,
    vice_county: str | None,
    evidence: str | None,
    remarks: str,
    *,
    asking: bool,
) -> Occasion:
    from reedmace.cli.surroundings import today
    from reedmace.tasks.log_walk import Occasion
    from reedmace.tasks.setting import read_setting

    if asking:
        from reedmace.cli.asking import ask
        from reedmace.places.place import read_place
        from reedmace.tasks.dates import read_date

        when = when or ask(
            "Date [today]: ",
            lambda text: text if not isinstance(f := read_date(text, today()), Fault) else f,
            "today",
        )
        place = place or ask(
            "Place, as grid reference or latitude, longitude: ",
            lambda text: text if not isinstance(f := read_place(text), Fault) else f,
            needed=True,
        )
        locality = locality or ask("Name of the place, village first [none]: ", lambda text: text, "") or ""
    if not place:
        hint = 'add  --place "SU 431 118"  or a position from a phone:  --place "51.06, -1.31"'
        raise Refused(Fault("place-missing", "Without a place it is no record.", hint, typed=True))
    setting = read_setting(key, when or "today", place, habitat, today=today(), future=False)
    county = None
    if vice_county:
        from reedmace.places.vice_counties import find_vice_county

        found = find_vice_county(vice_county)
        if isinstance(found, Fault):
            raise Refused(found._replace(typed=True))
        county = found.number
    assert setting.date is not None
    return Occasion(
        setting.date,
        setting.place,
        locality,
        county,
        setting.regions,
        setting.habitat.id if setting.habitat else "",
        evidence,
        remarks,
    )


def _read_lines(key: Key, words: tuple[str, ...]) -> list[Line]:
    """Lines from arguments (one in words, or several in quotes) or from standard input; all faults at once."""
    from reedmace.tasks.shorthand import read_line

    if words:
        typed = list(words) if any(" " in word.strip() for word in words) else [" ".join(words)]
    else:
        typed = [line for line in sys.stdin.read().splitlines() if line.partition("#")[0].strip()]
    read = [read_line(key, line) for line in typed]
    faults = [line for line in read if isinstance(line, Fault)]
    if faults:
        raise Refused(*faults)
    return [line for line in read if not isinstance(line, Fault)]


def _ask_lines(key: Key) -> list[Line]:
    from reedmace.cli.asking import ask
    from reedmace.tasks.shorthand import read_line, show_line

    click.echo("One line for each thing seen, such as  12 common blue m  ; an empty line ends the list.")
    lines: list[Line] = []
    while (line := ask("seen: ", lambda text: read_line(key, text))) is not None:
        click.echo(f"  {name_shown(key, line)}: {show_line(line)}")
        lines.append(line)
    if lines and not click.confirm(f"Write {len(lines)} line{'s' if len(lines) > 1 else ''}?", default=True):
        raise click.Abort
    return lines


def name_shown(key: Key, line: Line) -> str:
    """The English name that a line was understood to mean."""
    if line.name.group is not None:
        return line.name.group.title
    names = [key.species[one].english for one in line.name.species]
    return " or ".join([*names, *(key.undescribed[one].english for one in line.name.others)])


def _tell(key: Key, lines: list[Line], occasion: Occasion, name: str, path: str) -> None:
    from reedmace.tasks.shorthand import show_line
    from reedmace.terminal.plain import literal

    where = occasion.place.square or occasion.place.typed if occasion.place else ""
    locality = f", {occasion.locality}" if occasion.locality else ""
    click.echo(f"Logged for {literal(name)} on {occasion.day.iso} at {literal(where)}{literal(locality)}:")
    for line in lines:
        click.echo(f"  {name_shown(key, line)}: {show_line(line)}")
    for species in {one for line in lines if line.name.group is None for one in line.name.species}:
        for note in key.species[species].more.protection:
            click.echo(f"  {key.species[species].english}: {note['text']} (as of {note['checked']})")
    click.echo(f"In {literal(path)}. Take it back with:  reedmace ledger undo", err=True)
