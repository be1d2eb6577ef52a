"""The same lines as `occurrence` gives, for a great many sightings: what repeats is worked out once.

The lines of a visit share a third of their cells, those of a species another third. Where a sighting says something
out of the common (a place, time or observers of its own, names before, something blurred), `occurrence` is asked.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Callable
from functools import cache
from operator import itemgetter
from typing import Any, NamedTuple

from reedmace.darwincore.columns import DEFAULT_COLUMNS
from reedmace.darwincore.csvfile import escaped, one_line
from reedmace.darwincore.event import event_terms
from reedmace.darwincore.exact import exact_of_sighting, exact_of_visit
from reedmace.darwincore.identification import DOUBT, identification_terms
from reedmace.darwincore.location import location_terms
from reedmace.darwincore.occurrence import (
    ALWAYS,
    Dataset,
    RowNotes,
    county_properties,
    occurrence,
    weather_properties,
)
from reedmace.darwincore.quantity import quantity_terms
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit, with_names

_AT = {column: place for place, column in enumerate(DEFAULT_COLUMNS)}
TAXON_TERMS = (
    *("scientificName", "scientificNameAuthorship", "taxonRank", "specificEpithet", "vernacularName"),
    *("kingdom", "phylum", "class", "order", "family", "genus"),
)
_FIRST = _AT["scientificName"]
assert DEFAULT_COLUMNS[_FIRST : _FIRST + len(TAXON_TERMS)] == TAXON_TERMS, "the cells of a name stand side by side"
_QUANTITY = ("sex", "lifeStage", "behavior", "reproductiveCondition", "individualCount", "organismQuantity")
_QUANTITY_FIRST = _AT["sex"]
assert DEFAULT_COLUMNS[_QUANTITY_FIRST : _QUANTITY_FIRST + 6] == _QUANTITY, "and those of number and state"
PLAIN = RowNotes()
MOST = 4096  # names, states and visits remembered
_NOTHING = Sighting("-", "-", "-", Taxon("-"))
_ID, _QUALIFIER, _BY, _ON = (
    _AT[term] for term in ("occurrenceID", "identificationQualifier", "identifiedBy", "dateIdentified")
)
_KEY, _GROUNDS, _COUNT, _QUANTITY_TYPE = (
    _AT[term]
    for term in ("identificationReferences", "identificationRemarks", "individualCount", "organismQuantityType")
)
_TYPED_NAME, _PROPERTIES, _TYPED, _REMARKS = (
    _AT[term] for term in ("verbatimIdentification", "dynamicProperties", "fieldNotes", "occurrenceRemarks")
)
_MODIFIED = _AT["modified"]
EXACT = '"exact": {"format": 1'


class OfVisit(NamedTuple):
    """What the lines of a visit share: cells, and parts of `dynamicProperties` before, between and behind."""

    cells: list[str]
    head: str
    weather: str
    exact: str
    one_time: bool


class QuickRows:
    """Makes lines, one after the other; each is a list of cells in the order of the default columns, on one line."""

    columns = DEFAULT_COLUMNS

    def __init__(self, name_of: Callable[[str], str], dataset: Dataset) -> None:
        self.name_of = cache(name_of)
        self._dataset = dataset
        self._visit: Visit | None = None
        self._of: OfVisit | None = None
        shared = {**ALWAYS, "license": dataset.license, "datasetName": one_line(dataset.name)}
        shared["occurrenceStatus"] = dataset.present
        self._always = [shared.get(column, "") for column in DEFAULT_COLUMNS]
        self._counties: dict[str | None, str] = {}
        self._weathers: dict[tuple[Any, ...], str] = {}
        self._places: OrderedDict[PlaceRecord, list[tuple[int, str]]] = OrderedDict()
        self._taxa: OrderedDict[Taxon, tuple[list[str], str]] = OrderedDict()

    def cells(self, sighting: Sighting, visit: Visit, modified: str, notes: RowNotes = PLAIN) -> list[str]:
        """Give the line of a sighting, exactly as `occurrence` would."""
        if (
            sighting.place is not None
            or sighting.time is not None
            or sighting.observers is not None
            or sighting.photos
            or (notes is not PLAIN and notes != PLAIN)
        ):
            row = occurrence(sighting, visit, modified, self.name_of, self._dataset, notes)
            return [one_line(text) for text in row.values()]
        if visit is not self._visit:
            self._visit, self._of = visit, self.shared(visit)
        shared = self._of
        assert shared is not None
        cells = shared.cells.copy()
        taxon = sighting.taxon
        known = self._taxa.get(taxon)
        if known is None:
            known = self.named(taxon)
        cells[_FIRST : _FIRST + 11], cells[_TYPED_NAME] = known
        cells[_ID] = sighting.id
        cells[_MODIFIED] = modified
        if sighting.determiner is not None:
            cells[_BY] = one_line(self.name_of(sighting.determiner))
            cells[_ON] = sighting.determined_on or ""
        elif sighting.determined_on:
            cells[_ON] = sighting.determined_on
        if sighting.qualifier or sighting.certainty:
            cells[_QUALIFIER] = one_line(sighting.qualifier) or DOUBT.get(sighting.certainty or "", "")
        if sighting.naming is not None:
            told = identification_terms(sighting, self.name_of)
            cells[_KEY] = one_line(told["identificationReferences"])
            cells[_GROUNDS] = one_line(told["identificationRemarks"])
        elif sighting.evidence:
            cells[_GROUNDS] = f"Evidence: {sighting.evidence}"
        self._quantity(cells, sighting)
        if sighting.typed:
            typed = sighting.typed
            cells[_TYPED] = one_line(with_names(typed, self.name_of) if "{" in typed else typed)
        cells[_PROPERTIES] = self._properties(sighting, visit, shared)
        return cells

    def _quantity(self, cells: list[str], sighting: Sighting) -> None:
        if sighting.count_kind == "exact" and not sighting.behaviour and not sighting.in_pairs:
            cells[_COUNT] = str(sighting.count)
            cells[_QUANTITY_FIRST] = sighting.sex or ""
            cells[_QUANTITY_FIRST + 1] = sighting.stage or ""
            remarks = sighting.remarks
            if remarks and not remarks.isspace():
                cells[_REMARKS] = one_line(remarks)
            return
        for term, text in quantity_terms(sighting).items():
            cells[_AT[term]] = one_line(text)

    def _properties(self, sighting: Sighting, visit: Visit, shared: OfVisit) -> str:
        parts = shared.head
        if sighting.evidence:
            parts += f'"evidence": "{sighting.evidence}", '
        if sighting.pairs is not None:
            parts += f'"pairs": {sighting.pairs}, '
        own = exact_of_sighting(sighting, visit)
        mine = f', "sighting": {escaped(json.dumps(own, ensure_ascii=False))}' if own else ""
        return f"{{{parts}{shared.weather}{EXACT}{mine}{shared.exact}}}}}"

    def shared(self, visit: Visit) -> OfVisit:
        """Give what the lines of a visit share."""
        cells = self._always.copy()
        for place, text in self._where(visit.place):
            cells[place] = text
        for term, text in event_terms(_NOTHING, visit, self.name_of, self._dataset.habitat_of).items():
            if text:
                cells[_AT[term]] = one_line(text)
        exact = exact_of_visit(_NOTHING, visit, self.name_of, self._dataset.habitat_of)
        told = f', "visit": {_json(exact)}' if exact else ""
        one_time = bool(visit.start) and visit.end in (None, visit.start)
        return OfVisit(cells, self._county(visit.place.vice_county), self._weather(visit), told, one_time)

    def _county(self, vice_county: str | None) -> str:
        found = self._counties.get(vice_county)
        if found is None:
            found = self._counties[vice_county] = _members(county_properties(vice_county, self._dataset))
        return found

    def _weather(self, visit: Visit) -> str:
        # By type, too: 18 and 18.0 are one key and two ways of writing.
        numbers = (visit.temperature_c, visit.sun_percent, visit.wind_force, visit.wind_force_to)
        known = (*numbers, *map(type, numbers))
        found = self._weathers.get(known)
        if found is None:
            if len(self._weathers) > MOST:
                self._weathers.clear()
            found = self._weathers[known] = _members(weather_properties(visit))
        return found

    def _where(self, place: PlaceRecord) -> list[tuple[int, str]]:
        found = self._places.get(place)
        if found is None:
            told = location_terms(place, self._dataset.vice_county_names)
            found = self._places[place] = [(_AT[term], one_line(text)) for term, text in told.items() if text]
            if len(self._places) > MOST:
                self._places.popitem(last=False)
        return found

    def named(self, taxon: Taxon) -> tuple[list[str], str]:
        """Give the cells of a name: those of `TAXON_TERMS`, and the name as it was typed."""
        told = identification_terms(_NOTHING._replace(taxon=taxon), self.name_of)
        found = [one_line(told[term]) for term in TAXON_TERMS], one_line(told["verbatimIdentification"])
        self._taxa[taxon] = found
        if len(self._taxa) > MOST:
            self._taxa.popitem(last=False)
        return found


def chosen_cells(columns: tuple[str, ...]) -> Callable[[list[str]], tuple[str, ...] | list[str]]:
    """Give what picks the cells of these columns out of a line, in their order; terms that are no default are empty."""
    if columns == DEFAULT_COLUMNS:
        return lambda cells: cells
    places = [_AT.get(column, len(DEFAULT_COLUMNS)) for column in columns]
    if len(places) == 1:
        return lambda cells: [[*cells, ""][places[0]]]
    pick = itemgetter(*places)
    return lambda cells: pick([*cells, ""])


def _json(value: Any) -> str:
    return escaped(json.dumps(value, ensure_ascii=False))


def _members(values: dict[str, Any]) -> str:
    """Give the members of an object, each with a comma behind it."""
    return f"{_json(values)[1:-1]}, " if values else ""
