"""Records of places that by the register of sites nobody else may see: what a recipient is told of them instead.

The place is given as the square that is published of a withheld site; what a person typed can name anything, so of
words only those that the program itself writes go out. Identifiers stay, so that answers find their record, unless
the place can be read in one.
"""

from __future__ import annotations

from reedmace.darwincore import RowNotes
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.place import Place
from reedmace.records import PlaceRecord, Sighting, Site, Visit
from reedmace.tasks.export.coarse_places import on_grid, side_words
from reedmace.tasks.export.plain_words import muted, plain_sighting, plain_visit
from reedmace.tasks.export.public_plan import PROTECTED_M, cells_touched, name_tells, plain_name, square_holding
from reedmace.tasks.export.public_words import Telling

_SIGNS = ("cf.", "aff.", "nr.")
_FINE_M = 100  # a site that is no coarser is known by its square alone
_WITHHELD = (
    "Name of the place, vice-county, time, habitat, remarks and other words as typed, earlier names, photographs"
)


class Closed:
    """Sites that nobody else may see, the visits that touch one, and what is told of these.

    Where there is no such site, or it is to have `none`, it holds nothing, and costs nothing.
    """

    def __init__(self, ledger: Ledger, *, none: bool = False) -> None:
        self.sites = () if none else tuple(site for site in ledger.sites() if site.may_see == "nobody else")
        self._ledger = ledger
        self._ids = {site.id: site for site in self.sites}
        self._names = {plain_name(name): site for site in self.sites for name in (site.name, *site.also)}
        self._squares = [
            (on_grid(site.place), site) for site in self.sites if (site.place.side_m or _FINE_M + 1) <= _FINE_M
        ]
        self._known: dict[PlaceRecord, Site | None] = {}
        self._visits: dict[str, Site] = {}
        self._places: dict[str, dict[PlaceRecord, None]] = {}
        told: dict[PlaceRecord, None] = dict.fromkeys(site.place for site in self.sites)
        # A visit is blurred whole where one of its spots is closed, and what was withdrawn was its, too.
        for sighting, visit, _ in ledger.current_sightings(Wanted(withdrawn=True)) if self.sites else ():
            site = self._touched(sighting, visit)
            if site is not None:
                self._visits.setdefault(visit.id, site)
                self._places.setdefault(visit.id, {}).update(dict.fromkeys(_places(sighting, visit)))
                told.update(dict.fromkeys(_places(sighting, visit)))
        if self._places:
            for sighting, visit, _ in ledger.current_sightings(Wanted(withdrawn=True)):
                if visit.id in self._places:
                    self._places[visit.id].update(dict.fromkeys(_places(sighting, visit)))
        self._telling = Telling(cell for place in told for cell in cells_touched(place))

    def holds(self, sighting: Sighting, visit: Visit) -> bool:
        """Say whether a record, as it stands or once stood, is of a visit to such a place."""
        return self.site_of(sighting, visit) is not None

    def site_of(self, sighting: Sighting, visit: Visit) -> Site | None:
        """Give the site for which a record's place is not told; None where it may be told."""
        if not self.sites:
            return None
        return self._visits.get(visit.id) or self._touched(sighting, visit)

    def tells(self, text: str) -> bool:
        """Say whether a text names such a place, or gives its position."""
        words = f" {plain_name(text)} "
        return any(name and f" {name} " in words for name in self._names) or self._telling.in_text(text)

    def asked_for(self, typed: str) -> bool:
        """Say whether who asks for a place by this name, or a part of one, may mean such a place."""
        return self.tells(typed) or any(plain_name(typed) in name for name in self._names)

    def blurred(self, sighting: Sighting, visit: Visit) -> tuple[Sighting, Visit, RowNotes]:
        """Give a record as it is told, and what there is to say about that."""
        places = [*self._places.get(visit.id, ()), *_places(sighting, visit)]
        found = square_holding(map(on_grid, dict.fromkeys(places)), PROTECTED_M)
        square = f"Place given as the {side_words(found.side_m)} square that holds the whole visit"
        plain = plain_sighting(sighting, self._telling)
        at, this = (muted(self._ledger, one) if self._telling.in_text(one) else one for one in (visit.id, sighting.id))
        # What was typed of a doubt is left out like all words, the doubt is not.
        doubt = sighting.qualifier if sighting.qualifier in _SIGNS else "?" if sighting.qualifier else ""
        return (
            plain._replace(id=this, visit_id=at, place=None, time=None, qualifier=doubt),
            plain_visit(visit, frozenset())._replace(
                id=at, place=found.place or PlaceRecord(), start=None, end=None, habitat=""
            ),
            RowNotes(generalised=square if found.place else "Place left out", withheld=_WITHHELD),
        )

    def _touched(self, sighting: Sighting, visit: Visit) -> Site | None:
        return next(filter(None, map(self._at, _places(sighting, visit))), None)

    def _at(self, place: PlaceRecord) -> Site | None:
        if place not in self._known:
            self._known[place] = self._look(place)
        return self._known[place]

    def _look(self, place: PlaceRecord) -> Site | None:
        if place.site in self._ids:
            return self._ids[place.site]
        words = f" {plain_name(place.locality)} "
        for name, site in self._names.items():
            if name and (words == f" {name} " or (name_tells(name) and f" {name} " in words)):
                return site
        own = None if place.site else on_grid(place)
        within = (site for square, site in self._squares if own and square and _within(own, square))
        return next(within, None)


def _places(sighting: Sighting, visit: Visit) -> tuple[PlaceRecord, ...]:
    return (visit.place,) if sighting.place is None else (visit.place, sighting.place)


def _within(place: Place, square: Place) -> bool:
    """Say whether a place lies in the square of a site."""
    side = square.side_m or 1
    return (place.side_m or side) <= side and square.covers(place)
