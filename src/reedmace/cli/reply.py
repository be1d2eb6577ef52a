"""`reedmace reply`: the county recorder's answers."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import (
    Renamed,
    delimiter_option,
    json_option,
    key_option,
    ledger_option,
    load,
    writer_option,
)
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.replies.accept_offers import Accepted, Accepting
    from reedmace.tasks.replies.answered import Answered, Read
    from reedmace.tasks.replies.open_offers import OpenOffer
    from reedmace.tasks.sheets.columns import ColumnMapping
    from reedmace.tasks.sheets.rows import Sheet
    from reedmace.terminal.screen import Screen


@click.command(name="reply", short_help="Take in the county recorder's answers, and a receipt.")
@click.argument("file", required=False, metavar="[FILE]")
@click.option("--verifier", metavar="NAME", default="", help="Who decided, where no column says so.")
@click.option("--about", metavar="ID", help="Instead of FILE: one answer, about this record; with --verifier and")
@click.option("--status", metavar="WORD", default="", help="what was decided,")
@click.option("--name", "given", metavar="NAME", default="", help="the name that was given instead,")
@click.option("--on", metavar="DATE", default="", help="when, and --remarks.")
@click.option("--map", "typed", multiple=True, metavar="HEADING=FIELD", help="What a column means; empty to leave out.")
@click.option("--accept", multiple=True, metavar="all|ID", help="Take the corrections on offer: all, or a record's.")
@click.option("--open", "open_", is_flag=True, help="Without FILE: list the corrections still on offer.")
@click.option("--decline", multiple=True, metavar="all|ID", help="Without FILE: do not take them; with --reason.")
@click.option("--reason", metavar="TEXT", default="", help="With --decline: why, in a few words.")
@click.option("--yes", is_flag=True, help="Take records found by name, date and place without asking.")
@click.option("--encoding", metavar="NAME", help="How the text is written, where it is guessed wrong: cp1252, utf-16.")
@delimiter_option
@click.option("--dry-run", is_flag=True, help="Say what would happen, and write nothing.")
@click.option("--receipt", metavar="SUBMISSION", help="Instead of FILE: they got this (its id, number or file).")
@click.option("--loaded", type=click.IntRange(0), metavar="N", help="With --receipt: so many rows were loaded,")
@click.option("--of", "total", type=click.IntRange(0), metavar="M", help="of so many.")
@click.option(
    "--remarks",
    "--note",
    "note",
    cls=Renamed,
    metavar="TEXT",
    default="",
    help="With --about or --receipt: what they said beside it.",
)
@writer_option
@key_option
@ledger_option
@json_option
def command(
    file: str | None,
    verifier: str,
    about: str | None,
    status: str,
    given: str,
    on: str,
    typed: tuple[str, ...],
    accept: tuple[str, ...],
    open_: bool,
    decline: tuple[str, ...],
    reason: str,
    yes: bool,
    encoding: str | None,
    delimiter: str | None,
    dry_run: bool,
    receipt: str | None,
    loaded: int | None,
    total: int | None,
    note: str,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Take in a county recorder's answers from a CSV file: what was decided, by whom, when, and the remarks.

    Each answer is kept beside its record and overwrites nothing. A new name, place, date, count or stage is on
    offer until you accept it. Records are found by our ids, or else by name, date and place. A row that answers to
    none, to several, or against itself comes back in FILE.faults.csv. Reading a file twice adds nothing.

    Without FILE, --open lists what is still on offer; --accept takes it, and --decline puts it aside with a reason.
    Of one verifier's answers about a record the latest counts. --verifier chooses among several verifiers.

    \b
      reedmace reply answers.csv --verifier "Tarn Fenwick"
      reedmace reply --about 0198c2a1b3d4 --status correct --verifier "Ola Brisk"
      reedmace reply --open
      reedmace reply --accept 0198c2a1b3d4
      reedmace reply --decline 0198c2a1b3d4 --reason "the photograph shows two"
      reedmace reply --receipt 0198c2a1b3d4 --loaded 40 --of 41
    """
    if receipt is not None:
        from reedmace.cli.reply_receipt import receipt_command

        receipt_command(file, receipt, loaded, total, note, by=by, ledger_name=ledger_name, as_json=as_json)
        return
    if open_ or decline or (accept and file is None):
        from reedmace.cli.reply_open import OpenAsked, open_command

        asked = OpenAsked(open_, accept, decline, reason, verifier, dry_run, as_json)
        open_command(file, asked, by, key_name, ledger_name)
        return
    if file is not None and about is not None:
        hint = "reedmace reply FILE , or  reedmace reply --about ID --status WORD --verifier NAME"
        raise Refused(Fault("offers-unclear", "A file of answers, or one answer.", hint, typed=True))
    if file is None and about is None:
        hint = "reedmace reply FILE , or  --about ID --status WORD , or  --open , or  --receipt SUBMISSION"
        raise Refused(Fault("file-missing", "There is no file of answers.", hint, typed=True))
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.replies.accept_offers import Accepting
    from reedmace.tasks.replies.columns import reply_heading
    from reedmace.tasks.replies.recorder_replies import read_one, read_replies, write_faulty, write_replies
    from reedmace.tasks.sheets.rows import look_at

    sheet = None if file is None else look_at(file, encoding, delimiter, reply_heading)
    key = load(key_name)
    screen = None if as_json else _screen()
    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        if sheet is None:
            said = {"id": about or "", "status": status, "new_name": given, "verified_on": on, "remark": note}
            said |= {"verifier": verifier}
            read = read_one(ledger, key, {field: text.strip() for field, text in said.items() if text.strip()}, today())
        else:
            mapping = _mapping(ledger, sheet, typed, verifier, quiet=as_json)
            read = read_replies(ledger, key, sheet, mapping, verifier, today())
        read = _confirmed(screen, read, yes=yes or dry_run)
        new = [one for one in read.answers if not one.there]
        done: list[Accepted] = []
        left: list[OpenOffer] = []
        if not dry_run:
            with writing_as(ledger, by, new_id) as (person, _):
                write_replies(ledger, read.answers, person, written_at(), new_id)
        faults_file = None if sheet is None else write_faulty(sheet, read.faulty, dry_run)
        declined = ledger.declined_offers()
        if screen is not None:
            _tell(screen, read, new, dry_run=dry_run, faults_file=faults_file, of_file=sheet is not None)
        if not dry_run:
            how = Accepting(key, written_at(), new_id, today())
            done, left = _take(screen, ledger, read, accept, how)
    if screen is None:
        say_json(_as_json(read, new, done, faults_file))
    elif dry_run and (offering := [one for one in read.answers if one.offers and one.reply not in declined]):
        from reedmace.terminal.reply_page import show_offers

        show_offers(screen, offering)
    if read.faulty or left or any(one.refused for one in done):
        sys.exit(1)


def _mapping(ledger: Ledger, sheet: Sheet, typed: tuple[str, ...], verifier: str, *, quiet: bool) -> ColumnMapping:
    """Take the columns by their headings (ids also by their cells), show how; raise `Refused` if one lacks."""
    from reedmace.cli.output import columns
    from reedmace.tasks.replies.columns import HEADINGS, guess_reply, lacking
    from reedmace.tasks.replies.match import with_ids
    from reedmace.tasks.sheets.columns import corrected
    from reedmace.terminal.mapping_text import mapping_text
    from reedmace.terminal.walk_text import wrapped

    mapping = corrected(with_ids(ledger, sheet, guess_reply(sheet.columns)), typed, HEADINGS)
    if not quiet:
        for shown in wrapped(mapping_text(sheet, mapping, ("verifier", verifier)).splitlines(), columns()):
            click.echo(shown, err=True)
    if faults := lacking(mapping, verifier=bool(verifier.strip())):
        raise Refused(*faults)
    return mapping


def _screen() -> Screen:
    from reedmace.terminal.screen import Screen

    return Screen()


def _confirmed(screen: Screen | None, read: Read, *, yes: bool) -> Read:
    """Show what was found by words; at a terminal ask, else what nobody confirmed comes back as faulty rows."""
    from reedmace.tasks.replies.recorder_replies import unconfirmed

    new = [one for one in read.by_words if not one.there]
    if not new:
        return read
    if screen is not None:
        from reedmace.terminal.reply_page import show_matches

        show_matches(screen, new)
    if yes:
        return read
    if (
        screen is not None
        and sys.stdin.isatty()
        and click.confirm("Are these the records that are meant?", default=True, err=True)
    ):
        return read
    return unconfirmed(read)


def _tell(
    screen: Screen, read: Read, new: list[Answered], *, dry_run: bool, faults_file: str | None, of_file: bool
) -> None:
    from reedmace.tasks.sheets.faults_file import kinds_of
    from reedmace.terminal.faulty_rows import show_faulty_rows
    from reedmace.terminal.reply_page import show_counts, show_notes
    from reedmace.terminal.words import plural

    would = "Would keep" if dry_run else "Kept"
    source = f" from {plural(read.rows, 'row')}" if of_file else ""
    screen.say(f"{would} {plural(len(new), 'answer')}{source}.")
    show_counts(screen, new)
    show_notes(screen, new)
    there = len(read.answers) - len(new)
    if there:
        screen.say(f"In the ledger already: {there:,}.")
    if read.silent:
        screen.say(f"Rows without an answer: {read.silent:,}.")
    if read.faulty:
        kinds = kinds_of(fault for _, faults in read.faulty for fault in faults)
        show_faulty_rows(screen, len(read.faulty), kinds)
    if faults_file is not None:
        screen.say(f"They are in {faults_file}: correct them there, and read that file.")


def _take(
    screen: Screen | None, ledger: Ledger, read: Read, wanted: tuple[str, ...], how: Accepting
) -> tuple[list[Accepted], list[OpenOffer]]:
    """Take what is accepted by option, or asked one by one at a terminal; else show what is on offer.

    Gives what was taken, and what was left, for several verifiers say different things of a record.
    """
    from reedmace.tasks.replies.accept_offers import accept
    from reedmace.tasks.replies.open_offers import choose, open_offers
    from reedmace.tasks.replies.recorder_replies import looked_up

    read_now = {one.reply for one in looked_up(ledger, [one for one in read.answers if one.offers])}
    offers = [one for one in open_offers(ledger, how.key, how.today) if one.reply in read_now] if read_now else []
    left: list[OpenOffer] = []
    if not offers and all(one.strip().casefold() == "all" for one in wanted):
        return [], []
    if wanted:
        chosen, left = choose(offers, wanted)
    elif screen is None:
        return [], []
    elif sys.stdin.isatty():
        chosen = _asked(screen, offers)
    else:
        from reedmace.terminal.reply_page import show_offers

        show_offers(screen, offers)
        screen.say("Take them with:  --accept all  or  --accept ID , for each that is right")
        screen.say("They stay on offer:  reedmace reply --open")
        return [], []
    done = accept(ledger, [(one, one.offers) for one in chosen], how)
    if screen is not None:
        from reedmace.cli.reply_open import say_left
        from reedmace.terminal.reply_page import show_accepted

        show_accepted(screen, done)
        say_left(left, as_json=False)
        if len(chosen) + len(left) < len(offers):
            screen.say("What was not taken stays on offer:  reedmace reply --open")
    return done, left


def _asked(screen: Screen, offers: list[OpenOffer]) -> list[OpenOffer]:
    """Ask of each offer; of a record for which one verifier's was taken another's is no longer asked."""
    from reedmace.terminal.reply_page import show_offer

    taken: dict[str, OpenOffer] = {}
    for one in offers:
        if one.found.sighting.id in taken:
            continue
        show_offer(screen, one)
        if click.confirm("  Take this correction?", default=False, err=True):
            taken[one.found.sighting.id] = one
    return list(taken.values())


def _as_json(read: Read, new: list[Answered], done: list[Accepted], faults_file: str | None) -> dict[str, object]:
    taken = {one.answer.found.sighting.id for one in done if not one.refused}
    return {
        "rows": read.rows,
        "new": len(new),
        "there": len(read.answers) - len(new),
        "without_answer": read.silent,
        "faulty": [{"line": row.line, "faults": [fault.code for fault in faults]} for row, faults in read.faulty],
        "faults_file": faults_file,
        "answers": [
            {
                "id": one.found.sighting.id,
                "status": one.said.status,
                "verifier": one.verifier,
                "date": one.said.date,
                "remark": one.said.remark,
                "found_by_id": one.found.by_id,
                "there": one.there,
                "offers": [offer._asdict() for offer in one.offers],
                "accepted": one.found.sighting.id in taken,
            }
            for one in read.answers
        ],
    }
