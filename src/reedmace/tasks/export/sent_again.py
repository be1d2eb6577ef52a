"""What stood in the cells of a recipient's own sheet that was sent: made again from the entries it was made from."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.faults import Refused
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import Submission
from reedmace.tasks.export.cells import harmless
from reedmace.tasks.export.changes import again
from reedmace.tasks.export.profiles import from_body
from reedmace.tasks.export.rows import rows
from reedmace.tasks.export.sheet import cells_of_rows

Cells = dict[str, str]


def cells_sent(ledger: Ledger, submission: Submission) -> Iterator[tuple[tuple[str, ...], Cells]]:
    """Give for each row of a sheet that was sent the ids of its sightings, and its cells by what they hold.

    Nothing for a file of the standard, whose cells say what the record says, nor for a public version, nor where the
    ledger does not have the entries that it was made from.
    """
    how = {name: value for name, value in submission.how.items() if name not in ("season", "since_last")}
    if submission.format != "sheet":
        return
    try:
        profile = from_body(how)
        told = again(ledger, submission, None)
    except Refused:
        return
    if profile.sheet is None or profile.public:
        return
    for cells in cells_of_rows(rows(ledger, profile, told, submission.made_at), profile.sheet):
        wanted = {source: harmless(cells.get(source, "")) for source in profile.sheet.columns.values()}
        yield tuple(cells.get("id", "").split(" | ")), wanted
