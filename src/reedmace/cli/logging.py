"""`reedmace log`: sightings into the ledger."""

from __future__ import annotations

import sys
from contextlib import ExitStack, nullcontext
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import by_option, json_option, key_option, ledger_option, load, visit_options
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reedmace.cli.log_once import Walk
    from reedmace.keys.model import Key
    from reedmace.ledger.store import Ledger
    from reedmace.records import Site, Visit
    from reedmace.tasks.shorthand.page_said import PageVisit
    from reedmace.tasks.shorthand.visit_said import VisitSaid

EVIDENCE = ["sight", "photo", "in hand", "exuvia"]


@click.command(name="log")
@click.argument("words", nargs=-1, metavar="LINE...")
@click.option("--from", "source", metavar="FILE", help="Lines from a file of notes; - is standard input.")
@visit_options
@click.option("--locality", metavar="NAME", default="", help='Name of the place: "Harrowmere, Sallow Farm pond".')
@click.option("--vice-county", metavar="VC", help="Vice-county, by number or name.")
@click.option("--evidence", type=click.Choice(EVIDENCE), help="What the name rests on.")
@click.option("--remarks", default="", help="Anything else about the visit.")
@click.option("--dry-run", is_flag=True, help="Show how the lines are understood; write nothing.")
@click.option("--words", "show_words", is_flag=True, help="Show the words of the shorthand.")
@by_option
@key_option
@ledger_option
@json_option
def command(
    words: tuple[str, ...],
    source: str | None,
    when: str | None,
    place: str | None,
    habitat: str | None,
    locality: str,
    vice_county: str | None,
    evidence: str | None,
    remarks: str,
    dry_run: bool,
    show_words: bool,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Write down what was seen.

    A LINE is a count, a name and what else was seen, in any order; several lines go in quotes (each in its own, or
    with line breaks between), or come on standard input or from a file, and are one visit. A line may say the visit
    itself. Without a line it asks.

    \b
      reedmace log 12 common blue m --place "SU 431 118" --date 2026-07-12
      reedmace log "3 cop azure dam" "emperor f ovip" --place "51.06, -1.31"
      reedmace log "visit 12/7/2026 @ SU 431 118 21C sun70 all" "12 com bl m"
      reedmace log --from sunday.txt
    """
    if show_words:
        _show_words()
        return
    from reedmace.cli.log_source import options_said, read_lines
    from reedmace.cli.log_written import tell_written, write_walks
    from reedmace.cli.observing import name_of_observer
    from reedmace.cli.surroundings import ledger_path, new_id

    key = load(key_name)
    path = ledger_path(ledger_name)
    asking = not words and source is None and sys.stdin.isatty()
    at_terminal = source not in (None, "-") and sys.stdin.isatty()
    with ExitStack() as open_files:
        from reedmace.ledger.store import open_ledger

        # A ledger that is not there yet is begun only when something is written.
        ledger = open_files.enter_context(open_ledger(path)) if path.exists() else None
        sites = ledger.sites() if ledger is not None else []
        options = options_said(key, when, place, habitat, locality, vice_county, remarks, sites)
        joins = _under_way(ledger, options)
        from reedmace.cli.given_back import Answered, given_back

        answered = Answered(options, joins=joins is not None) if asking else None
        pages = [] if asking else read_lines(key, words, source, sites)
        with given_back(key, answered) if answered is not None else nullcontext():
            while True:
                if answered is not None:
                    from reedmace.cli.log_asking import ask_page

                    options, pages = ask_page(key, answered, sites)
                walks = _walks(key, ledger, options, pages, sites, joins)
                if ledger is not None:
                    once = source is not None or (not words and any(page.said for page in pages))
                    walks = _not_there_yet(ledger, key, walks, by, once=once, asking=at_terminal and not dry_run)
                if dry_run:
                    _rehearse(key, walks, _name(ledger, by), joins, evidence, as_json=as_json)
                    return
                if ledger is None:
                    ledger = open_files.enter_context(open_ledger(path))
                name = name_of_observer(ledger, by, new_id)
                if not as_json:
                    _show(key, walks, name, joins)
                if not (asking or at_terminal) or _agreed(back=asking):
                    break
            first = ledger.is_new()
            written = write_walks(ledger, key, walks, joins, by, evidence, source)
        tell_written(ledger, name, written, first=first, as_json=as_json)


def _agreed(*, back: bool) -> bool:
    """Whether what was shown is to be written; False to go on with the lines, which `back` says where it may."""
    from reedmace.cli.asking import Back, confirm

    try:
        if confirm("Write this?", default=True, back=back):
            return True
    except Back:
        return False
    raise click.Abort


def _walks(
    key: Key,
    ledger: Ledger | None,
    options: VisitSaid,
    pages: Sequence[PageVisit],
    sites: Sequence[Site],
    joins: Visit | None,
) -> list[Walk]:
    """The visits of the pages, each with all that is said of it. Raises `Refused` where something has to be settled."""
    from reedmace.cli.no_child import no_child
    from reedmace.cli.whole_names import whole_names

    _anything(pages, options)
    several = len(pages) > 1
    placed = [_placed(options, page, joins, sites, above=several and not page.said) for page in pages]
    walks = [(page, said, _joined(said, joins)) for page, said in placed]
    no_child(walks, key)
    whole_names(walks, ledger)
    _not_differing(ledger, walks, joins)
    return walks


def _not_there_yet(
    ledger: Ledger, key: Key, walks: list[Walk], by: str | None, *, once: bool, asking: bool
) -> list[Walk]:
    """What the ledger does not have. Lines from a file, or of a whole page that is piped in, are there `once`.

    A line that was typed may come again.
    """
    from reedmace.cli.log_once import not_otherwise, only_new

    if once:
        walks = only_new(ledger, key, walks, by, asking=asking)
    not_otherwise(ledger, key, walks, by)
    return walks


def _rehearse(
    key: Key, walks: Sequence[Walk], name: str, joins: Visit | None, evidence: str | None, *, as_json: bool
) -> None:
    """Show what would be written."""
    from reedmace.cli.surroundings import new_id
    from reedmace.tasks.walks.rehearse import rehearse

    told = [rehearse(key, page, said, evidence, new_id, into, name) for page, said, into in walks]
    if as_json:
        for one in told:
            say_json(one)
    else:
        _show(key, walks, name, joins)


def _anything(pages: Sequence[PageVisit], options: VisitSaid) -> None:
    if not options.none_seen and not any(page.lines or page.said or page.notes for page in pages):
        hint = "write, for example,  reedmace log 12 common blue m"
        raise Refused(Fault("nothing-to-log", "There is nothing to log.", hint, typed=True))


def _under_way(ledger: Ledger | None, options: VisitSaid) -> Visit | None:
    """The visit under way, unless options say another day or place."""
    if ledger is None or options.day is not None or options.place is not None or options.site is not None:
        return None
    from reedmace.cli.surroundings import today
    from reedmace.tasks.walks.under_way import under_way

    return under_way(ledger, today())


def _placed(
    options: VisitSaid, page: PageVisit, joins: Visit | None, sites: Sequence[Site], *, above: bool
) -> tuple[PageVisit, VisitSaid]:
    """A visit of the page with all that is said of it; a place is needed, a day is today unless said."""
    from reedmace.cli.log_source import not_to_come, somewhere_some_day
    from reedmace.tasks.walks.log_walk import site_called, together

    said = site_called(sites, together(options, page.said, page.notes))
    day = joins.date if joins is not None else None
    if joins is None or _says_where_or_when(said):
        said = somewhere_some_day(said, page, above=above)
        day = said.day.iso if said.day else None
    else:
        not_to_come(day, said.start, said.end)
    not_to_come(day, *(time for one in page.lines for time in (one.line.said.time, one.spot and one.spot.start)))
    return page, said


def _says_where_or_when(said: VisitSaid) -> bool:
    return said.place is not None or said.site is not None or said.day is not None


def _joined(said: VisitSaid, joins: Visit | None) -> Visit | None:
    return joins if joins is not None and not _says_where_or_when(said) else None


def _name(ledger: Ledger | None, by: str | None) -> str:
    """The observer's name before anything is written: as said, else as the ledger knows it."""
    if by is not None:
        return by
    me = ledger.people.me() if ledger is not None else None
    return ledger.people.name_of(me) if ledger is not None and me is not None else "you"


def _show(key: Key, walks: Sequence[Walk], name: str, joins: Visit | None) -> None:
    """How everything was understood, before it is written."""
    from reedmace.cli.output import columns
    from reedmace.terminal.walk_text import added_lines, care_lines, seen_lines, visit_lines, wrapped

    for page, said, joined in walks:
        if joined is not None and joined == joins:
            place = joined.place
            where = ", ".join(filter(None, (place.square or place.typed, place.locality)))
            lines = [
                f"{joined.date} at {where}, the visit under way:",
                *visit_lines(said, name)[1:],
                *added_lines(said),
            ]
        else:
            lines = visit_lines(said, name)
        for line in wrapped([*lines, *seen_lines(key, page.lines), *care_lines(key, page.lines, said)], columns()):
            click.echo(line)


def _not_differing(ledger: Ledger | None, walks: Sequence[Walk], joins: Visit | None) -> None:
    """Raise `Refused` where lines say something else of the visit under way, which they join, than is known of it."""
    if ledger is None or joins is None:
        return
    from reedmace.tasks.walks.joining import differs

    told = [differs(joins, said, ledger.people.find) for _, said, into in walks if into is joins]
    if any(told):
        raise Refused(*filter(None, told))


def _show_words() -> None:
    """The words of the shorthand, by what they mean."""
    from reedmace.tasks.shorthand.field_words import VOCABULARY

    meanings: dict[tuple[str, str], list[str]] = {}
    for word, said in VOCABULARY.items():
        meanings.setdefault(said, []).append(word)
    labels = {
        "joining": "says nothing of its own",
        "pair": "a pair, in tandem unless said otherwise",
        "present": "present, not counted",
        "mark": "present, not counted; beside a number it says nothing more",
        "pairs-among": "the pairs are among those counted",
        "pairs-beside": "the pairs are beside those counted",
    }
    for (kind, meaning), found in meanings.items():
        click.echo(f"{labels.get(meaning, labels.get(kind, meaning))}: {' '.join(found)}")
