"""`reedmace ledger dump`."""

from __future__ import annotations

import sys
from contextlib import closing

import click

from reedmace.cli.options import ledger_option


@click.command(name="dump", short_help="The whole ledger as plain text, one entry a line.")
@click.option("--to", metavar="FILE", help="A new file, instead of standard output.")
@click.option("--contacts", is_flag=True, help="With contact details, which are left out otherwise.")
@ledger_option
def command(to: str | None, contacts: bool, ledger_name: str | None) -> None:
    """Write the whole ledger, its history included, as plain text: one JSON object a line.

    The same entries give the same bytes, so a version control shows what was added. Names of people are in it;
    a name that is in a published dump cannot be forgotten.

    \b
      reedmace ledger dump --to sightings.txt
    """
    from reedmace.cli.surroundings import ledger_path
    from reedmace.ledger.store import open_ledger
    from reedmace.tasks.shared.write_lines import write_lines

    # The lines are closed before the ledger is, also where nobody reads on.
    with (
        open_ledger(ledger_path(ledger_name), create=False) as ledger,
        closing(ledger.dump(contacts=contacts)) as lines,
    ):
        if to is not None:
            write_lines(to, lines)
            return
        # Bytes: the same whatever the terminal's own encoding is.
        for line in lines:
            sys.stdout.buffer.write(f"{line}\n".encode())
        sys.stdout.flush()
