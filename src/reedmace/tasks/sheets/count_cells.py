"""How many a row counts, in one column or in several, and whether it says that there was nothing."""

from __future__ import annotations

from collections.abc import Mapping

from reedmace.faults import Fault
from reedmace.records.text import is_absent
from reedmace.tasks.sheets.counts import Count, read_count
from reedmace.tasks.sheets.memory import Fields, Memory, Slip
from reedmace.tasks.sheets.parts import counted

# What can mean nothing but that there were none, whatever 0 means in a file.
_ABSENT = frozenset(("absent", "not detected", "none seen", "none found", "not seen", "not found", "not present"))


class CountCells:
    """Reads the counts of one file's rows; `zero` is what 0 means there, `bands` what letters stand for.

    `counting` are the fields of columns that count one part each, or hold ticks.
    """

    def __init__(self, zero: str, counting: frozenset[str], bands: Mapping[str, str], memory: Memory) -> None:
        self._said_of_zero = zero
        self._counting = counting
        self._bands = bands
        self._once = memory.once

    def read(self, fields: Fields) -> tuple[Count, ...]:
        """Give the counts; none where the row says that there was nothing."""
        status = fields.get("status", "").strip().casefold()
        if is_absent(status):
            if self._counts_some(fields):
                raise Slip(_absent_and_counted(fields))
            return ()
        if self._counting:
            found = counted(fields, self._counting, self._count)
            if isinstance(found, Fault):
                raise Slip(found)
            return found.counts or self._zero(found.said)
        text = fields.get("count", "").strip()
        if text.casefold() in _ABSENT:
            return ()
        counts = self._count(text)
        if status in ("no", "n", "false"):
            if self._counts_some(fields):
                raise Slip(_absent_and_counted(fields))
            return self._zero(status)
        kind = fields.get("count_kind", "")
        if kind and len(counts) == 1 and counts[0].number is not None:
            counts = (counts[0]._replace(kind=kind),)
        if any(count.zero for count in counts):
            return self._zero(text)
        return counts

    def _counts_some(self, fields: Fields) -> bool:
        """Say whether a row counts insects; what does not read counts none."""
        try:
            if self._counting:
                found = counted(fields, self._counting, self._count)
                return not isinstance(found, Fault) and bool(found.counts)
            text = fields.get("count", "").strip()
            return bool(text) and not any(count.zero for count in self._count(text))
        except Slip:
            return False

    def _count(self, cell: str) -> tuple[Count, ...]:
        return self._once("count", cell, lambda: read_count(self._bands.get(cell.strip().casefold(), cell)))

    def _zero(self, text: str) -> tuple[Count, ...]:
        if self._said_of_zero == "present":
            return (Count(None),)
        if self._said_of_zero in ("absent", "skip"):
            return ()
        raise Slip(
            Fault(
                "zero-unclear",
                f"A {'count of 0' if text else 'row without a count'} could mean absent, or present and not counted.",
                "say what it means in this file:  --zero absent|present|skip",
                text,
            )
        )


def _absent_and_counted(fields: Fields) -> Fault:
    """Say that a row counts insects, and that there were none."""
    status = fields.get("status", "").strip()
    why = f'This row counts insects, and says "{status}" of whether there were any.'
    return Fault("cells-differ", why, "leave out the one that is wrong", fields.get("count", "").strip() or status)
