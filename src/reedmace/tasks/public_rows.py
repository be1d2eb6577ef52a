"""How a record is told in public: no free words, nobody's name in full, no photograph, and a blurred place whole.

What a person typed can name anything: the place, the neighbour's pond, a child. So in public only what the program
itself writes stands in a row; what was left out is said in `informationWithheld`.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator

from reedmace.checks.query import Grounds
from reedmace.darwincore import Dataset, RowNotes
from reedmace.faults import Fault, Refused
from reedmace.ledger.store import Ledger
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.coarse_places import coarsened, side_words
from reedmace.tasks.export_profiles import ExportProfile
from reedmace.tasks.export_rows import ExportRow, Told, dataset
from reedmace.tasks.field_words import BEHAVIOURS, PAIRS
from reedmace.tasks.public_plan import Blurred, Plan, plan

# The words of the shorthand; anything else that stands in this field was typed freely.
_BEHAVIOURS = frozenset({*BEHAVIOURS.values(), *PAIRS.values()})
_IDS = uuid.UUID("c3c1b6f4-5d0e-5b39-9a58-6f2d9e0f7a21")  # of ids that say something: made once, for this purpose
_ALWAYS = "remarks and other words as typed, names in full, earlier names, photographs"
_VERIFIER = "who verified the name, when, and their remark"
_WITH_PLACE = f"name of the place, vice-county, time, {_ALWAYS}"


class Public:
    """One public version being made. Raises `Refused` where the dataset's or the file's name tells a blurred place."""

    def __init__(
        self, ledger: Ledger, profile: ExportProfile, grounds: Grounds, file_name: str, as_of: str = ""
    ) -> None:
        sites = {site.id: site for site in ledger.sites()}
        self._plan = plan(ledger, grounds._replace(sites=sites, memo={}))
        for name in (profile.dataset, file_name):
            check_words(name, self._plan)
        self._shared = dataset(profile)
        self._habitats = frozenset(habitat.id for habitat in grounds.key.habitats)
        self._names = _Initials(ledger)
        self._precision_m = profile.precision_m
        self._verification = ledger.verifications(as_of)

    def keeps(self, told: Told) -> bool:
        """Say whether a record is published at all: not those of places that nobody else may see."""
        return told.visit.id not in self._plan.left_out

    def rows(self, told: Iterable[Told]) -> Iterator[ExportRow]:
        """Stream records as rows."""
        for one in told:
            blurred = self._plan.blurred.get(one.visit.id)
            row = _row(one, blurred, self._shared, self._names, self._habitats, self._precision_m)
            yield self._verified(one.sighting, row)

    def _verified(self, sighting: Sighting, row: ExportRow) -> ExportRow:
        """Add what the county recorder said of the name: the word alone, without who said it, when and why."""
        said = self._verification(sighting.id)
        held = said.holds_for(sighting.taxon.scientific_name) if said else ""
        if not held:
            return row
        notes = row.notes
        return row._replace(notes=notes._replace(verification=held, withheld=f"{notes.withheld}, {_VERIFIER}"))


def check_words(text: str, what: Plan) -> None:
    """Refuse a name that holds a reference or the name of a place that is blurred."""
    plain = "".join(text.casefold().split())
    for word in what.telling:
        bare = "".join(word.casefold().split())
        if len(bare) > 2 and bare in plain:
            said = "This name gives away a place that is to be blurred."
            hint = "choose one that says nothing of the place"
            raise Refused(Fault("public-name-tells", said, hint, text, typed=True))


def _row(
    told: Told,
    blurred: Blurred | None,
    shared: Dataset,
    names: _Initials,
    habitats: frozenset[str],
    precision_m: int | None,
) -> ExportRow:
    sighting, visit = _plain_sighting(told.sighting), _plain_visit(told.visit, habitats)
    if blurred is None:
        sighting = sighting._replace(place=told.sighting.place and _plain_place(told.sighting.place, precision_m))
        visit = visit._replace(place=_plain_place(told.visit.place, precision_m))
        coarse = f"Place no finer than {side_words(precision_m)}" if precision_m else ""
        notes = RowNotes(generalised=coarse, withheld=_said(_ALWAYS))
    else:
        sighting = sighting._replace(id=_mute(sighting.id), visit_id=_mute(visit.id), place=None, time=None)
        visit = visit._replace(
            id=_mute(visit.id), place=blurred.place or PlaceRecord(), start=None, end=None, habitat=""
        )
        square = f"Place given as the {side_words(blurred.side_m)} square that holds the whole visit"
        notes = RowNotes(generalised=square if blurred.place else "Place left out", withheld=_said(_WITH_PLACE))
    return ExportRow(sighting, visit, told.meta.modified, notes._replace(change=told.change), names.of, shared)


def _mute(identifier: str) -> str:
    """Give an identifier that says nothing: a UUID as it is; of another, made from places and dates perhaps, one."""
    try:
        return identifier if str(uuid.UUID(identifier)) == identifier else str(uuid.uuid5(_IDS, identifier))
    except ValueError:
        return str(uuid.uuid5(_IDS, identifier))


def _plain_sighting(sighting: Sighting) -> Sighting:
    """Give a sighting without what was typed, photographs, and the key's answers, which hold the place of the day."""
    return sighting._replace(
        taxon=sighting.taxon._replace(typed=""),
        naming=None,
        count_typed="",
        behaviour=tuple(word for word in sighting.behaviour if word in _BEHAVIOURS),
        qualifier="",
        photos=(),
        remarks="",
        typed="",
    )


def _plain_visit(visit: Visit, habitats: frozenset[str]) -> Visit:
    """Give a visit without what was typed; the party as a number."""
    party = f"party of {visit.party_size}" if visit.party_size else "a party" if visit.party else ""
    return visit._replace(
        date_typed="",
        party=party,
        habitat=visit.habitat if visit.habitat in habitats else "",
        weather="",
        method="",
        permission_noted="",
        remarks="",
        typed="",
    )


def _plain_place(place: PlaceRecord, precision_m: int | None) -> PlaceRecord:
    """Give a place that everybody may know; its reference instead of what was typed."""
    if precision_m:
        place = coarsened(place, precision_m)
    if place.system in ("GB", "IE"):
        return place._replace(typed=place.square or "")
    return place._replace(typed="") if place.system is None else place._replace(typed=_position(place))


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
