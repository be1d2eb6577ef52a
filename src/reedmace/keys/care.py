"""Care and law that go with any sighting: a dated, sourced file beside the keys, plain TOML so that reading is quick.

What protects one species stands with the species in the key (`protection`), and is not repeated there.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import NamedTuple

from reedmace.keys.shipped import shipped_folder

FILE = "care-notes.toml"
OCCASIONS = ("cast-skin", "in-hand", "teneral", "larva", "garden", "party", "child")


class CareNote(NamedTuple):
    """One note. `when` are the occasions it is shown on, `words` those that call for it, `checked` a day (ISO)."""

    id: str
    when: tuple[str, ...]
    text: str
    source: str
    checked: str
    law: str = ""
    area: str = ""
    words: tuple[str, ...] = ()


def read_care_notes(path: Path) -> tuple[CareNote, ...]:
    """The notes of a file. Raises OSError, or what reading gives, where it is not as it must be."""
    import tomllib  # only those who are shown a note pay for it

    rows = tomllib.loads(path.read_text(encoding="utf-8"))["note"]
    made = []
    for row in rows:
        lists = {name: tuple(row.get(name, ())) for name in ("when", "words")}
        made.append(CareNote(**{**row, **lists, "checked": row["checked"].isoformat()}))
    return tuple(made)


@cache
def care_notes() -> tuple[CareNote, ...]:
    """The notes that travel with the program; none where the file is missing or broken: no walk fails for that."""
    try:
        return read_care_notes(shipped_folder() / FILE)
    except (OSError, KeyError, TypeError, ValueError, AttributeError):
        return ()


def care_on(*occasions: str) -> list[CareNote]:
    """The notes for any of these occasions, in the file's order; nothing is read for other words."""
    wanted = set(occasions).intersection(OCCASIONS)
    return [note for note in care_notes() if wanted & set(note.when)] if wanted else []
