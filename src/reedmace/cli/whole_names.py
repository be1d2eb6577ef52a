"""Names that may be short for somebody who is named or known already: nothing is written until they are whole."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reedmace.faults import Fault, Refused

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


def whole_name(name: str, ledger: Ledger) -> str:
    """The name of somebody new; raises `Refused` where it may be short for one of the register."""
    from reedmace.tasks.shorthand.people_short import longer_names

    longer = longer_names(name, [one.name for one in ledger.people.all()])
    if not longer:
        return name
    hint = f'write the whole name,  --by "{longer[0]}"  ; somebody else comes first into the register:  '
    message = f'"{name}" could be {" or ".join(longer)}, or somebody else.'
    raise Refused(Fault("person-unclear", message, f'{hint}reedmace people --add "{name}"', name, typed=True))
