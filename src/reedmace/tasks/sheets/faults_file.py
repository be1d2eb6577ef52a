"""The file in which faulty rows come back, each with its fault beside it, so that no row ever vanishes."""

from __future__ import annotations

import csv
import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import IO, NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.tasks.sheets.rows import Row, Sheet

EXTRA = ("line in the file", "fault", "why", "what to do")

_SHOWN = 60  # signs of a cell that a fault tells of


class FaultKind(NamedTuple):
    """A kind of fault in a file: how many times it was met, and why and what to do in the first row that had it."""

    rows: int
    why: str
    hint: str


def kinds_of(faults: Iterable[Fault], known: dict[str, FaultKind] | None = None) -> dict[str, FaultKind]:
    """Count faults by their code, on top of those that are known."""
    kinds = {} if known is None else known
    for fault in map(in_short, faults):
        kind = kinds.get(fault.code)
        kinds[fault.code] = kind._replace(rows=kind.rows + 1) if kind else FaultKind(1, _why(fault), fault.hint)
    return kinds


class FaultsFile:
    """The file of faulty rows: the columns of the sheet, then the line, the fault, why, and what to do."""

    def __init__(self, sheet: Sheet, dry: bool) -> None:
        self._sheet = sheet
        self._dry = dry
        self._out: IO[str] | None = None
        self._own = [place for place, column in enumerate(sheet.columns) if column.casefold() not in EXTRA]
        of_the_file = len(sheet.columns) - len(sheet.everywhere)
        self._last = max((at for at, place in enumerate(self._own) if place < of_the_file), default=-1)
        self.name: str | None = None
        self.rows = 0
        self.kinds: dict[str, FaultKind] = {}

    def add(self, row: Row, faults: tuple[Fault, ...]) -> None:
        """Write one row with its faults."""
        self.rows += 1
        kinds_of(faults, self.kinds)
        if self._dry:
            return
        if self._out is None:
            self._begin()
        cells = [row.cells[place] if place < len(row.cells) else "" for place in self._own]
        if len(row.cells) > len(self._sheet.columns):
            # Cells beyond the last column stay too: joined to its, for there is no heading for them.
            beyond = row.cells[len(self._sheet.columns) :]
            cells[self._last] = self._sheet.delimiter.join((cells[self._last], *beyond))
        faults = tuple(map(in_short, faults))
        why = " / ".join(map(_why, faults))
        self._write([*cells, str(row.line), *(" / ".join(part) for part in _codes_and(faults, why))])

    def _begin(self) -> None:
        self.name, self._out = _new_file(f"{self._sheet.named or self._sheet.path}.faults.csv")
        self._write([*(self._sheet.columns[place] for place in self._own), *EXTRA])

    def _write(self, cells: list[str]) -> None:
        assert self._out is not None
        safe = [cell.encode("utf-8", "replace").decode() for cell in cells]
        csv.writer(self._out, delimiter=self._sheet.delimiter, lineterminator="\r\n").writerow(safe)

    def flush(self) -> None:
        """Bring to the disk what was added."""
        if self._out is not None:
            self._out.flush()
            os.fsync(self._out.fileno())

    def close(self) -> None:
        """Close the file, if there is one."""
        if self._out is not None:
            self.flush()
            self._out.close()


def in_short(fault: Fault) -> Fault:
    """Give a fault that tells no more of a long cell than its beginning, wherever it tells of it: the row has it."""
    said = fault.said.strip() if fault.said else ""
    if len(said) <= _SHOWN:
        return fault
    short = f"{said[:_SHOWN].rstrip()} …"
    return fault._replace(said=short, message=fault.message.replace(said, short), hint=fault.hint.replace(said, short))


def _codes_and(faults: tuple[Fault, ...], why: str) -> Iterator[list[str]]:
    yield list(dict.fromkeys(fault.code for fault in faults))
    yield [why]
    yield list(dict.fromkeys(fault.hint for fault in faults))


def _new_file(name: str) -> tuple[str, IO[str]]:
    """Begin a file under this name, or, where there is one that somebody may be working on, with a number."""
    stem = name.removesuffix(".faults.csv")
    for number in range(1, 1000):
        path = name if number == 1 else f"{stem}.faults-{number}.csv"
        try:
            # With a mark at its beginning spreadsheets take it for UTF-8.
            return path, Path(path).open("x", encoding="utf-8-sig", newline="")
        except FileExistsError:
            continue
        except OSError as error:
            said = f"The file for faulty rows cannot be written: {error.strerror or error}."
            hint = "copy the file to a folder you may write to, and import it there"
            raise Refused(Fault("faults-cannot-write", said, hint, path)) from error
    hint = "delete those that are done with"
    raise Refused(Fault("faults-cannot-write", "There are too many files of faults here.", hint, name))


def _why(fault: Fault) -> str:
    return f"{fault.message} ({fault.said})" if fault.said and fault.said not in fault.message else fault.message
