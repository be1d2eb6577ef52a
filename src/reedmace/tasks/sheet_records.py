"""A row of a sheet, as named fields → a visit and its sightings, or everything that is wrong with the row.

Ids: a row's own id is kept for ever. A row without one gets an id worked out from what it says (UUID version 5,
RFC 9562), so that the same row comes to the same id whenever it is imported; of rows that say exactly the same,
the first, second and third are told apart. Rows of one day and place are one visit.
"""

from __future__ import annotations

import hashlib
import re
import uuid
from collections import OrderedDict
from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Any, NamedTuple, TypeVar

from reedmace.darwincore import FIELD_OF_TERM, Earlier, change_of, is_own, read_own, undo_wording
from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import Photo, PlaceRecord, Sighting, Visit, unless_blank
from reedmace.records.verification import Verification
from reedmace.tasks.regions import with_regions
from reedmace.tasks.sheet_names import NamedAs, read_name, read_scientific
from reedmace.tasks.sheet_values import (
    Count,
    read_behaviour,
    read_count,
    read_day,
    read_people,
    read_place_cells,
    read_sex,
    read_stage,
    read_time,
    read_vice_county,
)

T = TypeVar("T")
Fields = dict[str, str]
# The space of ids worked out from rows: made once, for this purpose.
ROWS = uuid.UUID("8d1f0c5e-6a0b-5f5e-9a56-4b1f6f0f3a77")
_REMEMBERED = 20_000  # visits, readings: enough for neighbours in a file, little enough for memory
_EVIDENCE = {"photograph": "photo", "photos": "photo", "seen": "sight", "field": "sight", "exuviae": "exuvia"}
_EVIDENCES = frozenset({"sight", "photo", "in hand", "exuvia"})
_PLACE_CELLS = ("place", "place_system", "latitude", "longitude", "uncertainty")
_KINDS = {
    "the place of the sighting itself": "exact",
    "estimated on a map": "map estimate",
    "the centre of the site, not the place of the sighting itself": "centroid",
}


# Our own fields back to the terms they come from.
_TERMS = {field: term for term, field in FIELD_OF_TERM.items()}


class Choices(NamedTuple):
    """What holds for all rows of a file: what 0 means, the century of short years, who observed where no row says."""

    zero: str
    century: int | None
    observer: str


class Made(NamedTuple):
    """What a row came to: a visit with sightings, or faults; `left_out` says why there is no sighting.

    A row that tells of a withdrawal comes to nothing at all.

    `modified` is when the record last changed where it came from (UTC), empty where the row does not say.
    `earlier` are the determinations of the sighting before the present one, and `reason` why that came;
    `verified` is what a county recorder said of it.
    """

    visit: Visit | None = None
    sightings: tuple[Sighting, ...] = ()
    faults: tuple[Fault, ...] = ()
    left_out: str = ""
    modified: str = ""
    earlier: tuple[Earlier, ...] = ()
    verified: Verification | None = None
    reason: str = ""


class _Slip(Exception):  # noqa: N818  (never leaves this file)
    """A cell that does not read."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.code)
        self.fault = fault


class RecordMaker:
    """Makes records of one file's rows, one after the other.

    `person_of` gives the id of a name, `visit_there` the visit of an id that is in the ledger already.
    """

    def __init__(
        self,
        key: Key,
        choices: Choices,
        today: date,
        person_of: Callable[[str], str],
        visit_there: Callable[[str], Visit | None],
    ) -> None:
        self._visit_there = visit_there
        self._key = key
        self._choices = choices
        self._today = today
        self._person_of = person_of
        self._memory: dict[str, OrderedDict[Any, Any]] = {}
        self._alike: dict[int, int] = {}
        self._visits: OrderedDict[str, Visit] = OrderedDict()

    def make(self, fields: Fields, said: str) -> Made:
        """Make what a row says; `said` is the row as written. Every fault of the row is told, not only the first."""
        row = {_TERMS[field]: cell for field, cell in fields.items() if field in _TERMS}
        if change_of(row) == "withdrawn":
            return Made(left_out="withdrawn")
        if is_own(row):
            made = self._own(row)
            if made is not None:
                return made
        for field in [field for field, cell in fields.items() if cell.isspace()]:
            del fields[field]
        undo_wording(fields)
        faults: list[Fault] = []

        def tried(read: Callable[[], T], otherwise: T) -> T:
            try:
                return read()
            except _Slip as slip:
                faults.append(slip.fault)
                return otherwise

        nothing: tuple[Count, ...] = ()
        unsaid: dict[str, Any] = {}
        nobody: tuple[tuple[str, ...], str] = ((), "")
        whenever: tuple[str | None, str | None, str | None] = (None, None, None)
        day: str | None = tried(lambda: self._day(fields), None)
        place = tried(lambda: self._place(fields), PlaceRecord())
        named: NamedAs | None = tried(lambda: self._name(fields), None)
        counts = tried(lambda: self._counts(fields), nothing)
        what = tried(lambda: self._what(fields), unsaid)
        people = tried(lambda: self._people(fields.get("observer", "") or self._choices.observer), nobody)
        times = tried(lambda: self._times(fields), whenever)
        if faults:
            return Made(faults=tuple(faults))
        assert named is not None
        start, end, own = times
        visit = Visit(
            id=fields.get("visit_id", "").strip(),
            date=day,
            date_typed=fields.get("date_typed", "") or ("" if fields.get("date") == day else fields.get("date", "")),
            start=start,
            end=end,
            place=place,
            observers=people[0],
            party=people[1],
            habitat=fields.get("habitat", "").strip(),
            weather=fields.get("weather", "").strip(),
            method=fields.get("method", "").strip(),
            all_damselflies="all_damselflies" in fields,
            all_dragonflies="all_dragonflies" in fields,
            remarks=fields.get("visit_remarks", "").strip(),
        )
        visit = self._visit(visit)
        if visit.date != day:
            said = f"This row is of {day}, but the visit of this id is of {visit.date}."
            hint = "correct the date, or give the row another visit's id"
            return Made(faults=(Fault("visit-differs", said, hint, visit.id),))
        modified = fields.get("modified", "").strip()
        if not counts:
            return Made(visit, left_out=self._choices.zero or "absent", modified=modified)
        common = self._common(fields, visit, named, what, place, people[0], own)
        ids = self._ids(fields, said, len(counts))
        sightings = tuple(self._sighting(common, count, one, ids[0]) for count, one in zip(counts, ids, strict=True))
        return Made(visit, sightings, modified=modified)

    def _own(self, row: dict[str, str]) -> Made | None:
        """Make what a row of our own file says, exactly; None where it was changed in a way that has to be read."""
        read = read_own(row, self._person_of)
        if read is None:
            return None
        here = self._key.squares
        visit = self._visit(read.visit._replace(place=with_regions(here, read.visit.place)))
        if visit.date != read.visit.date:
            return None
        place = read.sighting.place
        sighting = read.sighting._replace(place=place and with_regions(here, place))
        return Made(
            visit, (sighting,), modified=read.modified, earlier=read.earlier, reason=read.reason, verified=read.verified
        )

    def _ids(self, fields: Fields, said: str, many: int) -> list[str]:
        """Give the row's own id, or one worked out from what it says; and further ones for further counts."""
        first = fields.get("id", "").strip()
        if not first:
            digest = int.from_bytes(hashlib.blake2b(said.encode("utf-8", "replace"), digest_size=8).digest())
            again = self._alike[digest] = self._alike.get(digest, 0) + 1
            first = str(uuid.uuid5(ROWS, f"{said}\x1f{again}"))
        return [first, *(str(uuid.uuid5(ROWS, f"{first}\x1f{place}")) for place in range(1, many))]

    def _once(self, what: str, asked: Any, read: Callable[[], T | Fault]) -> T:
        """Read what was not read lately; a cell that does not read raises, remembered or not."""
        memory = self._memory.setdefault(what, OrderedDict())
        found = memory.get(asked)
        if found is None:
            found = (read(),)
            memory[asked] = found
            if len(memory) > _REMEMBERED:
                memory.popitem(last=False)
        if isinstance(found[0], Fault):
            raise _Slip(found[0])
        value: T = found[0]
        return value

    def _day(self, fields: Fields) -> str:
        text = fields.get("date", "").strip()
        if not text and fields.get("year", "").strip():
            parts = [fields.get(part, "").strip() for part in ("day", "month", "year")]
            text = " ".join(part for part in parts if part) if parts[1].isalpha() else _iso(*parts)
        if not text:
            raise _Slip(Fault("date-missing", "Without a date it is no record.", "give the day, or month or year"))
        return self._once("day", text, lambda: read_day(text, self._today, self._choices.century))

    def _place(self, fields: Fields) -> PlaceRecord:
        cells = tuple(
            fields.get(cell, "") for cell in ("place", "place_system", "latitude", "longitude", "uncertainty")
        )
        names = (fields.get(name, "").strip() for name in ("locality", "locality_typed"))
        locality = next(filter(unless_blank, names), "")
        place = self._once("place", cells, lambda: read_place_cells(*cells))
        if place.system is None and not locality:
            hint = "give a grid reference, a position, or at least the name of the place"
            raise _Slip(Fault("place-missing", "Without a place it is no record.", hint))
        county = fields.get("vice_county", "").strip()
        number = self._once("county", county, lambda: read_vice_county(county)) if county else None
        kind = _KINDS.get(fields.get("place_kind", ""))
        place = place._replace(locality=locality, vice_county=number, kind=kind)  # type: ignore[arg-type]
        return with_regions(self._key.squares, place)

    def _name(self, fields: Fields) -> NamedAs:
        if fields.get("scientific_name", "").strip():
            parts = ("scientific_name", "authorship", "rank", "vernacular", "kingdom", "phylum", "class_name", "order")
            more = ("family", "genus", "specific_epithet", "name_typed")
            asked = tuple(fields.get(part, "") for part in (*parts, *more))
            return self._once("taxon", asked, lambda: read_scientific(self._key, fields))
        text = (fields.get("name", "") or fields.get("vernacular", "")).strip()
        if not text:
            raise _Slip(Fault("name-missing", "Without a name it is no record.", "write what it was"))
        return self._once("name", text, lambda: read_name(self._key, text))

    def _counts(self, fields: Fields) -> tuple[Count, ...]:
        """Give the counts; none where the row says that there was nothing."""
        status = fields.get("status", "").strip().casefold().replace(" ", "")
        if status in ("absent", "notdetected"):
            return ()
        text = fields.get("count", "").strip()
        counts = self._once("count", text, lambda: read_count(text))
        by_sex = []
        for field, sex in (("males", "male"), ("females", "female")):
            cell = fields.get(field, "").strip()
            if cell and cell != "0":
                read = self._once("count", cell, partial(read_count, cell))
                by_sex += [count._replace(sex=sex) for count in read if not count.zero]
        if by_sex:
            return tuple(by_sex)
        kind = fields.get("count_kind", "")
        if kind and len(counts) == 1 and counts[0].number is not None:
            counts = (counts[0]._replace(kind=kind),)
        if any(count.zero for count in counts):
            return self._zero(text)
        return counts

    def _zero(self, text: str) -> tuple[Count, ...]:
        if self._choices.zero == "present":
            return (Count(None),)
        if self._choices.zero in ("absent", "skip"):
            return ()
        raise _Slip(
            Fault(
                "zero-unclear",
                "A count of 0 could mean absent, or present and not counted.",
                "say what it means in this file:  --zero absent|present|skip",
                text,
            )
        )

    def _what(self, fields: Fields) -> dict[str, Any]:
        what: dict[str, Any] = {}
        if sex := fields.get("sex", "").strip():
            what["sex"] = self._once("sex", sex, lambda: read_sex(sex))
        if stage := fields.get("stage", "").strip():
            what["stage"] = self._once("stage", stage, lambda: read_stage(stage))
        if behaviour := fields.get("behaviour", "").strip():
            what["behaviour"] = self._once("behaviour", behaviour, lambda: read_behaviour(behaviour))
        if day := fields.get("determined_on", "").strip():
            what["determined_on"] = self._once("day", day, lambda: read_day(day, self._today, self._choices.century))
        if pairs := fields.get("pairs", "").strip():
            what["pairs"] = int(pairs) if pairs.isdecimal() and pairs.isascii() else None
        evidence = fields.get("evidence", "").strip().casefold()
        evidence = _EVIDENCE.get(evidence, evidence)
        if evidence in _EVIDENCES:
            what["evidence"] = evidence
        if who := fields.get("determiner", "").strip():
            [*names], _ = self._people(who)
            what["determiner"] = names[0] if names else None
        return what

    def _people(self, text: str) -> tuple[tuple[str, ...], str]:
        def read() -> tuple[tuple[str, ...], str]:
            names, party = read_people(text)
            return tuple(self._person_of(name) for name in names), party

        return self._once("people", text, read)

    def _times(self, fields: Fields) -> tuple[str | None, str | None, str | None]:
        """Give the visit's start and end, and the sighting's own time."""
        start, end, own = (fields.get(cell, "").strip() for cell in ("start", "end", "time"))
        if "/" in own:
            start, _, end = own.partition("/")
            own = ""
        one, two, three = (
            self._once("time", text, partial(read_time, text)) if text else None for text in (start, end, own)
        )
        return one, two, three

    def _visit(self, visit: Visit) -> Visit:
        """Give the visit this row belongs to: the one met before, or this one with an id."""
        if not visit.id:
            visit = visit._replace(id=str(uuid.uuid5(ROWS, repr(_same(visit)))))
        met = self._visits.get(visit.id)
        if met is not None:
            return met
        visit = self._visit_there(visit.id) or visit
        self._visits[visit.id] = visit
        if len(self._visits) > _REMEMBERED:
            self._visits.popitem(last=False)
        return visit

    def _common(
        self,
        fields: Fields,
        visit: Visit,
        named: NamedAs,
        what: dict[str, Any],
        place: PlaceRecord,
        observers: tuple[str, ...],
        own: str | None,
    ) -> dict[str, Any]:
        """Give what all sightings of a row share, in the fields of a sighting."""
        doubt = fields.get("qualifier", "").strip()
        certainty = "uncertain" if named.uncertain or doubt == "?" else "probable" if doubt == "probable" else None
        said = fields.get("certainty", "").strip().casefold()
        photos = _photos(fields.get("photos", ""), fields.get("photo_digests", ""))
        name_cell = fields.get("name", "").strip() or named.taxon.typed
        typed = " ".join(part for part in (fields.get("count", "").strip(), name_cell) if part)
        return {
            "visit_id": visit.id,
            "taxon": named.taxon,
            **what,
            "certainty": said if said in ("certain", "probable", "uncertain") else certainty,
            "qualifier": named.qualifier or ("" if doubt in ("?", "probable") else doubt),
            "place": None if place == visit.place else place,
            "time": own,
            "observers": None if observers == visit.observers or not observers else observers,
            "photos": photos,
            "remarks": fields.get("remarks", "").strip(),
            "count_typed": "" if fields.get("count", "").strip().isdecimal() else fields.get("count", "").strip(),
            "typed": fields.get("typed", "").strip() or typed,
        }

    def _sighting(self, common: dict[str, Any], count: Count, one: str, line: str) -> Sighting:
        values = dict(common)
        pairs = count.pairs or values.pop("pairs", None)
        values.pop("pairs", None)
        if count.behaviour:
            values["behaviour"] = tuple(dict.fromkeys((*count.behaviour, *values.get("behaviour", ()))))
        if count.sex is not None:
            values["sex"] = count.sex
        if pairs:
            values["sex"] = None
        return Sighting(
            id=one,
            line_id=line,
            count=count.number,
            count_to=count.to,
            count_kind=count.kind,  # type: ignore[arg-type]  # the words of sheet_values are the records' own
            pairs=pairs,
            **values,
        )


def _photos(paths: str, digests: str) -> tuple[Photo, ...]:
    """Give the photographs; checksums only where there is one, or an empty place, for each of them."""
    named = [part.strip() for part in paths.split("|") if part.strip()]
    sums = [part.strip() for part in digests.split("|")]
    if len(sums) != len(named) or not all(re.fullmatch("([0-9a-f]{64})?", one) for one in sums):
        sums = [""] * len(named)
    return tuple(map(Photo, named, sums))


def _iso(day: str, month: str, year: str) -> str:
    parts = [year, *(part.zfill(2) for part in (month, day) if part)]
    return "-".join(parts[: 1 + bool(month) + bool(month and day)])


def _same(visit: Visit) -> tuple[Any, ...]:
    """Give what makes rows without a visit's id one visit: one day at one place.

    No people: two observers' rows of a day are one visit, and no id is worked out from somebody's name.
    """
    place = visit.place
    where = (re.sub(r"\s+", " ", place.typed), place.square, place.locality.casefold(), place.latitude, place.longitude)
    return (visit.date, where, visit.habitat, visit.method, visit.start, visit.remarks)
