"""`reedmace ledger`: one file for each of its commands."""

from __future__ import annotations

import click

from reedmace.cli.lazy import LazyGroup

COMMANDS = {
    "list": ("ledger.list", "List the sightings as they stand, oldest first."),
    "history": ("ledger.history", "Tell the story of one record."),
    "where": ("ledger.where", "Say which file the ledger is."),
    "undo": ("ledger.undo", "Take back the last line, by a new entry."),
    "amend": ("ledger.amend", "Correct a sighting or a visit, by a new entry with a reason."),
    "redetermine": ("ledger.redetermine", "Give sightings another name, by a new entry with a reason."),
    "withdraw": ("ledger.withdraw", "Take back sightings or visits, by new entries with a reason."),
    "reinstate": ("ledger.reinstate", "Let what was withdrawn stand again."),
    "review": ("ledger.review", "Past names against the key of today: what would come out otherwise."),
    "import": ("ledger.importing", "Bring in records from a CSV file: Darwin Core or any spreadsheet."),
    "merge": ("ledger.merge", "Bring another ledger's entries into this one."),
    "settle": ("ledger.settle", "Decide where two copies said different things."),
    "same": ("ledger.same", "Two observers' records of what are probably the same insects."),
    "backup": ("ledger.backup", "A consistent copy in one file, also while the ledger is in use."),
    "restore": ("ledger.restore", "A new ledger from a dump or a backup."),
    "dump": ("ledger.dump", "The whole ledger as plain text, one entry a line."),
    "audit": ("ledger.audit", "Look whether everything in the file is as it should be."),
    "forget": ("ledger.forget", "Remove a person's name and contact details from the file."),
}
PARTS = {"list": "Looking", "undo": "Correcting", "import": "Bringing in", "backup": "Looking after the file"}


@click.group(name="ledger", cls=LazyGroup, lazy=COMMANDS, parts=PARTS)
def command() -> None:
    """The ledger: every sighting, and everything that was ever said about it."""
