"""The catalogue of faults: one readable file per case in `faults/`, with what fails and what is then shown.

A case is named after its code; a second one of the same code has `--` and a word after it. It says what the
fault means (for docs/faults.md), then holds sections, each under a line that begins with `== `:

- `== species/x.yaml`: a file of the key, in place of the one in `faults/base/`; `(absent)`, `(latin-1)` and
  `(unreadable)` after the name leave it out, write it in that encoding, forbid reading it;
- `== traits`, `== name`, `== key`: what somebody types, one a line, in place of a key with a slip in it;
- `== shown`: every fault, as plain text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from unittest import mock

FAULTS = Path(__file__).resolve().parent / "faults"
BASE = FAULTS / "base"
_SECTION = re.compile(r"^== (\S+)(?: \((\S+)\))?\n", re.MULTILINE)
TYPED = ("traits", "name", "key")


class Section(NamedTuple):
    """What stands under one `== name (way)` line."""

    name: str
    way: str | None
    text: str


class Case(NamedTuple):
    """One case: `about` says what the fault means, `shown` what the user sees."""

    name: str
    about: str
    sections: tuple[Section, ...]
    shown: str

    @property
    def code(self) -> str:
        """The fault's code."""
        return self.name.partition("--")[0]

    @property
    def typed(self) -> Section | None:
        """What is typed, where the case is not about a key's files."""
        return next((section for section in self.sections if section.name in TYPED), None)


def read_case(path: Path) -> Case:
    """The case in a file."""
    about, *parts = _SECTION.split(path.read_text(encoding="utf-8"))
    found = [Section(*parts[at : at + 3]) for at in range(0, len(parts), 3)]
    *sections, shown = found
    assert shown.name == "shown", f"{path.name} does not end with what is shown"
    return Case(path.stem, about.strip(), tuple(sections), shown.text.rstrip("\n"))


def cases() -> list[Case]:
    """Every case, by name."""
    return [read_case(path) for path in sorted(FAULTS.glob("*.txt"))]


def run_case(case: Case, folder: Path, *, colour: bool = False) -> str:
    """What the program shows for a case; its key is written to `folder`/made-fen."""
    from reedmace.faults import Fault
    from reedmace.terminal.fault_text import show_faults

    found: list[Fault] = list(_faults(case, folder / "made-fen"))
    return show_faults(found, colour=colour)


def _faults(case: Case, folder: Path) -> Iterator[object]:
    from reedmace.tasks.keys.inspect_key import inspect_key

    hidden = _write(case, folder)
    if case.typed:
        yield from _typed(case.typed, folder)
        return
    read_bytes = Path.read_bytes

    def reading(path: Path) -> bytes:
        if path in hidden:
            raise PermissionError(13, "Permission denied", str(path))
        return read_bytes(path)

    with mock.patch.object(Path, "read_bytes", reading):
        yield from inspect_key(folder).faults


def _write(case: Case, folder: Path) -> list[Path]:
    for path in BASE.rglob("*.yaml"):
        to = folder / path.relative_to(BASE)
        to.parent.mkdir(parents=True, exist_ok=True)
        to.write_bytes(path.read_bytes())
    for section in case.sections:
        path = folder / section.name
        if section.way == "absent":
            path.unlink()
        elif section.name not in TYPED:
            path.write_bytes(section.text.encode("latin-1" if section.way == "latin-1" else "utf-8"))
    return [folder / section.name for section in case.sections if section.way == "unreadable"]


def _typed(section: Section, folder: Path) -> Iterator[object]:
    from reedmace.faults import Fault, Refused
    from reedmace.keys.answers import read_traits
    from reedmace.keys.cache import load_key
    from reedmace.keys.names import find_name
    from reedmace.keys.shipped import find_key

    lines = section.text.splitlines()
    try:
        if section.name == "key":
            find_key(lines[0])
        elif section.name == "name":
            found = find_name(load_key(folder, None), lines[0])
            yield from [found] if isinstance(found, Fault) else []
        else:
            read_traits(load_key(folder, None), lines)
    except Refused as refused:
        yield from refused.faults
