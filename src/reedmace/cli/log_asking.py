"""`reedmace log` at a terminal: prompts for people who do not know the shorthand, and questions about a line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import click

from reedmace.cli.asking import ask
from reedmace.cli.surroundings import now, today
from reedmace.faults import Fault
from reedmace.tasks.field_page import PageVisit, SeenLine
from reedmace.tasks.line_words import show_line
from reedmace.tasks.places_typed import find_site
from reedmace.tasks.shorthand import Line, choices, read_chosen, read_line, read_tallies
from reedmace.tasks.visit_line import read_visit_line
from reedmace.tasks.visit_said import VisitSaid
from reedmace.terminal.plain import literal
from reedmace.terminal.walk_text import name_shown

if TYPE_CHECKING:
    from reedmace.keys.model import Key
    from reedmace.records import Site, Visit

_MOST = 9  # names that are offered by number


def ask_page(
    key: Key, options: VisitSaid, joins: Visit | None, sites: Sequence[Site]
) -> tuple[VisitSaid, list[PageVisit]]:
    """Ask for the visit, as far as options and a visit under way do not say it, then for what was seen."""
    if joins is None:
        options = _ask_visit(key, options, sites)
    click.echo("What was seen, one at a time: a name, or a whole line such as  12 common blue m .")
    click.echo("An empty line ends the list.")
    lines: list[SeenLine] = []
    while (line := ask("seen: ", _reader(key))) is not None:
        line = _ask_more(key, line)
        click.echo(literal(f"  {name_shown(key, line)}: {show_line(line)}"))
        lines.append(SeenLine(line, len(lines) + 1))
    return options, [PageVisit(None, tuple(lines))]


def _ask_visit(key: Key, said: VisitSaid, sites: Sequence[Site]) -> VisitSaid:
    from reedmace.places.place import read_place
    from reedmace.tasks.dates import read_date

    if said.day is None:
        day = read_date("today", today())
        assert not isinstance(day, Fault)
        said = said._replace(day=ask("Date [today]: ", lambda text: read_date(text, today()), day))
    if said.place is None and said.site is None:
        known = "Place, as grid reference or latitude, longitude" + (", or a site's name: " if sites else ": ")

        def where(text: str) -> VisitSaid | Fault:
            site = find_site(sites, text)
            if site is not None:
                return VisitSaid(site=site)
            place = read_place(text)
            return place if isinstance(place, Fault) else VisitSaid(place=place)

        found = ask(known, where, needed=True) or VisitSaid()
        said = said._replace(site=found.site, place=found.place)
    if not said.locality and said.site is None:
        said = said._replace(locality=ask("Name of the place, village first [none]: ", lambda text: text, "") or "")

    def conditions(text: str) -> VisitSaid | Fault:
        read, faults = read_visit_line(key, text, today=today(), now=now(), sites=sites)
        return faults[0] if faults else read

    prompt = "Times and weather, as  10:30-12:00 21C sun70 F2  [none]: "
    more = ask(prompt, conditions, VisitSaid())
    assert more is not None
    noted = ask("Did you note every species you saw? all, dams, dragons or no [no]: ", _noted, VisitSaid())
    assert noted is not None
    filled = {name: value for name, value in more._asdict().items() if value not in (None, "", False, ())}
    filled["notes"] = (*said.notes, *more.notes)
    return said._replace(
        **filled,
        all_damselflies=noted.all_damselflies or more.all_damselflies,
        all_dragonflies=noted.all_dragonflies or more.all_dragonflies,
    )


def _noted(text: str) -> VisitSaid | Fault:
    plain = text.casefold().strip()
    if plain in ("n", "no", "none"):
        return VisitSaid()
    if plain in ("y", "yes", "all", "both"):
        return VisitSaid(all_damselflies=True, all_dragonflies=True)
    if plain.startswith("dam"):
        return VisitSaid(all_damselflies=True)
    if plain.startswith("dra"):
        return VisitSaid(all_dragonflies=True)
    hint = "answer  all , dams , dragons  or  no"
    return Fault("answer-not-read", "This is none of the answers.", hint, text, typed=True)


def _ask_more(key: Key, line: Line) -> Line:
    """Of a bare name, ask how many and what else."""
    said = line.said
    bare = said.left and all(tally.count is None and not tally.sex for tally in said.tallies)
    if not bare or said.stage or said.tallies[0].behaviour or said.tallies[0].typed:
        return line
    number = ask("  how many, with sex: 12, ~40, 2m 3f, 3 pairs [not counted]: ", read_tallies)
    more = ask('  anything else: teneral, ovipositing, photo, ?, "a remark" [no]: ', read_tallies)
    added = " ".join(one.typed for one in (number, more) if one is not None)
    if not added:
        return line
    whole = f"{said.typed.rstrip()} {added}"
    read = read_line(key, whole)
    if isinstance(read, Fault):
        asked = ask_again(key)(whole, read)
        return line if asked is None else asked
    return read


def _reader(key: Key) -> Callable[[str], Line | Fault]:
    again = ask_again(key)

    def read(text: str) -> Line | Fault:
        line = read_line(key, text)
        if isinstance(line, Fault) and line.code == "ambiguous-name":
            return again(text, line) or line
        return line

    return read


def ask_again(key: Key) -> Callable[[str, Fault], Line | None]:
    """A question about a line that does not read: one of several names by its number, or the line written anew."""

    def again(text: str, fault: Fault) -> Line | None:
        from reedmace.cli.key import read_line as read_typed
        from reedmace.terminal.fault_text import show_fault

        click.echo(show_fault(fault, colour=False))
        names = choices(key, text)[:_MOST] if fault.code == "ambiguous-name" else ()
        english = {species.name: species.english for species in key.species}
        for number, name in enumerate(names, start=1):
            click.echo(f"  {number}  {english[name]}")
        prompt = "which one, or the line again [stop]: " if names else "the line again [stop]: "
        while typed := (read_typed(prompt) or "").strip():
            if typed.isdecimal() and 1 <= int(typed) <= len(names):
                from reedmace.keys.names import FoundName

                index = next(one.index for one in key.species if one.name == names[int(typed) - 1])
                chosen = read_chosen(text, FoundName("", (index,)))
            else:
                chosen = read_line(key, typed)
            if not isinstance(chosen, Fault):
                return chosen
            click.echo(show_fault(chosen, colour=False))
        return None

    return again
