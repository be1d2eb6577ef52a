"""Records that an export leaves out because they do not say what was asked for: how many, of which visits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.ledger.meeting import of_place
from reedmace.ledger.store import Ledger
from reedmace.places.place import Place, read_place
from reedmace.records import Sighting, Visit, span
from reedmace.tasks.export.choice import Chosen, chosen, vice_county_of, without_year
from reedmace.tasks.export.coarse_places import on_grid
from reedmace.tasks.export.season import Asked

Silent = Callable[[Sighting, Visit], bool]
_MOST = 3  # visits named for each


class Unstated(NamedTuple):
    """How many records say nothing of what was asked for, of how many visits, and what to amend for the first.

    `first` are ids of visits, or of sightings that have a place of their own where it is that.

    `what` is `vice-county`, `date` or `place`: a word of the program's, for other programs too. `by_name` is a place
    that was asked for by its name.
    """

    what: str
    records: int
    visits: int
    first: tuple[str, ...]
    by_name: bool = False

    @property
    def why(self) -> str:
        """What the records do not say, in words that stand behind "because they state"."""
        if self.what == "date":
            return "no date within one year"
        if self.what == "place":
            return "no name of a place" if self.by_name else "no grid square as fine as that"
        return "no vice-county"

    @property
    def remedy(self) -> str:
        """What to type for each visit, behind its id."""
        return {"vice-county": "vice-county=VC", "date": "date=DATE"}.get(
            self.what, "locality=NAME" if self.by_name else "place=REFERENCE"
        )


def unstated(ledger: Ledger, asked: Asked) -> tuple[Unstated, ...]:
    """Give what was left out only because it says nothing of one of the conditions, by condition.

    A record that says nothing of two is counted in neither: with one of them stated it would still be left out.
    """
    return tuple(one for one in _each(ledger, asked) if one.records)


def _each(ledger: Ledger, asked: Asked) -> Iterator[Unstated]:
    choose = asked.profile.choose
    if choose.vice_counties:
        rest = choose.model_copy(update={"vice_counties": ()})
        rows: Iterable[Chosen] = chosen(ledger, rest, asked.season, asked.today, asked.called)
        yield _counted("vice-county", rows, lambda sighting, visit: vice_county_of(sighting, visit) is None)
    if asked.season or choose.since or choose.until:
        rows = without_year(ledger, choose, asked.today, asked.called)
        yield _counted("date", rows, lambda _, visit: _no_year(visit, asked))
    if choose.places:
        squares = [square for square in map(_square, choose.places) if square]
        rest = choose.model_copy(update={"places": ()})
        rows = chosen(ledger, rest, asked.season, asked.today, asked.called)
        by_name = not squares
        yield _counted("place", rows, _nameless if by_name else _coarser(squares))._replace(by_name=by_name)


def _counted(what: str, rows: Iterable[Chosen], silent: Silent) -> Unstated:
    visits: dict[str, str] = {}
    records = 0
    for sighting, visit, _ in rows:
        if silent(sighting, visit):
            records += 1
            visits.setdefault(visit.id, sighting.id if what == "place" and sighting.place else visit.id)
    return Unstated(what, records, len(visits), tuple(visits.values())[:_MOST])


def _no_year(visit: Visit, asked: Asked) -> bool:
    """Say whether a visit has no date; for one season, or one of several years that this is among."""
    days = span(visit.date) if visit.date else None
    if days is None:
        return True
    return asked.season is not None and int(days.first[:4]) <= asked.season <= int(days.last[:4])


def _square(typed: str) -> Place | None:
    read = read_place(typed)
    return None if isinstance(read, Fault) or read.square is None else read


def _nameless(sighting: Sighting, visit: Visit) -> bool:
    return not (of_place(sighting, visit).locality or visit.place.locality)


def _coarser(squares: list[Place]) -> Silent:
    """Give whether a place is no square at all, or one that holds a square that is asked for and more."""

    def silent(sighting: Sighting, visit: Visit) -> bool:
        own = on_grid(of_place(sighting, visit))
        return own is None or not own.side_m or any(_holds(own, square) for square in squares)

    return silent


def _holds(wide: Place, square: Place) -> bool:
    return (wide.side_m or 0) > (square.side_m or 0) and wide.covers(square)
