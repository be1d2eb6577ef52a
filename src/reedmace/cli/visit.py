"""`reedmace visit`: begin and end a visit under way, list and show visits."""

from __future__ import annotations

import click

from reedmace.cli.lazy import Group
from reedmace.cli.options import by_option, json_option, key_option, ledger_option, load, season_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused


@click.group(name="visit", cls=Group)
def command() -> None:
    """Visits: one day at one place.

    A visit that was started is joined by every `log` of the same day that names no place or date of its own.
    """


@command.command(short_help="Start a visit: what you log joins it.")
@click.argument("words", nargs=-1, required=True, metavar="WORDS...")
@by_option
@key_option
@ledger_option
@json_option
def start(words: tuple[str, ...], by: str | None, key_name: str | None, ledger_name: str | None, as_json: bool) -> None:
    """Start a visit, in the words of a visit's line; `now` is the time by this machine's clock.

    \b
      reedmace visit start now @ SU 431 118 "Sallow Farm pond" 21C sun70 F2 all
    """
    from reedmace.cli.log_source import said_of
    from reedmace.cli.no_child import no_child
    from reedmace.cli.observing import writing_as
    from reedmace.cli.output import columns
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.cli.whole_names import whole_names
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.shorthand.page_said import PageVisit
    from reedmace.tasks.walks.log_walk import Writer, log_visit
    from reedmace.tasks.walks.under_way import begin, under_way
    from reedmace.terminal.plain import literal
    from reedmace.terminal.walk_text import visit_lines, wrapped

    key = load(key_name)
    with open_ledger(ledger_path(ledger_name)) as ledger:
        said = said_of(key, words, ledger.sites())
        no_child([(PageVisit(said), said, None)], key)
        whole_names([(PageVisit(said), said, None)], ledger)
        with writing_as(ledger, by, new_id) as (person, name):
            writer = Writer(person, written_at(), new_id)
            left = under_way(ledger)
            visit, _ = log_visit(ledger, key, PageVisit(said), said, writer)
            begin(ledger, visit, today())
    if as_json:
        say_json({"visit": visit.id})
    else:
        for line in wrapped(visit_lines(said, name), columns()):
            click.echo(line)
        if left is not None and left.end is None:
            where = literal(left.place.locality or left.place.square or left.place.typed)
            click.echo(
                f"The visit before, {_short(left.date, left.start, None)} at {where}, has no end. To give it one:"
            )
            click.echo(f"  reedmace ledger amend {left.id} end=TIME --reason WHY")
        for line in wrapped(["Under way. What you log today without place or date joins it; end it with:"], columns()):
            click.echo(line)
        click.echo("  reedmace visit end now")


@command.command(short_help="End the visit under way, with the time if you like.")
@click.argument("time", default="", metavar="[TIME]")
@by_option
@ledger_option
@json_option
def end(time: str, by: str | None, ledger_name: str | None, as_json: bool) -> None:
    """End the visit under way; with a time (12:00, or now) that is when it ended.

    \b
      reedmace visit end now
    """
    from reedmace.cli.log_source import not_to_come
    from reedmace.cli.observing import name_of_observer, observer
    from reedmace.cli.surroundings import ledger_path, new_id, now, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.shorthand.field_words import clock
    from reedmace.tasks.shorthand.half_of_day import half_meant
    from reedmace.tasks.walks.under_way import finish, under_way

    when = now() if time == "now" else clock(time) if time else None
    if time and when is None:
        raise Refused(Fault("time-not-read", "This is no time of day.", "write  12:00  or  now", time, typed=True))
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if time:
            name_of_observer(ledger, by, new_id)  # asked before others have to wait
        with ledger.together():
            visit = under_way(ledger)
            if visit is None:
                hint = "begin one:  reedmace visit start now @ SU 431 118"
                raise Refused(Fault("no-visit-under-way", "No visit is under way.", hint, typed=True))
            meant = half_meant(time, visit.start)
            if isinstance(meant, Fault):
                raise Refused(meant)
            when = meant or when
            not_to_come(visit.date, when)
            if when is not None and when != visit.end:
                person, _ = observer(ledger, by, new_id)
                ledger.amend(visit._replace(end=when), "the visit ended", person, written_at(), new_id)
            finish(ledger)
    if as_json:
        say_json({"visit": visit.id, "end": when or visit.end})
        return
    click.echo(f"Ended: {_short(visit.date, visit.start, when)}.")


def _short(day: str | None, start_at: str | None, end_at: str | None) -> str:
    times = "-".join(filter(None, (start_at, end_at)))
    return " ".join(filter(None, (day or "no date", times)))


@command.command(name="list", short_help="List the visits, with the number of their sightings.")
@season_option("Visits")
@ledger_option
@json_option
def list_visits(season: int | None, ledger_name: str | None, as_json: bool) -> None:
    """List the visits as they stand, oldest first, with the number of their sightings.

    \b
      reedmace visit list --season 2026
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.records import as_body
    from reedmace.tasks.records.tell_visit import counted_visits
    from reedmace.tasks.walks.under_way import under_way

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        rows = counted_visits(ledger, season)
        if as_json:
            for visit, number in rows:
                say_json({"id": visit.id, "date": visit.date, "sightings": number, "visit": as_body(visit)})
            return
        from reedmace.terminal.screen import Screen
        from reedmace.terminal.visit_page import show_visits

        show_visits(Screen(), rows, under_way(ledger))


@command.command(short_help="Show one visit with its sightings.")
@click.argument("visit_id", default="", metavar="[ID]")
@ledger_option
@json_option
def show(visit_id: str, ledger_name: str | None, as_json: bool) -> None:
    """Show one visit with its sightings: by its id or the end of it; without one, the visit under way or the last.

    \b
      reedmace visit show 0198c2a1b3d4
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.records import as_body
    from reedmace.tasks.records.tell_visit import find_visit, sightings_of_visit

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        visit = find_visit(ledger, visit_id)
        rows = sightings_of_visit(ledger, visit)
        if as_json:
            say_json({"id": visit.id, "visit": as_body(visit), "sightings": [as_body(row[0]) for row in rows]})
            return
        from reedmace.terminal.screen import Screen
        from reedmace.terminal.visit_page import show_visit

        show_visit(Screen(), visit, rows, ledger.people.name_of)
