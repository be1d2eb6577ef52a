"""Check a key: its faults, its counts, where its values come from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from reedmace.faults import Fault, Where
from reedmace.keys.shipped import shipped_folder, shipped_ids

if TYPE_CHECKING:
    from reedmace.keys.model import Key


class KeyReport(NamedTuple):
    """What the check of a key found."""

    title: str
    version: str
    species: int
    guises: int
    characters: int
    values_by_source: dict[str, int]
    faults: tuple[Fault, ...]
    inseparable: tuple[tuple[str, str, str, str], ...] = ()
    idle: tuple[str, ...] = ()
    not_known: tuple[tuple[str, int, int], ...] = ()

    def as_json(self) -> dict[str, Any]:
        """The report as one JSON-able object."""
        return {
            "species": self.species,
            "guises": self.guises,
            "characters": self.characters,
            "values_by_source": self.values_by_source,
            "inseparable": [
                {"one": one, "guise": guise, "other": other, "other_guise": other_guise}
                for one, guise, other, other_guise in self.inseparable
            ],
            "idle_characters": list(self.idle),
            "not_known": {name: {"cells": missing, "of": cells} for name, missing, cells in self.not_known},
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
    from reedmace.keys.model import from_compiled
    from reedmace.keys.reading import read_key
    from reedmace.tasks.keys.key_findings import find

    authored, faults = read_key(folder)
    if authored is None:
        return KeyReport(folder.resolve().name, "", 0, 0, 0, {}, tuple(faults))
    faults = [*faults, *cross_check(authored)]
    entries = [entry for file in authored.species for entry in file.content.species]
    counts = (len(entries), sum(len(entry.guises) for entry in entries), len(authored.characters.characters))
    if faults:
        return KeyReport(authored.key.title, authored.key.version, *counts, {}, tuple(faults))
    form = compile_key(authored, folder_digest(folder))
    key = from_compiled(form)
    found = find(key)
    return KeyReport(
        authored.key.title,
        authored.key.version,
        *counts,
        form["values_by_source"],
        (),
        tuple((*_guise(key, one), *_guise(key, other)) for one, other in found.inseparable),
        tuple(key.characters[index].id for index in found.idle),
        tuple((key.species[species].name, *counted) for species, counted in found.not_known.items()),
    )


def _guise(key: Key, guise: int) -> tuple[str, str]:
    return key.species[key.guises[guise].species].name, key.guises[guise].title


def shipped_titles() -> list[tuple[str, str, str]]:
    """Id, version and title of every key that travels with the program."""
    from reedmace.keys.reading import read_header

    return [(name, *read_header(shipped_folder() / name)) for name in shipped_ids()]
