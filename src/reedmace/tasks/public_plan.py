"""Which visits a public version blurs, and how far: worked out over the whole ledger, whatever is exported of it.

A visit is blurred whole where one of its sightings is sensitive. So that nothing beside it gives the place away, so
is every visit, in any year, that touches the same 1 km square, site or name of a place, and every one that its
observers made on the same day inside the blurred square.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil, floor
from typing import NamedTuple

from reedmace.checks.query import Grounds, record_of
from reedmace.ledger.store import Ledger
from reedmace.places.place import Place
from reedmace.places.squares import SIDES, inside, square_at
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.coarse_places import as_square, on_grid

PROTECTED_M = 10_000
"""The side of the square that is published for a protected species, or a withheld site, unless the county file says."""

_KM, _FIVE_KM = 1000, 5000
_SIDES = tuple(sorted(side for side in SIDES if side >= 100))
Box = tuple[str, int, int, int, int]
"""Grid, and the corners in whole kilometres: west, south, east, north (the last two not inside)."""


class Blurred(NamedTuple):
    """What is published of a visit's place: the square that holds all of it, or nothing (None); of what side."""

    place: PlaceRecord | None
    side_m: int


class Plan(NamedTuple):
    """The blurred visits by id, visits that nobody else may see, and words that would give a blurred place away."""

    blurred: dict[str, Blurred]
    left_out: frozenset[str]
    telling: frozenset[str]


def plan(ledger: Ledger, grounds: Grounds) -> Plan:
    """Work out what is to be blurred, in two walks through the ledger."""
    hot = _Hot(grounds)
    for sighting, visit, _ in ledger.current_sightings():
        hot.look(sighting, visit)
    if not hot.sides:
        return Plan({}, frozenset(hot.left_out), frozenset())
    squares: dict[str, list[Place | None]] = {}
    sides: dict[str, int] = {}
    for sighting, visit, _ in ledger.current_sightings():
        side = max(hot.sides.get(visit.id, 0), hot.near(sighting.place or visit.place, sighting, visit))
        if side:
            sides[visit.id] = max(side, sides.get(visit.id, 0))
    for sighting, visit, _ in ledger.current_sightings():
        if visit.id in sides:
            squares.setdefault(visit.id, []).extend(map(on_grid, _places(sighting, visit)))
    blurred = {visit: _square(places, sides[visit]) for visit, places in squares.items()}
    return Plan(blurred, frozenset(hot.left_out), frozenset(hot.telling))


class _Hot:
    """The sensitive sightings met so far, and what lies beside them."""

    def __init__(self, grounds: Grounds) -> None:
        self._grounds = grounds
        self.sides: dict[str, int] = {}
        self.left_out: set[str] = set()
        self.telling: set[str] = set()
        self._names: dict[str, int] = {}
        self._sites: dict[str, int] = {}
        self._boxes: dict[tuple[str, int, int], int] = {}
        self._days: dict[tuple[str, str], dict[Box, int]] = {}

    def look(self, sighting: Sighting, visit: Visit) -> None:
        """Look at a sighting, and keep what is sensitive about it."""
        side = self._side(sighting, visit)
        if not side:
            return
        self.sides[visit.id] = max(side, self.sides.get(visit.id, 0))
        for place in _places(sighting, visit):
            self.telling.update(_words(place))
            for known, what in ((self._names, _plain(place.locality)), (self._sites, place.site)):
                if what:
                    known[what] = max(side, known.get(what, 0))
            box = _box(on_grid(place))
            for cell in _cells(box):
                self._boxes[cell] = max(side, self._boxes.get(cell, 0))
            around = _around(box, side)
            if around and visit.date:
                for person in (*visit.observers, *(sighting.observers or ())):
                    self._days.setdefault((visit.date, person), {})[around] = side

    def near(self, place: PlaceRecord, sighting: Sighting, visit: Visit) -> int:
        """Give the side to which a sighting is blurred for what it lies beside; 0 for none."""
        side = max(self._names.get(_plain(place.locality), 0), self._sites.get(place.site or "", 0))
        box = _box(on_grid(place))
        side = max([side, *(self._boxes.get(cell, 0) for cell in _cells(box))])
        for person in (*visit.observers, *(sighting.observers or ())):
            for around, wide in self._days.get((visit.date or "", person), {}).items():
                if box and _touch(box, around):
                    side = max(side, wide)
        return side

    def _side(self, sighting: Sighting, visit: Visit) -> int:
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
        return side


def _places(sighting: Sighting, visit: Visit) -> tuple[PlaceRecord, ...]:
    return (visit.place,) if sighting.place is None else (visit.place, sighting.place)


def _words(place: PlaceRecord) -> Iterator[str]:
    """Give what would tell the place: its name, what was typed, and its references finer than 5 km."""
    yield from filter(None, (place.locality, place.typed, place.square))
    found = on_grid(place)
    if found is not None and found.grid and found.easting is not None and found.northing is not None:
        for side in (side for side in _SIDES if side < _FIVE_KM):
            yield square_at(found.grid, found.easting, found.northing, side).reference


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def _box(place: Place | None) -> Box | None:
    """Give the whole kilometres that a place touches; its uncertainty counts where it is no square."""
    if place is None or place.easting is None or place.northing is None or place.grid is None:
        return None
    if place.side_m:
        west, south, side = place.easting, place.northing, place.side_m
        east, north = west + side, south + side
    else:
        reach = place.uncertainty_m or 0
        west, east = place.easting - reach, place.easting + reach + 1
        south, north = place.northing - reach, place.northing + reach + 1
    return (place.grid, floor(west / _KM), floor(south / _KM), ceil(east / _KM), ceil(north / _KM))


def _cells(box: Box | None) -> Iterator[tuple[str, int, int]]:
    """Give the kilometre squares of a box; of one that is no finer than a tetrad there is nothing to give away."""
    if box is None or box[3] - box[1] > 3 or box[4] - box[2] > 3:
        return
    for east in range(box[1], box[3]):
        for north in range(box[2], box[4]):
            yield box[0], east, north


def _around(box: Box | None, side_m: int) -> Box | None:
    """Give the blurred square or squares around a box."""
    if box is None:
        return None
    side = max(1, side_m // _KM)
    west, south = box[1] // side * side, box[2] // side * side
    return (box[0], west, south, -(-box[3] // side) * side, -(-box[4] // side) * side)


def _touch(one: Box, other: Box) -> bool:
    return one[0] == other[0] and one[1] < other[3] and other[1] < one[3] and one[2] < other[4] and other[2] < one[4]


def _square(places: Iterable[Place | None], side_m: int) -> Blurred:
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
