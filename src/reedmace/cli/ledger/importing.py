"""`reedmace ledger import`."""

from __future__ import annotations

import sys
from contextlib import ExitStack, nullcontext
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import click

from reedmace.cli.options import Renamed, by_option, delimiter_option, json_option, key_option, ledger_option, load
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.keys.model import Key
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.sheets.bands import Bands
    from reedmace.tasks.sheets.columns import ColumnMapping
    from reedmace.tasks.sheets.rows import Sheet

_SAMPLE = 200  # rows looked at to guess what the columns mean
_ZERO = click.Choice(["absent", "present", "skip"])


@click.command(name="import", short_help="Bring in records from a CSV file: Darwin Core or any spreadsheet.")
@click.argument("file", metavar="FILE")
@click.option("--mapping", "--profile", "profile", cls=Renamed, metavar="NAME", help="A mapping kept by --save-as.")
@click.option("--map", "typed", multiple=True, metavar="HEADING=FIELD", help="What a column means; empty to leave out.")
@click.option("--save-as", metavar="NAME", help="Keep the mapping of columns under a name, for the next such file.")
@click.option("--zero", type=_ZERO, help="What a count of 0 means in this file.")
@click.option("--century", type=click.Choice(["1900", "2000"]), help="The century of years with two digits.")
@click.option("--bands", metavar="TABLE", help='What letters or words stand for in a count: "few=2-5, some=6-20".')
@click.option("--as-above", is_flag=True, help="Empty cells of day, place and people mean what stands above them.")
@click.option("--encoding", metavar="NAME", help="How the text is written, where it is guessed wrong: cp1252, utf-16.")
@delimiter_option
@click.option("--dry-run", is_flag=True, help="Say what would happen, and write nothing.")
@click.option("--yes", is_flag=True, help="Take the guessed mapping without asking.")
@by_option
@key_option
@ledger_option
@json_option
def command(
    file: str,
    profile: str | None,
    typed: tuple[str, ...],
    save_as: str | None,
    zero: str | None,
    century: str | None,
    bands: str | None,
    as_above: bool,
    encoding: str | None,
    delimiter: str | None,
    dry_run: bool,
    yes: bool,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Bring in the records of a CSV file: Darwin Core (an archive too), this program's own export, or any spreadsheet.

    What the columns mean is guessed, shown and confirmed. A row that cannot be read does not stop the others: it
    comes back in FILE.faults.csv with its fault beside it, to be corrected and imported in its turn. Importing a
    file twice adds nothing. Dates are read day first.

    \b
      reedmace ledger import walks.csv --dry-run
      reedmace ledger import walks.csv --map "Spp=name" --save-as walks
      reedmace ledger import next.csv --mapping walks
    """
    from reedmace.cli.observing import name_of_observer, observer
    from reedmace.cli.progress import Progress
    from reedmace.cli.surroundings import ledger_path, new_id, today, written_at
    from reedmace.darwincore import is_archive, occurrences_of
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.sheets.everywhere import with_said_above
    from reedmace.tasks.sheets.import_file import Importing, import_file
    from reedmace.tasks.sheets.profiles import save
    from reedmace.tasks.sheets.rows import look_at

    key = load(key_name)
    packed = is_archive(file)
    progress = Progress("rows read")
    with ExitStack() as opened:
        table = opened.enter_context(occurrences_of(file) if packed else nullcontext(file))
        sheet = with_said_above(look_at(str(table), encoding, delimiter)._replace(named=file))
        path = ledger_path(ledger_name)
        if dry_run and not path.exists():
            # None is begun for a dry run.
            path = Path(opened.enter_context(TemporaryDirectory(prefix="reedmace-"))) / "new"
        ledger = opened.enter_context(open_ledger(path))
        name = name_of_observer(ledger, by, new_id)
        mapping = _mapping(ledger, key, sheet, profile, typed)
        mapping = mapping._replace(
            zero=zero or mapping.zero,
            century=int(century) if century is not None else mapping.century,
            bands=_bands(bands) if bands is not None else mapping.bands,
            as_above=as_above or mapping.as_above,
        )
        mapping = _confirm(sheet, mapping, name, ask=profile is None and not yes, quiet=as_json)
        person = ledger.people.find(name) or new_id() if dry_run else observer(ledger, by, new_id)[0]
        if save_as is not None and not dry_run:
            save(ledger, save_as, mapping, person, written_at(), new_id)
        how = Importing(person, name, written_at(), new_id, today(), dry_run)
        try:
            done = import_file(ledger, key, sheet, mapping, how, progress)
        finally:
            progress.close()
    if as_json:
        faults = {code: kind._asdict() for code, kind in done.faults.items()}
        say_json(
            {
                **done._asdict(),
                "faults": faults,
                "read_as": [one._asdict() for one in done.read_as],
                "not_in_key": [one._asdict() for one in done.not_in_key],
                "corrected": [one._asdict() for one in done.corrected],
            }
        )
    else:
        from reedmace.terminal.import_page import show_import
        from reedmace.terminal.plain import literal
        from reedmace.terminal.screen import Screen

        show_import(Screen(), done, dry=dry_run)
        if done.faults_file is not None:
            # Not wrapped: a path is there to be copied.
            click.echo(f"They are in {literal(done.faults_file)}: correct them there, and import that file.")
    if done.faulty:
        sys.exit(1)


def _bands(text: str) -> Bands:
    from reedmace.tasks.sheets.bands import read_bands

    read = read_bands(text)
    if isinstance(read, Fault):
        raise Refused(read)
    return read


def _mapping(ledger: Ledger, key: Key, sheet: Sheet, profile: str | None, typed: tuple[str, ...]) -> ColumnMapping:
    from reedmace.cli.surroundings import today
    from reedmace.tasks.sheets.columns import by_cells, corrected, guess, missing, unsure
    from reedmace.tasks.sheets.headings import crosswise, numbers_crosswise, record_as_headings, uncounted
    from reedmace.tasks.sheets.profiles import saved
    from reedmace.tasks.sheets.rows import rows
    from reedmace.tasks.sheets.twins import settled

    if profile is not None:
        mapping = saved(ledger, profile, sheet)
    else:
        sample = [row.cells for row in islice(rows(sheet), _SAMPLE)]
        mapping = guess(key, sheet.columns, sample, today())
        if not mapping.darwin_core and (lost := record_as_headings(key, sheet.columns, today())):
            raise Refused(lost)
        answered = {text.rpartition("=")[0].strip() for text in typed}
        if asked := [one for one in unsure(mapping, sheet.columns, sample) if one.said not in answered]:
            raise Refused(*asked)
        mapping = by_cells(corrected(mapping, typed), sheet.columns, sample)
    if profile is not None:
        mapping = corrected(mapping, typed)
    spoken = mapping.columns if profile is not None else [text.rpartition("=")[::2] for text in typed]
    said = {heading.strip() for heading, _ in spoken}
    if faults := missing(mapping, said):
        crossed = crosswise(key, mapping, today())
        raise Refused(*([crossed] if crossed else faults))
    some = [row.cells for row in islice(rows(sheet), _SAMPLE)]
    for lost in (numbers_crosswise(mapping, sheet.columns, some), uncounted(mapping, sheet.columns, some)):
        if lost is not None and lost.said not in said:
            raise Refused(lost)
    return settled(sheet, mapping, said)


def _confirm(sheet: Sheet, mapping: ColumnMapping, name: str, *, ask: bool, quiet: bool) -> ColumnMapping:
    """Show what the columns are taken to mean; at a terminal, ask whether that is right and what 0 means."""
    from reedmace.cli.output import columns
    from reedmace.tasks.sheets.parts import COUNTING
    from reedmace.tasks.sheets.profiles import first_zero
    from reedmace.terminal.mapping_text import mapping_text
    from reedmace.terminal.walk_text import wrapped

    ask = ask and not mapping.darwin_core
    terminal = sys.stdin.isatty()
    if not quiet and not (mapping.darwin_core and not ask):
        for shown in wrapped(mapping_text(sheet, mapping, ("observer", name)).splitlines(), columns()):
            click.echo(shown, err=True)
    if ask and not terminal:
        raise Refused(
            Fault(
                "mapping-not-confirmed",
                "What the columns mean was guessed, and nobody is here to confirm it.",
                "look at it above and add  --yes , or correct it with  --map HEADING=FIELD",
                typed=True,
            )
        )
    if ask and not click.confirm("Is this right?", default=True, err=True):
        hint = "correct it with  --map HEADING=FIELD , or leave a column out with  --map HEADING="
        raise Refused(Fault("mapping-refused", "Nothing was imported.", hint, typed=True))
    if terminal and not mapping.zero and not mapping.darwin_core:
        line = first_zero(sheet, mapping)
        if line is not None:
            asked = f"Line {line} counts nothing (0, no or blank). What does that mean in this file?"
            if COUNTING.isdisjoint(field for _, field in mapping.columns if field):
                asked = f"Line {line} has a count of 0. What does 0 mean in this file?"
            chosen = click.prompt(asked, type=_ZERO, err=True)
            mapping = mapping._replace(zero=chosen)
    return mapping
