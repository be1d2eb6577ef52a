"""How a record is told in public: no free words, nobody's name in full, no photograph, and a blurred place whole.

What a person typed can name anything: the place, the neighbour's pond, a child. So in public only what the program
itself writes stands in a row; what was left out is said in `informationWithheld`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import groupby

from reedmace.checks.query import Grounds
from reedmace.darwincore import RowNotes
from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.export.choice import order
from reedmace.tasks.export.coarse_places import coarsened, side_words
from reedmace.tasks.export.plain_words import muted, plain_sighting, plain_visit
from reedmace.tasks.export.profiles import ExportProfile
from reedmace.tasks.export.public_plan import Blurred, plan
from reedmace.tasks.export.public_words import Telling
from reedmace.tasks.export.rows import ExportRow, Told, dataset

_ALWAYS = "remarks and other words as typed, names in full, earlier names, photographs"
_VERIFIER = "who verified the name, when, and their remark"
_NAME_OF_PLACE = "name of the place"
_WITH_PLACE = f"name of the place, vice-county, time, {_ALWAYS}"


class Public:
    """One public version being made. Raises `Refused` where the dataset's or the file's name tells a blurred place."""

    def __init__(
        self, ledger: Ledger, profile: ExportProfile, grounds: Grounds, file_name: str, as_of: str = ""
    ) -> None:
        sites = {site.id: site for site in ledger.sites()}
        self._plan = plan(ledger, grounds._replace(sites=sites, memo={}), profile.precision_m or 0)
        self._telling = self._plan.telling
        for name in (profile.dataset, file_name):
            check_words(name, self._telling)
        self._mute = cache(lambda identifier: muted(ledger, identifier))
        titles = {habitat.id: habitat.title for habitat in grounds.key.habitats}
        self._shared = dataset(profile, lambda habitat: titles.get(habitat, habitat))
        self._habitats = frozenset(titles)
        self._names = _Initials(ledger)
        self._precision_m = profile.precision_m
        self._verification = ledger.verifications(as_of)

    def keeps(self, told: Told) -> bool:
        """Say whether a record is published at all: not those of places that nobody else may see."""
        return told.visit.id not in self._plan.left_out

    def rows(self, told: Iterable[Told]) -> Iterator[ExportRow]:
        """Stream records as rows; those of one day by what is published of them, not by what their ids may say."""
        for _, of_day in groupby(told, key=lambda one: order(one[:3])[0]):
            rows = [(self._verified(one.sighting, self._row(one)), order(one[:3])[2]) for one in of_day]
            rows.sort(key=lambda row: (row[0].visit.id, row[1], row[0].sighting.id))
            yield from (row for row, _ in rows)

    def _verified(self, sighting: Sighting, row: ExportRow) -> ExportRow:
        """Add what the county recorder said of the name: the word alone, without who said it, when and why."""
        said = self._verification(sighting.id)
        held = said.holds_for(sighting.taxon.scientific_name) if said else ""
        if not held:
            return row
        notes = row.notes
        return row._replace(notes=notes._replace(verification=held, withheld=f"{notes.withheld}, {_VERIFIER}"))

    def _row(self, told: Told) -> ExportRow:
        blurred = self._plan.blurred(told.sighting, told.visit)
        sighting, visit = plain_sighting(told.sighting, self._telling), plain_visit(told.visit, self._habitats)
        sighting, visit, notes = self._blurred(sighting, visit, blurred) if blurred else self._exact(sighting, visit)
        if sighting.taxon != told.sighting.taxon._replace(typed=""):
            notes = notes._replace(withheld=f"{notes.withheld}, parts of the name that hold figures")
        notes = notes._replace(change=told.change)
        return ExportRow(sighting, visit, told.meta.modified, notes, self._names.of, self._shared)

    def _blurred(self, sighting: Sighting, visit: Visit, blurred: Blurred) -> tuple[Sighting, Visit, RowNotes]:
        """Give a record without its place, but for the square that holds the whole visit."""
        at = self._mute(visit.id)
        sighting = sighting._replace(id=self._mute(sighting.id), visit_id=at, place=None, time=None)
        visit = visit._replace(id=at, place=blurred.place or PlaceRecord(), start=None, end=None, habitat="")
        square = f"Place given as the {side_words(blurred.side_m)} square that holds the whole visit"
        generalised = square if blurred.place else "Place left out"
        return sighting, visit, RowNotes(generalised=generalised, withheld=_said(_WITH_PLACE))

    def _exact(self, sighting: Sighting, visit: Visit) -> tuple[Sighting, Visit, RowNotes]:
        """Give a record with its place, but for a name and ids in which another place that is blurred can be read."""
        named = (sighting.place or visit.place).locality
        own = sighting.place and self._plain_place(sighting.place)
        at = self._mute(visit.id) if self._telling.in_text(visit.id) else visit.id
        this = self._mute(sighting.id) if self._telling.in_text(sighting.id) else sighting.id
        withheld = f"{_NAME_OF_PLACE}, {_ALWAYS}" if named and self._telling.in_place_name(named) else _ALWAYS
        coarse = f"Place no finer than {side_words(self._precision_m)}" if self._precision_m else ""
        return (
            sighting._replace(id=this, visit_id=at, place=own),
            visit._replace(id=at, place=self._plain_place(visit.place)),
            RowNotes(generalised=coarse, withheld=_said(withheld)),
        )

    def _plain_place(self, place: PlaceRecord) -> PlaceRecord:
        """Give a place that everybody may know; its reference instead of what was typed."""
        if self._telling.in_place_name(place.locality):
            place = place._replace(locality="")
        if self._precision_m:
            place = coarsened(place, self._precision_m)
        if place.system in ("GB", "IE"):
            return place._replace(typed=place.square or "")
        return place._replace(typed="") if place.system is None else place._replace(typed=_position(place))


def check_words(text: str, telling: Telling) -> None:
    """Refuse a name that holds a position, or the name of a place, that is blurred."""
    if telling.in_title(text):
        said = "This name gives away a place that is to be blurred."
        hint = "choose one that says nothing of the place"
        raise Refused(Fault("public-name-tells", said, hint, text, typed=True))


def _position(place: PlaceRecord) -> str:
    if place.latitude is None or place.longitude is None:
        return ""
    return f"{place.latitude:.6f}, {place.longitude:.6f}"


def _said(what: str) -> str:
    return f"{what[0].upper()}{what[1:]}"


class _Initials:
    """People as their initials."""

    def __init__(self, ledger: Ledger) -> None:
        self._people = ledger.people
        self._known: dict[str, str] = {}

    def of(self, person: str) -> str:
        """Give the initials of a person, such as A. M."""
        if person not in self._known:
            self._known[person] = initials(self._people.name_of(person))
        return self._known[person]


def initials(name: str) -> str:
    """Give the initials of a name; a hyphen parts two of them."""
    words = [word for part in name.split() for word in part.split("-")]
    return " ".join(f"{first.upper()}." for word in words if (first := next((s for s in word if s.isalpha()), "")))
