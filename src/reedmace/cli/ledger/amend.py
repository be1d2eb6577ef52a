"""`reedmace ledger amend`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from reedmace.cli.options import json_option, key_option, ledger_option, load, reason_option, writer_option
from reedmace.cli.output import say_written

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reedmace.ledger.store import Ledger
    from reedmace.records import Sighting, Visit
    from reedmace.tasks.records.amend_people import StillNamed
    from reedmace.tasks.records.amend_values import Around
    from reedmace.tasks.records.tell_history import Change

_LISTED = 20  # sightings told that name somebody still
# What the line of a record shows, as far as it shows it as it is told here.
_SHOWN = ("date", "place", "habitat", "weather", "remarks", "count", "sex", "stage", "behaviour", "time")


@click.command(name="amend", short_help="Correct a sighting or a visit, by a new entry with a reason.")
@click.argument("one", metavar="ID")
@click.argument("changes", nargs=-1, required=True, metavar="FIELD=VALUE...")
@reason_option
@writer_option
@key_option
@ledger_option
@json_option
def command(
    one: str,
    changes: tuple[str, ...],
    reason: str,
    by: str | None,
    key_name: str | None,
    ledger_name: str | None,
    as_json: bool,
) -> None:
    """Correct a sighting or a visit, by a new entry; what was there before stays in its history.

    Of a sighting: count, sex, stage, behaviour, evidence, certainty, time, place, locality, observers (where it has
    its own), determiner (who named it), named (on which day), photos, remarks. Of a visit: date, start, end, place,
    locality, vice-county, observers, party, habitat, weather, method, all, permission, none-seen, exuvia-passes,
    remarks. An empty value clears a field. The last signs of an id, as in the list, will do.

    \b
      reedmace ledger amend 0198c2a1b3d4 count=13 sex=male --reason "recounted"
      reedmace ledger amend 0198c2a1b3d4 photos="+wing.jpg" --reason "found it"
      reedmace ledger amend 0198c2a1b3d5 observers="Ben Sallow" --reason "slip"
    """
    from reedmace.cli.ledger.chosen import subjects
    from reedmace.cli.no_child import no_child, no_child_amended
    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import ledger_path, new_id, written_at
    from reedmace.cli.whole_names import whole_names
    from reedmace.ledger.store import open_ledger
    from reedmace.records import Visit
    from reedmace.tasks.records.amend_people import as_walk, still_named
    from reedmace.tasks.records.amend_record import read_changes
    from reedmace.tasks.records.naming_days import moved_along
    from reedmace.tasks.records.tell_history import changes_between

    with open_ledger(ledger_path(ledger_name), create=False) as ledger:
        [subject] = subjects(ledger, [one])
        standing = ledger.standing(subject)
        assert standing is not None
        record, meta = standing
        around = _around(ledger, record, key_name)
        read = read_changes(record, changes, around)
        if any(named.names for named in read.people):
            no_child([as_walk(record, read.people, around.visit)], remarks=False)
            whole_names([as_walk(record, read.people, around.visit)], ledger)
        no_child_amended(record, around.visit, changes, reason, lambda: load(key_name))
        along: list[tuple[Sighting, str]] = []
        left: list[StillNamed] = []
        with writing_as(ledger, by, new_id) as (person, _):
            changed = read.with_people(lambda name: ledger.people.register(name, new_id))
            if isinstance(record, Visit) and isinstance(changed, Visit):
                along = moved_along(ledger, record, changed)
                left = still_named(ledger, record, changed)
            # The visit last: what was done last is what somebody would undo.
            entries = ledger.amend_all([*along, (changed, meta.entry_id)], reason, person, written_at(), new_id)
        if as_json:
            say_written(entries, "amended")
            return
        _tell(record, changed, changes_between(ledger, record, changed))
        tell_along(len(along))
        _tell_left(ledger, left)


def _around(ledger: Ledger, record: Sighting | Visit, key_name: str | None) -> Around:
    from pathlib import Path

    from reedmace.cli.surroundings import today
    from reedmace.ledger.wanted import Wanted
    from reedmace.records import Sighting, Visit
    from reedmace.tasks.records.amend_values import Around
    from reedmace.tasks.shared.photographs import photo_in

    holds = False
    visit = None
    if isinstance(record, Visit):
        holds = next(ledger.current_sightings(Wanted(visit_id=record.id), 1), None) is not None
    elif isinstance(record, Sighting) and (standing := ledger.standing(record.visit_id)):
        visit = standing[0] if isinstance(standing[0], Visit) else None
    return Around(today(), lambda: load(key_name), visit, holds, photo_in(Path()), ledger.sites())


def _tell(record: Sighting | Visit, changed: Sighting | Visit, differences: Sequence[Change]) -> None:
    from reedmace.records import Sighting
    from reedmace.terminal.ledger_list import told
    from reedmace.terminal.plain import literal

    was, now = told(record), told(changed)
    click.echo(f"Was:  {was}")
    click.echo(f"Now:  {now}")
    for change in differences:
        # What the two lines do not show, such as a vice-county.
        lines = ((change.was, was), (change.now, now))
        if change.field not in _SHOWN or any(literal(text) not in line for text, line in lines if text != "nothing"):
            click.echo(f"      {change.field}: {literal(change.was)} → {literal(change.now)}")
    if isinstance(record, Sighting) and isinstance(changed, Sighting):
        for photo in changed.photos:
            if not photo.sha256 and photo not in record.photos:
                path = literal(photo.path)
                click.echo(f"The photograph {path} was not found here; its name is kept, without a checksum.", err=True)


def tell_along(number: int) -> None:
    """Say in how many sightings the day of the naming followed the date of their visit."""
    from reedmace.terminal.words import plural

    if number:
        click.echo(f"The day of the naming goes along in {plural(number, 'sighting')}.")


def _tell_left(ledger: Ledger, left: Sequence[StillNamed]) -> None:
    """Who was taken from the observers, and is still named in sightings: each with what amends it."""
    from reedmace.terminal.ledger_list import told
    from reedmace.terminal.plain import literal

    for still in left[:_LISTED]:
        name = literal(ledger.people.name_of(still.person))
        field = "observers" if still.as_observer else "determiner"
        said = f"{name} still saw" if still.as_observer else f"{name} still named"
        click.echo(f"{said}: {told(still.sighting)}")
        click.echo(f'  reedmace ledger amend {still.sighting.id[-12:]} {field}="NAME" --reason WHY')
    if len(left) > _LISTED:
        click.echo(f"and {len(left) - _LISTED} more")
