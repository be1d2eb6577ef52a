"""`reedmace ledger merge`."""

from __future__ import annotations

from pathlib import Path

import click

from reedmace.cli.options import json_option, ledger_option
from reedmace.cli.output import say_json
from reedmace.faults import cannot_read


@click.command(name="merge", short_help="Bring another ledger's entries into this one.")
@click.argument("other", metavar="OTHER")
@ledger_option
@json_option
def command(other: str, ledger_name: str | None, as_json: bool) -> None:
    """Bring every entry of another ledger (a file) into this one; the other is only read.

    What is in both is one. Where both changed the same record in different ways, both are kept and shown for a
    decision. Merging twice, or the other way round, gives the same. Names of people come along, contact details
    do not.

    \b
      reedmace ledger merge from-ben.ledger
    """
    from reedmace.cli.progress import Progress
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.copies import looked_into
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.walks.same_insects import same_walks
    from reedmace.terminal.words import plural

    try:
        Path(other).stat()
    except OSError as error:
        raise cannot_read(other, error) from error
    path = ledger_path(ledger_name)
    if not path.exists():
        # None is begun for one that cannot be read.
        with looked_into(other):
            pass
    progress = Progress("entries compared")
    with open_ledger(path) as ledger:
        try:
            done = ledger.merge(other, progress)
        finally:
            progress.close()
        walks = same_walks(ledger, done.visits)
    if as_json:
        say_json({**done._asdict(), "same_walks": [[walk.one.id, walk.other.id] for walk in walks]})
        return
    entries, people = plural(done.new, "entry", "entries"), plural(done.people, "person", "people")
    click.echo(f"Taken over: {entries}, {people}. In both already: {done.there:,}.")
    if done.diverged:
        click.echo(f"Changed in different ways, to be decided: {plural(len(done.diverged), 'record')}. See")
        click.echo("  reedmace ledger settle")
    if walks:
        count = sum(len(walk.names) for walk in walks)
        click.echo(
            f"Written down by two observers, probably the same insects: {plural(count, 'name')}"
            f" on {plural(len(walks), 'walk')}. See"
        )
        click.echo("  reedmace ledger same")
