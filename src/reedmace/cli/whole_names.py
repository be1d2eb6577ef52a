"""Names that may be short for somebody who is named or known already: nothing is written until they are whole."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reedmace.faults import Refused

if TYPE_CHECKING:
    from reedmace.cli.log_once import Walk
    from reedmace.ledger.store import Ledger


def whole_names(walks: Sequence[Walk], ledger: Ledger | None) -> None:
    """Raise `Refused` for names of walks that may be short for others of the page or of the register."""
    if not any(said.people or any(seen.line.said.people for seen in page.lines) for page, said, _ in walks):
        return
    from reedmace.tasks.shorthand.people_short import shortened

    if faults := shortened(walks, [one.name for one in ledger.people.all()] if ledger is not None else []):
        raise Refused(*faults)
