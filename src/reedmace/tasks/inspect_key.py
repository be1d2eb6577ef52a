"""Check a key: its faults, its counts, where its values come from."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

from reedmace.faults import Fault, Where
from reedmace.keys.shipped import shipped_folder, shipped_ids


class KeyReport(NamedTuple):
    """What the check of a key found."""

    title: str
    version: str
    species: int
    guises: int
    characters: int
    values_by_source: dict[str, int]
    faults: tuple[Fault, ...]

    def as_json(self) -> dict[str, Any]:
        """The report as one JSON-able object."""
        return {
            "species": self.species,
            "guises": self.guises,
            "characters": self.characters,
            "values_by_source": self.values_by_source,
            "faults": [_fault_json(fault) for fault in self.faults],
        }


def _fault_json(fault: Fault) -> dict[str, Any]:
    where = fault.where or Where("")
    return {
        "code": fault.code,
        "message": fault.message,
        "hint": fault.hint,
        "said": fault.said,
        "file": where.file or None,
        "line": where.line,
        "column": where.column,
    }


def inspect_key(folder: Path) -> KeyReport:
    """Read a key's files anew (never the cache) and report on them."""
    from reedmace.keys.compiling import compile_key
    from reedmace.keys.crosscheck import cross_check
    from reedmace.keys.digest import folder_digest
    from reedmace.keys.reading import read_key

    authored, faults = read_key(folder)
    if authored is None:
        return KeyReport(folder.resolve().name, "", 0, 0, 0, {}, tuple(faults))
    faults = [*faults, *cross_check(authored)]
    entries = [entry for file in authored.species for entry in file.content.species]
    sources = {} if faults else compile_key(authored, folder_digest(folder))["values_by_source"]
    return KeyReport(
        authored.key.title,
        authored.key.version,
        len(entries),
        sum(len(entry.guises) for entry in entries),
        len(authored.characters.characters),
        sources,
        tuple(faults),
    )


def shipped_titles() -> list[tuple[str, str, str]]:
    """Id, version and title of every key that travels with the program."""
    from reedmace.keys.reading import read_header

    return [(name, *read_header(shipped_folder() / name)) for name in shipped_ids()]
