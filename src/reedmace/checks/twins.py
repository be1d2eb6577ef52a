"""Which records say the same as one before: within a day where records come by their days, else within a whole file.

A file of a million rows in any order has to be held in memory somehow. For each row one number is kept (its own,
with 32 bits each of what it said in full and of its visit), which is about a hundred bytes; by days nothing grows.
"""

from __future__ import annotations

from typing import NamedTuple

from reedmace.records import Times, times_apart

_BITS = 32
_MASK = (1 << _BITS) - 1


class Twin(NamedTuple):
    """An earlier record that says the same: in full, or all but count and time on another visit; and its name."""

    whole: bool
    called: str


class DayTwins:
    """The records of one day after the other."""

    def __init__(self) -> None:
        self._day: str | None = None
        self._same: dict[int, list[_Earlier]] = {}
        self._alike: dict[int, list[_Earlier]] = {}

    def look(self, day: str, alike: int, same: int, name: str, visit: str, when: Times) -> Twin | None:
        """Remember a record by hashes of what it says, without and with count and time; give the one before it.

        What was seen on visits whose times (`when`) exclude each other was seen twice, not written twice.
        """
        if day != self._day:
            self._day = day
            self._same.clear()
            self._alike.clear()
        now = _Earlier(name, visit, when)
        twin = _first(self._same.setdefault(same, []), now)
        if twin.name != name:
            return Twin(True, f"record …{twin.name[-12:]}")
        other = _first(self._alike.setdefault(alike, []), now)
        return Twin(False, f"record …{other.name[-12:]}") if other.visit != visit else None


def _first(before: list[_Earlier], now: _Earlier) -> _Earlier:
    """The first of those before that may have been at the same time; if there is none, now is one more."""
    found = next((one for one in before if not times_apart(one.when, now.when)), now)
    if found is now:
        before.append(now)
    return found


class _Earlier(NamedTuple):
    """A record met earlier that day, with its visit and the visit's times."""

    name: str
    visit: str
    when: Times


class FileTwins:
    """The rows of one file, in any order."""

    def __init__(self) -> None:
        self._row = 0
        self._first: dict[int, int] = {}  # alike → row, same and visit of the first that was so
        self._more: dict[int, int] = {}  # same → row, of those that were alike and yet not the same

    def look(self, day: str, alike: int, same: int, name: str, visit: str, when: Times) -> Twin | None:  # noqa: ARG002
        """As `DayTwins.look`; earlier rows are called by their numbers, and only the same times are the same."""
        self._row += 1
        if when[0] and when[1]:
            same = hash((same, when))
        own = same & _MASK
        walk = hash(visit) & _MASK
        packed = self._first.get(alike)
        if packed is None:
            self._first[alike] = (self._row << 2 * _BITS) | own << _BITS | walk
            return None
        first = packed >> 2 * _BITS
        if packed >> _BITS & _MASK == own:
            return Twin(True, f"row {first}")
        earlier = self._more.setdefault(same, self._row)
        if earlier != self._row:
            return Twin(True, f"row {earlier}")
        return Twin(False, f"row {first}") if packed & _MASK != walk else None
