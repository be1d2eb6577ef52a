"""A visit: one day (or vague date) at one place, by somebody."""

from collections.abc import Callable
from typing import NamedTuple

from reedmace.records.place import PlaceRecord


class Visit(NamedTuple):
    """One visit.

    `date` is ISO 8601: a day, a month, a year or an interval of these; None where nobody knows.
    `start` and `end` are local times `HH:MM`; of a visit of two days the end may be the earlier one, of the second day.
    `observers` are person ids; `party` is bare text for people without names ("leader and party of 12"). The flags
    `all_damselflies` and `all_dragonflies` say that every species seen was noted; `none_seen` that there was nothing.
    `exuvia_passes` counts searches for skins. `permission_noted` stays in the ledger and is never exported.
    `weather` is what was typed of it; beside it what was understood: `temperature_c` in °C, `sun_percent`, and
    the wind's Beaufort force, up to `wind_force_to` where a range was given. `party_size` is the number of
    people of the party. `habitat` is the key's id for it, or free text; beside an id `habitat_typed` is the word it was
    said by, "" where that is not known. `typed` is the visit's line as typed, verbatim, people's
    names as marks (see names.py).
    """

    id: str
    date: str | None = None
    date_typed: str = ""
    start: str | None = None
    end: str | None = None
    place: PlaceRecord = PlaceRecord()
    observers: tuple[str, ...] = ()
    party: str = ""
    habitat: str = ""
    weather: str = ""
    method: str = ""
    all_damselflies: bool = False
    all_dragonflies: bool = False
    none_seen: bool = False
    exuvia_passes: int | None = None
    permission_noted: str = ""
    remarks: str = ""
    temperature_c: float | None = None
    sun_percent: int | None = None
    wind_force: int | None = None
    wind_force_to: int | None = None
    party_size: int | None = None
    typed: str = ""
    habitat_typed: str = ""


def habitat_said(visit: Visit, title_of: Callable[[str], str] = str) -> str:
    """Give the habitat in words: as it was said, else what `title_of` calls the key's id."""
    return visit.habitat_typed or (title_of(visit.habitat) if visit.habitat else "")


def past_midnight(visit: Visit) -> bool:
    """Say whether a visit ended at an earlier time than it started, so on the day after."""
    return bool(visit.start and visit.end and visit.end < visit.start)


Times = tuple[str | None, str | None]  # start and end


def apart_in_time(one: Visit, other: Visit) -> bool:
    """Say whether the times of two visits of one day exclude each other."""
    return times_apart((one.start, one.end), (other.start, other.end))


def times_apart(one: Times, other: Times) -> bool:
    """Say whether two stretches of one day exclude each other: one was over when the other began."""
    if not (one[0] and one[1] and other[0] and other[1]) or one[1] < one[0] or other[1] < other[0]:
        return False
    first, second = sorted(((one[0], one[1]), (other[0], other[1])))
    return first[1] <= second[0] and first[0] < second[0]
