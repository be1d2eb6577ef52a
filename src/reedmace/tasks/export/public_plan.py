"""Which visits a public version blurs, and how far: worked out over the whole ledger, whatever is exported of it.

A visit is blurred whole where one of its sightings is sensitive. So that nothing beside it gives the place away, so
is every visit, in any year, that touches the same 1 km square, site or name of a place (also within a longer name),
and every one that its observers made on the same day inside the blurred square. Withdrawn sightings count too: they
may have been published.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from functools import cache, lru_cache
from math import ceil, floor
from typing import NamedTuple, TypeVar

from reedmace.checks.query import Grounds, record_of
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.datum import from_grid, to_grid
from reedmace.places.place import Place
from reedmace.places.squares import EXTENT, SIDES, inside, square_at
from reedmace.records import PlaceRecord, Sighting, Site, Visit
from reedmace.tasks.export.coarse_places import as_square, on_grid
from reedmace.tasks.export.public_words import NO_GRID, Cell, Telling, cells_of

PROTECTED_M = 10_000
"""The side of the square that is published for a protected species, or a withheld site, unless the county file says."""

_KM = 1000
_MOST_KM = 4  # a place that reaches over more squares than this is as coarse as what is published of it
_LONG = 8  # letters of a name that is hardly a common word
_EVERYTHING = Wanted(withdrawn=True)
_SIDES = tuple(sorted(side for side in SIDES if side >= 100))
Key = TypeVar("Key", bound=Hashable)
Box = tuple[str, int, int, int, int]
"""Grid, and the corners in whole kilometres: west, south, east, north (the last two not inside)."""


class Blurred(NamedTuple):
    """What is published of a visit's place: the square that holds all of it, or nothing (None); of what side."""

    place: PlaceRecord | None
    side_m: int


class Plan:
    """What becomes of each visit: `left_out` are those that nobody else may see; `telling` finds words that tell."""

    def __init__(self, hot: _Hot, blurred: dict[str, Blurred]) -> None:
        self._hot = hot
        self._blurred = blurred
        self.left_out = frozenset(hot.left_out)
        self.telling = Telling(hot.cells, hot.words)

    def blurred(self, sighting: Sighting, visit: Visit) -> Blurred | None:
        """Give what is published of the place of a record, as it stands or once stood; None where it is not blurred."""
        found = self._blurred.get(visit.id)
        if found is not None:
            return found
        side = self._hot.near(sighting, visit)
        return square_holding(map(on_grid, _places(sighting, visit)), side) if side else None


def plan(ledger: Ledger, grounds: Grounds, finest_m: int = 0) -> Plan:
    """Work out what is to be blurred, in three walks through the ledger; nothing to a square finer than `finest_m`."""
    hot = _Hot(ledger, grounds, finest_m)
    for sighting, visit, _ in ledger.current_sightings(_EVERYTHING):
        hot.look(sighting, visit)
    if not hot.sides:
        return Plan(hot, {})
    squares: dict[str, list[Place | None]] = {}
    sides: dict[str, int] = {}
    for sighting, visit, _ in ledger.current_sightings(_EVERYTHING):
        side = max(hot.sides.get(visit.id, 0), hot.near(sighting, visit))
        if side:
            sides[visit.id] = max(side, sides.get(visit.id, 0))
    for sighting, visit, _ in ledger.current_sightings(_EVERYTHING):
        if visit.id in sides:
            squares.setdefault(visit.id, []).extend(map(on_grid, _places(sighting, visit)))
    return Plan(hot, {visit: square_holding(places, sides[visit]) for visit, places in squares.items()})


class _Hot:
    """The sensitive sightings met so far, and what lies beside them."""

    def __init__(self, ledger: Ledger, grounds: Grounds, finest_m: int) -> None:
        self._grounds = grounds
        self._finest_m = finest_m
        self.sides: dict[str, int] = {}
        self.left_out: set[str] = set()
        self.words: set[str] = set()
        self.cells: dict[Cell, int] = {}
        self._names: dict[str, int] = {}
        self._naming: dict[str, int] = {}  # names of places met since: how far each is blurred for what it holds
        self._sites: dict[str, int] = {}
        self._days: dict[tuple[str, str], dict[Box, int]] = {}
        # After a merge one person may have several ids; the initials are the same.
        self._person = cache(lambda person: ledger.people.name_of(person).casefold())

    def look(self, sighting: Sighting, visit: Visit) -> None:
        """Look at a sighting, and keep what is sensitive about it."""
        side, site = self._side(sighting, visit)
        if not side:
            return
        self.sides[visit.id] = max(side, self.sides.get(visit.id, 0))
        if site is not None:
            self._keep(self._sites, site.id, side)
            for name in (site.name, *site.also):
                self._keep_name(name, side)
        for place in _places(sighting, visit):
            self._keep_name(place.locality, side)
            self._keep_name("" if place.system else place.typed, side)
            self._keep(self._sites, place.site or "", side)
            for cell in cells_touched(place):
                self._keep(self.cells, cell, side)
            for box in _boxes(place) if visit.date else ():
                around = _around(box, side)
                for person in self._people(sighting, visit):
                    self._keep(self._days.setdefault((visit.date or "", person), {}), around, side)

    def near(self, sighting: Sighting, visit: Visit) -> int:
        """Give the side to which a sighting is blurred for what it lies beside; 0 for none."""
        if not self.sides:
            return 0
        place = sighting.place or visit.place
        found = on_grid(place)
        own = found.grid if found else NO_GRID
        side = max(self._side_of_name(place.locality), self._sites.get(place.site or "", 0))
        # Of its own grid only: a square of the other one reaches over several of these.
        side = max([side, *(self.cells.get(cell, 0) for cell in cells_touched(place) if cell[0] == own)])
        for person in self._people(sighting, visit):
            for around, wide in self._days.get((visit.date or "", person), {}).items():
                if any(_touch(box, around) for box in _boxes(place)):
                    side = max(side, wide)
        return side

    def _keep(self, known: dict[Key, int], what: Key, side: int) -> None:
        if what:
            known[what] = max(side, known.get(what, 0))

    def _keep_name(self, name: str, side: int) -> None:
        self._naming.clear()
        self._keep(self._names, plain_name(name), side)
        self.words.add(name)

    def _side_of_name(self, name: str) -> int:
        """Give how far a place is blurred whose name is, or holds, that of one that is: "100 m south of …" tells it."""
        found = self._naming.get(name)
        if found is None:
            words = f" {plain_name(name)} "
            held = (
                side
                for hot, side in self._names.items()
                if words == f" {hot} " or (name_tells(hot) and f" {hot} " in words)
            )
            found = self._naming[name] = max(held, default=0) if name else 0
        return found

    def _people(self, sighting: Sighting, visit: Visit) -> Iterator[str]:
        return map(self._person, (*visit.observers, *(sighting.observers or ())))

    def _side(self, sighting: Sighting, visit: Visit) -> tuple[int, Site | None]:
        grounds = self._grounds
        record = record_of(grounds, sighting, visit)
        side = 0
        county = grounds.county_of(record)
        for species in record.species:
            local = county.species.get(species.name) if county else None
            if local and local.blur_m:
                side = max(side, local.blur_m)
            elif species.protected:
                side = max(side, PROTECTED_M)
        site = grounds.site_of(record)
        if site is not None and site.may_see != "everybody":
            side = max(side, PROTECTED_M)
            if site.may_see == "nobody else":
                self.left_out.add(visit.id)
        return side and max(side, self._finest_m), site


def _places(sighting: Sighting, visit: Visit) -> tuple[PlaceRecord, ...]:
    return (visit.place,) if sighting.place is None else (visit.place, sighting.place)


def name_tells(name: str) -> bool:
    """Say whether a name within another one tells a place: two words or a long one; every second water is a "pond"."""
    return " " in name or len(name) >= _LONG


def plain_name(name: str) -> str:
    """Give the words of a name, without signs and case."""
    return " ".join("".join(sign if sign.isalnum() else " " for sign in name.casefold()).split())


@lru_cache(maxsize=65536)
def _boxes(record: PlaceRecord) -> tuple[Box, ...]:
    """Give the whole kilometres that a place touches, on each grid; its uncertainty counts where it is no square."""
    place = on_grid(record)
    if place is None or place.easting is None or place.northing is None or place.grid is None:
        return tuple((grid, east, north, east + 1, north + 1) for grid, east, north in _by_position(record))
    reach = 0 if place.side_m else place.uncertainty_m or 0
    side = place.side_m or 1
    west, south = place.easting - reach, place.northing - reach
    east, north = place.easting + side + reach, place.northing + side + reach
    found = [(place.grid, west, south, east, north)]
    corners = [from_grid(place.grid, x, y) for x in (west, east) for y in (south, north)]
    for grid in EXTENT:
        if grid != place.grid:
            there = [to_grid(grid, *corner) for corner in corners]
            if all(inside(grid, *corner) for corner in there):
                xs, ys = zip(*there, strict=True)
                found.append((grid, min(xs), min(ys), max(xs), max(ys)))
    return tuple(
        (grid, floor(box[0] / _KM), floor(box[1] / _KM), ceil(box[2] / _KM), ceil(box[3] / _KM)) for grid, *box in found
    )


@lru_cache(maxsize=65536)
def cells_touched(place: PlaceRecord) -> tuple[Cell, ...]:
    """Give the 1 km squares of a place; of a square that is coarser than a tetrad there is nothing to give away.

    Of a position that is known roughly only there is what it was written down as.
    """
    found = [
        (box[0], east, north)
        for box in _boxes(place)
        if box[3] - box[1] <= _MOST_KM and box[4] - box[2] <= _MOST_KM
        for east in range(box[1], box[3])
        for north in range(box[2], box[4])
    ]
    return tuple(found) if found or place.side_m else tuple(_by_position(place))


def _by_position(place: PlaceRecord) -> Iterator[Cell]:
    if place.latitude is not None and place.longitude is not None:
        yield from cells_of(place.latitude, place.longitude)


def _around(box: Box, side_m: int) -> Box:
    """Give the blurred square or squares around a box."""
    side = max(1, side_m // _KM)
    west, south = box[1] // side * side, box[2] // side * side
    return (box[0], west, south, -(-box[3] // side) * side, -(-box[4] // side) * side)


def _touch(one: Box, other: Box) -> bool:
    return one[0] == other[0] and one[1] < other[3] and other[1] < one[3] and one[2] < other[4] and other[2] < one[4]


def square_holding(places: Iterable[Place | None], side_m: int) -> Blurred:
    """Give the smallest square, of this side or more, that holds all of a visit's places; none where none does.

    Each row by its own square would tell that the visit lay on the border between two.
    """
    known = [place for place in dict.fromkeys(places) if place is not None]
    boxes = [box for box in map(_metres, known) if box is not None]
    if not boxes or len({box[0] for box in boxes}) > 1:
        return Blurred(None, side_m)
    grid = known[0].grid
    assert grid is not None
    west, south = min(box[1] for box in boxes), min(box[2] for box in boxes)
    east, north = max(box[3] for box in boxes) - 1, max(box[4] for box in boxes) - 1
    for side in (side for side in _SIDES if side >= side_m):
        if not inside(grid, west, south):
            break
        square = square_at(grid, west, south, side)
        if square.holds(west, south) and square.holds(east, north):
            return Blurred(as_square(square), side)
    return Blurred(None, side_m)


def _metres(place: Place) -> tuple[str, float, float, float, float] | None:
    if place.easting is None or place.northing is None or place.grid is None:
        return None
    side = place.side_m or 1
    return (place.grid, place.easting, place.northing, place.easting + side, place.northing + side)
