"""A walk of `reedmace log` is written, and what was written is told."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from reedmace.cli.output import say_json

if TYPE_CHECKING:
    from reedmace.cli.log_once import Walk
    from reedmace.keys.model import Key
    from reedmace.ledger.store import Ledger
    from reedmace.records import Sighting, Visit


def write_walks(
    ledger: Ledger,
    key: Key,
    walks: Sequence[Walk],
    joins: Visit | None,
    by: str | None,
    evidence: str | None,
    source: str | None,
) -> list[tuple[Visit, list[Sighting]]]:
    """Write all visits of a page, and the people named on it; or nothing of it. `joins` is the visit under way."""
    from pathlib import Path

    from reedmace.cli.observing import writing_as
    from reedmace.cli.surroundings import new_id, written_at
    from reedmace.tasks.shared.photographs import photo_in
    from reedmace.tasks.walks.log_walk import Writer, log_visit

    folder = Path(source).parent if source not in (None, "-") else Path()
    with writing_as(ledger, by, new_id) as (person, _):
        writer = Writer(person, written_at(), new_id, photo_in(folder))
        return [
            log_visit(
                ledger, key, page, said, writer, evidence=evidence, joins=into, adds=into is not None and into == joins
            )
            for page, said, into in walks
        ]


def tell_written(
    ledger: Ledger, name: str, written: list[tuple[Visit, list[Sighting]]], *, first: bool, as_json: bool
) -> None:
    """Say what was written, once it is on the disk; `first` where it begins a ledger."""
    from reedmace.terminal.plain import literal

    lost: list[str] = []
    for visit, sightings in written:
        lost += [photo.path for one in sightings for photo in one.photos if not photo.sha256]
        if as_json:
            ids = [one.id for one in sightings]
            say_json({"visit": visit.id, "sightings": ids, "ledger": str(ledger.path)})
        else:
            number = len(sightings)
            what = f"{number} sighting{'' if number == 1 else 's'}" if number else "the visit"
            click.echo(f"Logged for {literal(name)}: {what}.")
    for path in dict.fromkeys(lost):
        click.echo(
            f"The photograph {literal(path)} was not found here; its name is kept, without a checksum.", err=True
        )
    if not as_json:
        if first:
            click.echo("This begins a new ledger.", err=True)
        click.echo(f"In {literal(str(ledger.path))}. Take the last line back with:  reedmace ledger undo", err=True)
