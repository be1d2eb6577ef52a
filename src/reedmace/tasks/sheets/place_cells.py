"""Where a row says that it was: by a reference, a position, metres on a grid, or the name of the place alone."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord, unless_blank
from reedmace.tasks.shared.regions import with_regions
from reedmace.tasks.sheets.eastings import reference_of
from reedmace.tasks.sheets.memory import Fields, Memory, Slip
from reedmace.tasks.sheets.two_places import places_differ
from reedmace.tasks.sheets.values import read_place_cells, read_vice_county, reference_in

_PLACE_CELLS = ("place", "place_system", "latitude", "longitude", "uncertainty", "datum")
_KINDS = {
    "the place of the sighting itself": "exact",
    "estimated on a map": "map estimate",
    "the centre of the site, not the place of the sighting itself": "centroid",
}


class PlaceCells:
    """Reads the place of one file's rows, with the regions that the key knows there."""

    def __init__(self, key: Key, memory: Memory) -> None:
        self._squares = key.squares
        self._once = memory.once

    def read(self, fields: Fields) -> PlaceRecord:
        """Give the place, by its reference or position, or by its name alone."""
        cells = tuple(fields.get(cell, "") for cell in _PLACE_CELLS)
        names = (fields.get(name, "").strip() for name in ("locality", "locality_typed"))
        locality = next(filter(unless_blank, names), "")
        metres = reference_of(fields)
        if isinstance(metres, Fault):
            if not cells[0]:
                raise Slip(metres)
            metres = None
        if metres is not None or (cells[0] and cells[2]):
            both = (cells[0], metres[0] if metres else "", *cells[2:])
            self._once("places", both, lambda: places_differ(*both) or "")
        if cells[0]:
            metres = None
        elif metres is not None:
            cells = (metres[0], *cells[1:])
        halves = [half.strip() for half in cells[2:4] if unless_blank(half)]
        if len(halves) == 1 and not cells[0]:
            message = f'Only one half of a position is given: "{halves[0]}".'
            hint = "fill in the other half, or leave both cells empty"
            raise Slip(Fault("position-half", message, hint, halves[0]))
        if locality and not (cells[0] or (cells[2] and cells[3])):
            cells = (self._once("locality", locality, lambda: reference_in(locality)), *cells[1:])
        place = self._once("place", cells, lambda: read_place_cells(*cells))
        if metres is not None:
            place = place._replace(typed=metres[1])
        if place.system is None and not locality:
            hint = "give a grid reference, a position, or at least the name of the place"
            raise Slip(Fault("place-missing", "Without a place it is no record.", hint))
        county = fields.get("vice_county", "").strip()
        number = self._once("county", county, lambda: read_vice_county(county)) if county else None
        kind = _KINDS.get(fields.get("place_kind", ""))
        place = place._replace(locality=locality, vice_county=number, kind=kind)  # type: ignore[arg-type]
        return with_regions(self._squares, place)
