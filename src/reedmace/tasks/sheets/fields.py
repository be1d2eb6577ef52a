"""Cells of a row → the values that records hold. What was read lately is not read again, for rows repeat each other."""

from __future__ import annotations

import re
from collections import OrderedDict, defaultdict
from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Any, NamedTuple, TypeVar

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord, unless_blank
from reedmace.tasks.shared.regions import with_regions
from reedmace.tasks.sheets.above import DITTO
from reedmace.tasks.sheets.bands import Bands
from reedmace.tasks.sheets.counts import Count, read_count
from reedmace.tasks.sheets.days import of_parts, turned
from reedmace.tasks.sheets.determiners import Determined, read_determiner
from reedmace.tasks.sheets.eastings import reference_of
from reedmace.tasks.sheets.kinds import Kind, read_kind, stage_alone
from reedmace.tasks.sheets.names import NamedAs, agree, names_differ, read_names
from reedmace.tasks.sheets.parts import counted
from reedmace.tasks.sheets.people import read_people
from reedmace.tasks.sheets.scientific import nearest_scientific, read_scientific
from reedmace.tasks.sheets.two_places import places_differ
from reedmace.tasks.sheets.values import (
    read_behaviour,
    read_day,
    read_place_cells,
    read_time,
    read_vice_county,
    reference_in,
)

T = TypeVar("T")
Fields = dict[str, str]
_REMEMBERED = 20_000  # readings: enough for neighbours in a file, little enough for memory
_EVIDENCE = {"photograph": "photo", "photos": "photo", "seen": "sight", "field": "sight", "exuviae": "exuvia"}
_EVIDENCES = frozenset({"sight", "photo", "in hand", "exuvia"})
_SPAN = re.compile(
    r"(\S*[0-9]\S*?(?: ?[ap]m)?)\s*(?:-|–|—|\bto\b)\s*(\S*[0-9]\S*(?: ?[ap]m)?)", re.ASCII | re.IGNORECASE
)
_PLACE_CELLS = ("place", "place_system", "latitude", "longitude", "uncertainty", "datum")
_KINDS = {
    "the place of the sighting itself": "exact",
    "estimated on a map": "map estimate",
    "the centre of the site, not the place of the sighting itself": "centroid",
}


class Choices(NamedTuple):
    """What holds for all rows of a file: what 0 means, the century of short years, who observed where no row says.

    `counting` are the fields of columns that count one part each, or hold ticks; `numbers` says that dates and times
    are a spreadsheet's numbers. `bands` say what letters stand for in a count.
    """

    zero: str
    century: int | None
    observer: str
    counting: frozenset[str] = frozenset()
    numbers: bool = False
    bands: Bands = ()


class Slip(Exception):  # noqa: N818  (no error: the row is told of)
    """A cell that does not read; it is told with the whole row."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.code)
        self.fault = fault


class FieldReader:
    """Reads the fields of one file's rows; every method raises `Slip` for a cell that does not read.

    `person_of` gives the id of a name.
    """

    def __init__(self, key: Key, choices: Choices, today: date, person_of: Callable[[str], str]) -> None:
        self._key = key
        self._choices = choices
        self._today = today
        self._person_of = person_of
        self._bands = dict(choices.bands)
        self._memory: defaultdict[str, OrderedDict[Any, Any]] = defaultdict(OrderedDict)

    def day(self, fields: Fields) -> str:
        """Give the date as the records write it."""
        text = fields.get("date", "").strip() or of_parts(fields, self._choices.century)
        text = text or fields.get("date_typed", "").strip()
        if not text:
            hint = "give the day, or month or year; where empty cells mean what stands above:  --as-above"
            raise Slip(Fault("date-missing", "Without a date it is no record.", hint))
        if text.casefold() in DITTO:
            hint = "write the day, or say of the whole file that such cells mean what stands above:  --as-above"
            raise Slip(Fault("date-not-read", "This says no date.", hint, text))
        if "/" in text and (clash := turned(fields)):
            raise Slip(clash)
        return self._once("day", text, lambda: read_day(text, self._today, self._choices.century))

    def place(self, fields: Fields) -> PlaceRecord:
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
        return with_regions(self._key.squares, place)

    def name(self, fields: Fields) -> NamedAs:
        """Give what it was named as."""
        if fields.get("scientific_name", "").strip():
            parts = ("scientific_name", "authorship", "rank", "vernacular", "kingdom", "phylum", "class_name", "order")
            more = ("family", "genus", "specific_epithet", "name_typed")
            asked = tuple(fields.get(part, "") for part in (*parts, *more))
            asked += (fields.get("name", "").strip(),)
            return self._once("taxon", asked, lambda: self._scientific(fields))
        text = (fields.get("name", "") or fields.get("vernacular", "")).strip()
        if not text:
            raise Slip(Fault("name-missing", "Without a name it is no record.", "write what it was"))
        return self._once("name", text, lambda: read_names(self._key, text))

    def _scientific(self, fields: Fields) -> NamedAs | Fault:
        """Read a scientific name, with which other names of the row must agree.

        A name of the standard's own term for English names that the key has not in full says nothing against it.
        """
        named = read_scientific(self._key, fields)
        if isinstance(named, Fault):
            return named
        for field in ("name", "vernacular"):
            beside = fields.get(field, "").strip()
            other = read_names(self._key, beside) if beside else None
            if field == "name" and named.unknown and isinstance(other, NamedAs):
                name = fields["scientific_name"].strip()
                if nearest_scientific(self._key, name) == other.taxon.scientific_name:
                    # An old or mistaken spelling of the very species that the other column names.
                    return other._replace(taxon=other.taxon._replace(typed=f"{beside}, {name}"), literal=False)
            sure = isinstance(other, NamedAs) and (field == "name" or (other.literal and not named.unknown))
            if isinstance(other, NamedAs) and sure and not agree(named, other):
                return names_differ(named, other)
        return named

    def counts(self, fields: Fields) -> tuple[Count, ...]:
        """Give the counts; none where the row says that there was nothing."""
        status = fields.get("status", "").strip().casefold().replace(" ", "")
        if status in ("absent", "notdetected"):
            if self._counts_some(fields):
                raise Slip(_absent_and_counted(fields))
            return ()
        if self._choices.counting:
            found = counted(fields, self._choices.counting, self._count)
            if isinstance(found, Fault):
                raise Slip(found)
            return found.counts or self._zero(found.said)
        text = fields.get("count", "").strip()
        counts = self._count(text)
        if status in ("no", "n", "false"):
            if self._counts_some(fields):
                raise Slip(_absent_and_counted(fields))
            return self._zero(status)
        kind = fields.get("count_kind", "")
        if kind and len(counts) == 1 and counts[0].number is not None:
            counts = (counts[0]._replace(kind=kind),)
        if any(count.zero for count in counts):
            return self._zero(text)
        return counts

    def _counts_some(self, fields: Fields) -> bool:
        """Say whether a row counts insects; what does not read counts none."""
        try:
            if self._choices.counting:
                found = counted(fields, self._choices.counting, self._count)
                return not isinstance(found, Fault) and bool(found.counts)
            text = fields.get("count", "").strip()
            return bool(text) and not any(count.zero for count in self._count(text))
        except Slip:
            return False

    def _count(self, cell: str) -> tuple[Count, ...]:
        return self._once("count", cell, lambda: read_count(self._bands.get(cell.strip().casefold(), cell)))

    def _zero(self, text: str) -> tuple[Count, ...]:
        if self._choices.zero == "present":
            return (Count(None),)
        if self._choices.zero in ("absent", "skip"):
            return ()
        raise Slip(
            Fault(
                "zero-unclear",
                f"A {'count of 0' if text else 'row without a count'} could mean absent, or present and not counted.",
                "say what it means in this file:  --zero absent|present|skip",
                text,
            )
        )

    def what(self, fields: Fields) -> dict[str, Any]:
        """Give what else was seen, in the fields of a sighting."""
        what: dict[str, Any] = {}
        for field in ("sex", "stage", "sex_stage"):
            # Volunteers write "imm" under Sex and "f" under Stage: what the words mean does not hang on the column.
            if cell := fields.get(field, "").strip():
                what = self._joined(self._once("kind", cell, partial(read_kind, cell)), what, cell)
        if behaviour := fields.get("behaviour", "").strip():
            acts = self._once("behaviour", behaviour, lambda: read_behaviour(behaviour))
            what = self._joined(Kind(behaviour=acts), what, behaviour)
        if day := fields.get("determined_on", "").strip():
            what["determined_on"] = self._once("day", day, lambda: read_day(day, self._today, self._choices.century))
        if pairs := fields.get("pairs_told", "").strip():
            what["pairs"] = int(pairs) if pairs.isdecimal() and pairs.isascii() else None
        evidence = fields.get("evidence", "").strip().casefold()
        evidence = _EVIDENCE.get(evidence, evidence)
        if evidence in _EVIDENCES:
            what["evidence"] = evidence
        if who := fields.get("determiner", "").strip():
            named = self._once("determiner", who, lambda: self._determiner(who))
            what |= {"determiner": named.name and self._person_of(named.name)}
            if named.on:
                what["determined_on"] = _finer(what.get("determined_on"), named.on, who)
        return what

    def skins(self, comment: str) -> dict[str, str]:
        """Give the stage that is all a comment says, where those counted were no flying insects: `exuviae`, `larvae`.

        What else a comment says may be true of some of them only.
        """
        stage = self._once("comment", comment, lambda: stage_alone(comment))
        return {"stage": stage} if stage in ("exuvia", "larva") else {}

    @staticmethod
    def _joined(kind: Kind, what: dict[str, Any], cell: str) -> dict[str, Any]:
        joined = kind.into(what, cell)
        if isinstance(joined, Fault):
            raise Slip(joined)
        return joined

    def people(self, text: str) -> tuple[tuple[str, ...], str]:
        """Give the ids of the people in a cell, and the party that is not named."""

        def read() -> tuple[tuple[str, ...], str] | Fault:
            read = read_people(text, self._choices.observer)
            if isinstance(read, Fault):
                return read
            return tuple(self._person_of(name) for name in read.names), read.party

        return self._once("people", text, read)

    def _determiner(self, text: str) -> Determined | Fault:
        day = partial(read_day, today=self._today, century=self._choices.century)
        return read_determiner(text, self._choices.observer, day)

    def times(self, fields: Fields) -> tuple[str | None, str | None, str | None]:
        """Give the visit's start and end, and the sighting's own time."""
        start, end, own = (fields.get(cell, "").strip() for cell in ("start", "end", "time"))
        if "/" in own:
            start, _, end = own.partition("/")
            own = ""
        elif not start and not end and (span := _SPAN.fullmatch(own)):
            start, end, own = span[1], span[2], ""
        one, two, three = (
            self._once("time", text, partial(read_time, text)) if text else None for text in (start, end, own)
        )
        return one, two, three

    def _once(self, what: str, asked: Any, read: Callable[[], T | Fault]) -> T:
        """Read what was not read lately; a cell that does not read raises, remembered or not."""
        memory = self._memory[what]
        found = memory.get(asked)
        if found is None:
            found = (read(),)
            memory[asked] = found
            if len(memory) > _REMEMBERED:
                memory.popitem(last=False)
        if isinstance(found[0], Fault):
            raise Slip(found[0])
        value: T = found[0]
        return value


def _absent_and_counted(fields: Fields) -> Fault:
    """Say that a row counts insects, and that there were none."""
    status = fields.get("status", "").strip()
    why = f'This row counts insects, and says "{status}" of whether there were any.'
    return Fault("cells-differ", why, "leave out the one that is wrong", fields.get("count", "").strip() or status)


def _finer(one: str | None, other: str, cell: str) -> str:
    """Give the finer of two days of naming, where one is within the other."""
    if one is not None and not other.startswith(one):
        if one.startswith(other):
            return one
        why = f"This says {other}, and the column for the day says {one}."
        raise Slip(Fault("cells-differ", why, "correct one of the two", cell))
    return other
