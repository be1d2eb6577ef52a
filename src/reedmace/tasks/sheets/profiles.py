"""Column mappings kept in the ledger under a name, and what a file needs to be asked about."""

from __future__ import annotations

import re
from collections.abc import Callable

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.ledger.notes import Note
from reedmace.ledger.store import Ledger
from reedmace.tasks.sheets.columns import ColumnMapping, from_body
from reedmace.tasks.sheets.parts import COUNTING
from reedmace.tasks.sheets.rows import Sheet, rows

_ZEROS = frozenset({"0", "0.0", "0.00", "n", "no", "false", "none", "nil"})


def save(
    ledger: Ledger, name: str, mapping: ColumnMapping, person: str, written_at: str, new_id: Callable[[], str]
) -> None:
    """Keep a mapping under a name; one of that name from before is followed by this one."""
    note = Note("profile", _subject(name), {"name": name.strip(), **mapping.as_body()}, "saved again under its name")
    ledger.note(note, person, written_at, new_id)


def saved(ledger: Ledger, name: str, sheet: Sheet) -> ColumnMapping:
    """Give the mapping of a name; raises Refused where there is none, or it is for other columns than these."""
    profiles = ledger.notes("profile")
    found = profiles.get(_subject(name))
    if found is None:
        names = [_called(note) for note in profiles.values() if "name" in note.body]
        hint = did_you_mean(name, names, "save one with  --save-as NAME")
        raise Refused(Fault("unknown-profile", "No mapping is saved under this name.", hint, name, typed=True))
    mapping = from_body(found.body)
    lost = [heading for heading, field in mapping.columns if field is not None and heading not in sheet.columns]
    if lost:
        said = f"This mapping is for columns that the file does not have: {', '.join(lost)}."
        hint = "import it without  --mapping , and keep the new one with  --save-as"
        raise Refused(Fault("profile-for-other-columns", said, hint, name, typed=True))
    return mapping


def first_zero(sheet: Sheet, mapping: ColumnMapping) -> int | None:
    """Give the line of the first row that counts nothing, by a bare 0 or a tick that is not there; None without one."""
    places = [(place, field) for place, field, _ in mapping.places(sheet.columns) if field in ("count", *COUNTING)]
    counts = [place for place, field in places if field == "count"]
    parted = len(counts) < len(places)
    if not places:
        return None
    for row in rows(sheet):
        if row.fault is not None:
            continue
        # Where columns count parts, or hold ticks, it is all of them that have to say nothing.
        if (all if parted else any)(_nothing(row.cells[place], blank=parted) for place, _ in places):
            return row.line
    return None


def _nothing(cell: str, *, blank: bool) -> bool:
    plain = cell.strip().casefold()
    return plain in _ZEROS if plain else blank


def _called(note: Note) -> str:
    """Give the name of a mapping as it can be typed; one from which a person's name was taken out has another."""
    name, plain = str(note.body["name"]), note.subject.removeprefix("profile:")
    return name if _subject(name) == note.subject else plain


def _subject(name: str) -> str:
    plain = "-".join(re.findall(r"\w+", name.casefold()))
    if not plain:
        hint = "give it a name of letters or digits, such as  county-sheet"
        raise Refused(Fault("name-unfit", "This is no name for a mapping.", hint, name, typed=True))
    return f"profile:{plain}"
