"""Readings of cells, each done once: rows repeat each other."""

from __future__ import annotations

from collections import OrderedDict, defaultdict
from collections.abc import Callable
from typing import Any, TypeVar

from reedmace.faults import Fault

T = TypeVar("T")
Fields = dict[str, str]
_REMEMBERED = 20_000  # readings: enough for neighbours in a file, little enough for memory


class Slip(Exception):  # noqa: N818  (no error: the row is told of)
    """A cell that does not read; it is told with the whole row."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.code)
        self.fault = fault


class Memory:
    """What was read lately, each kind of cell apart."""

    def __init__(self) -> None:
        self._memory: defaultdict[str, OrderedDict[Any, Any]] = defaultdict(OrderedDict)

    def once(self, what: str, asked: Any, read: Callable[[], T | Fault]) -> T:
        """Read what was not read lately; a cell that does not read raises, remembered or not."""
        memory = self._memory[what]
        found = memory.get(asked)
        if found is None:
            found = (read(),)
            memory[asked] = found
            if len(memory) > _REMEMBERED:
                memory.popitem(last=False)
        if isinstance(found[0], Fault):
            raise Slip(found[0])
        value: T = found[0]
        return value
