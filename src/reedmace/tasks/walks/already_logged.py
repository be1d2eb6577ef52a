"""What of a page stands in the ledger already, in the same words or meaning: a file logged again adds nothing twice."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from math import cos, hypot, radians
from typing import NamedTuple, TypeVar

from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import PlaceRecord, Sighting, Visit, with_names
from reedmace.records.visit import apart_in_time
from reedmace.tasks.shorthand.page_said import PageVisit, SeenLine
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.walks.log_walk import Writer, sightings_of, visit_of

_Seen = TypeVar("_Seen", Visit, Sighting)
_BY_CHANCE = 2  # lines of two visits at different times that may be the same by chance


class NewNumber(NamedTuple):
    """A line of a page beside the one that stands: its words as typed, a sighting of it, and what would correct it."""

    seen: SeenLine
    stands: str
    sighting: str
    change: str


class Already(NamedTuple):
    """The visit of a page that is there, its line as typed, which lines of the page stand in it, and what is new.

    `alone` says that the visit holds no other line than these, `header` that its own line was in other words.
    `numbers` are lines that differ from one that stands in their number only.
    """

    visit: Visit
    there: tuple[SeenLine, ...]
    others: tuple[SeenLine, ...]
    notes: tuple[str, ...]
    alone: bool
    header: bool = False
    numbers: tuple[NewNumber, ...] = ()
    as_typed: str = ""

    @property
    def anew(self) -> bool:
        """Whether something of the page is not there yet."""
        return bool(self.others or self.notes)

    @property
    def again(self) -> bool:
        """Whether the page was probably logged before: all of it, most of it, or as it was before it grew."""
        if self.header:
            return True
        if not self.others:
            return bool(self.there) or not self.notes
        return bool(self.there) and (self.alone or 2 * len(self.there) >= len(self.there) + len(self.others))


def already_logged(
    ledger: Ledger, key: Key, page: PageVisit, said: VisitSaid, person: str, joins: Visit | None
) -> Already | None:
    """Find the visit that a page is about, `joins` or the one with the same words; None where there is none.

    `person` is whoever writes. Nobody is registered for it: a name that is not known has no line yet.
    """
    wanted = visit_of(key, said, person, _id_of(ledger))
    twice = ledger.people.twice()
    wanted = _with_first_ids(wanted, twice)
    visit = joins or _same(ledger, wanted, twice)
    if visit is not None:
        return _compared(ledger, key, page, said, visit, person, twice)
    for other in visits_like(ledger, wanted):
        already = _compared(ledger, key, page, said, other, person, twice)._replace(header=True)
        most = 2 * len(already.there) > len(page.lines) or (not page.lines and already.alone)
        if most and (not _other_time(wanted, other) or (not already.others and len(already.there) > _BY_CHANCE)):
            return already
    return None


def _compared(
    ledger: Ledger, key: Key, page: PageVisit, said: VisitSaid, visit: Visit, person: str, twice: Mapping[str, str]
) -> Already:
    """A page beside a visit that it may be about."""
    id_of = _id_of(ledger)
    determiner = id_of(said.determiner.text) if said.determiner else person
    writer = Writer(person, "", lambda: "")
    lines: dict[str, list[Sighting]] = {}
    for one, _, _ in ledger.current_sightings(Wanted(visit_id=visit.id)):
        lines.setdefault(one.line_id, []).append(_with_first_ids(one, twice))
    standing = {line_id: several[-1] for line_id, several in lines.items()}
    whole = [sightings_of(key, seen, visit, determiner, None, None, writer, id_of) for seen in page.lines]
    new = [several[0] for several in whole]
    # A line at the same spot and time first; else one with the same words, for place and time may be corrected since.
    found = _matched([(one.typed, one.place, one.time) for one in new], map(_where, standing.values()))
    rest = Counter(one.typed for one in standing.values())
    rest.subtract(one.typed for one, known in zip(new, found, strict=True) if known)
    for index, one in enumerate(new):
        if not found[index] and rest[one.typed] > 0:
            found[index] = True
            rest[one.typed] -= 1
    _alike(whole, found, lines, rest)
    there = tuple(seen for seen, known in zip(page.lines, found, strict=True) if known)
    others = tuple(seen for seen, known in zip(page.lines, found, strict=True) if not known)
    notes = tuple(note for note in said.notes if note not in visit.remarks.split("\n"))
    named = ledger.people.name_of
    left = [one for one in standing.values() if rest[one.typed] > 0]
    numbers = []
    for seen, one in [(seen, one) for seen, one, known in zip(page.lines, new, found, strict=True) if not known]:
        old = next((other for other in left if _but_its_number(other.typed, one.typed)), None)
        if old is not None:
            left.remove(old)
            counted = len(seen.line.tallies) == 1 and one.count is not None and one.count != old.count
            change = f"count={one.count}" if counted else "FIELD=VALUE"
            numbers.append(NewNumber(seen, with_names(old.typed, named), old.id[-12:], change))
    as_typed = with_names(visit.typed, named)
    return Already(visit, there, others, notes, len(there) == len(standing), False, tuple(numbers), as_typed)


def _alike(
    whole: Sequence[Sequence[Sighting]], found: list[bool], lines: Mapping[str, Sequence[Sighting]], rest: Counter[str]
) -> None:
    """Mark as found what means the same as a line that stands, typed in other words; `rest` is what is not matched."""
    left: dict[Hashable, list[str]] = {}
    for several in lines.values():
        left.setdefault(_meaning(several), []).append(several[-1].typed)
    for index, several in enumerate(whole):
        if found[index]:
            continue
        alike = next((typed for typed in left.get(_meaning(several), ()) if rest[typed] > 0), None)
        if alike is not None:
            found[index] = True
            rest[alike] -= 1


def _meaning(several: Sequence[Sighting]) -> Hashable:
    """What a line says was seen and where, whatever words it was typed in and whatever was remarked."""
    counted = Counter(
        (one.sex, one.stage, one.count, one.count_to, one.count_kind, one.pairs, frozenset(one.behaviour))
        for one in several
    )
    first = several[0]
    taxon = (first.taxon.scientific_name, first.taxon.rank, first.taxon.one_of)
    place = first.place._replace(typed="") if first.place else None
    return taxon, frozenset(counted.items()), place, first.time, first.observers


def _with_first_ids(record: _Seen, twice: Mapping[str, str]) -> _Seen:
    """A record with one id for each person who has several after a merge, in the words as typed too."""
    if not twice:
        return record
    typed = record.typed
    for person, first in twice.items():
        typed = typed.replace(person, first)
    if record.observers is None:
        return record._replace(typed=typed)
    return record._replace(typed=typed, observers=tuple(twice.get(one, one) for one in record.observers))


def _id_of(ledger: Ledger) -> Callable[[str], str]:
    return lambda name: ledger.people.find(name) or f"nobody called {name}"


def _but_its_number(one: str, other: str) -> bool:
    """Whether two lines have the same words but other numbers."""
    return re.sub("[0-9]+", "0", one.strip()) == re.sub("[0-9]+", "0", other.strip()) and any(map(str.isdigit, one))


def _matched(new: list[tuple[Hashable, ...]], standing: Iterable[Hashable]) -> list[bool]:
    left = Counter(standing)
    found = []
    for one in new:
        found.append(left[one] > 0)
        left[one] -= found[-1]
    return found


def _where(sighting: Sighting) -> tuple[Hashable, ...]:
    return sighting.typed, sighting.place, sighting.time


def _same(ledger: Ledger, wanted: Visit, twice: Mapping[str, str]) -> Visit | None:
    """The visit written down in the same words, though times, weather or remarks may have been added since."""
    year = int((wanted.date or "0")[:4])
    plain = wanted._replace(remarks="")
    for visit, _ in ledger.current_visits(year):
        known = _with_first_ids(visit, twice)
        if known._replace(id="", remarks="") == plain:
            return visit
        if wanted.typed and _words(known) == _words(wanted):
            return visit
    return None


def _other_time(one: Visit, other: Visit) -> bool:
    return apart_in_time(one, other) or bool(one.start and other.start and one.start != other.start)


def visits_like(ledger: Ledger, wanted: Visit) -> Iterator[Visit]:
    """Visits of the same day and people at a place that overlaps, whatever else was said of them."""
    twice = ledger.people.twice()
    wanted = _with_first_ids(wanted, twice)
    for visit in ledger.visits_of_date(wanted.date):
        observers = _with_first_ids(visit, twice).observers
        people = set(observers) & set(wanted.observers) or observers == wanted.observers
        if people and _overlap(visit.place, wanted.place):
            yield visit


def _overlap(one: PlaceRecord, other: PlaceRecord) -> bool:
    """Whether two places may be one: the same square or site, or nearer than both are certain."""
    if (one.square and one.square == other.square) or (one.site and one.site == other.site):
        return True
    if one.latitude is None or other.latitude is None or one.longitude is None or other.longitude is None:
        return False
    north = 111_320 * (one.latitude - other.latitude)
    east = 111_320 * (one.longitude - other.longitude) * cos(radians(one.latitude))
    return hypot(north, east) <= (one.uncertainty_m or 0) + (other.uncertainty_m or 0)


def _words(visit: Visit) -> tuple[Hashable, ...]:
    return visit.typed, visit.date, visit.place, visit.observers
