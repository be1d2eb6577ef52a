"""A row of a sheet, as named fields → a visit and its sightings, or everything that is wrong with the row.

Ids: a row's own id is kept for ever; a row without one gets one of `sheet_ids`. Further counts of a row get ids that
are worked out from its first.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable
from datetime import date
from typing import Any, NamedTuple, TypeVar

from reedmace.darwincore import FIELD_OF_TERM, change_of, is_own
from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.sheets.counted import contradiction, misplaced, some_grown, with_count
from reedmace.tasks.sheets.counts import Count
from reedmace.tasks.sheets.dates import typed_date
from reedmace.tasks.sheets.fields import Choices, FieldReader
from reedmace.tasks.sheets.made import Made
from reedmace.tasks.sheets.memory import Fields, Slip
from reedmace.tasks.sheets.names import NamedAs
from reedmace.tasks.sheets.none_seen import none_of_a_record, says_none_seen
from reedmace.tasks.sheets.own_file import of_own_file, withheld
from reedmace.tasks.sheets.photos import read_pictures
from reedmace.tasks.sheets.visits import ROWS, Placed, RowVisits
from reedmace.tasks.sheets.weather import read_weather
from reedmace.tasks.sheets.wording import beyond_status, certainty_of, in_our_words, joined, read_certainty

T = TypeVar("T")
# Our own fields back to the terms they come from.
_TERMS = {field: term for term, field in FIELD_OF_TERM.items()}


class _Tries:
    """Tries readings one after the other, and keeps the faults of those that fail."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def __call__(self, read: Callable[[], T]) -> T | None:
        """Give what was read, None where it has a fault."""
        try:
            return read()
        except Slip as slip:
            self.faults.append(slip.fault)
            return None


class _Around(NamedTuple):
    """What a row says of its visit: `people` with their party; `nobody` says that it named nobody.

    `times` are the visit's start and end and the sighting's own, `dated` the date as typed and the time of day behind
    it.
    """

    day: str
    place: PlaceRecord
    people: tuple[tuple[str, ...], str]
    times: tuple[str | None, str | None, str | None]
    dated: tuple[str, str | None]
    nobody: bool


class _Read(NamedTuple):
    """The cells of a row as values; `what` else was seen is in the fields of a sighting."""

    around: _Around
    named: NamedAs
    counts: tuple[Count, ...]
    what: dict[str, Any]


class RecordMaker:
    """Makes records of one file's rows, one after the other.

    `person_of` gives the id of a name, `visits` the visits of the file.
    """

    def __init__(
        self, key: Key, choices: Choices, today: date, person_of: Callable[[str], str], visits: RowVisits
    ) -> None:
        self._visits = visits
        self._key = key
        self._today = today
        self._choices = choices
        self._person_of = person_of
        self._read = FieldReader(key, choices, today, person_of)

    def make(self, fields: Fields, row_id: Callable[[], str]) -> Made:
        """Make what a row says; `row_id` gives the id of a row that has none. All faults of it are told."""
        row = {_TERMS[field]: cell for field, cell in fields.items() if field in _TERMS}
        if change_of(row) == "withdrawn":
            return Made(left_out="withdrawn", withdrawn=fields.get("id", "").strip())
        if is_own(row):
            made = of_own_file(row, self._person_of, self._visits, self._key)
            if made is not None:
                return made
        timeless = in_our_words(fields, self._choices, self._today)
        number = fields.get("visit_number", "").strip().removesuffix(".0")
        if says_none_seen(fields):
            return self._none_seen(fields, number)
        read = self._cells(fields)
        if not isinstance(read, _Read):
            return Made(faults=none_of_a_record(fields) or read)
        said = self._visit_said(fields, read.around)
        placed = self._visits.place(said, seen=bool(read.counts), number=number)
        visit = placed.visit
        if visit.date != said.date:
            why = f"This row is of {said.date}, but the visit of this id is of {visit.date}."
            hint = "correct the date, or give the row another visit's id"
            return Made(faults=(Fault("visit-differs", why, hint, visit.id),))
        modified = fields.get("modified", "").strip()
        if not read.counts:
            return Made(visit, left_out=self._choices.zero or "absent", modified=modified)
        sightings = self._sightings(fields, read, placed, row_id)
        if isinstance(sightings, Fault):
            return Made(faults=(sightings,))
        return Made(
            visit,
            sightings,
            modified=modified,
            nobody=read.around.nobody,
            timeless=timeless,
            named=read.named if read.named.unknown or not read.named.literal else None,
            visit_ids=placed.ids,
            objection=placed.objection,
            said=said,
            withheld=withheld(row),
        )

    def _none_seen(self, fields: Fields, number: str) -> Made:
        """Make a visit on which there was nothing; of its own, for others may have seen something there that day."""
        tries = _Tries()
        around = self._around(fields, tries)
        if around is None:
            return Made(faults=tuple(tries.faults))
        said = self._visit_said(fields, around)._replace(none_seen=True)
        remarks = joined(said.remarks, fields.get("remarks", "").strip())
        placed = self._visits.place(said._replace(remarks=remarks), seen=True, number=f"{number} none seen")
        return Made(placed.visit, left_out="absent", modified=fields.get("modified", "").strip())

    def _around(self, fields: Fields, tries: _Tries) -> _Around | None:
        """Read the cells that belong to a visit; None where one has a fault."""
        day = tries(lambda: self._read.day(fields))
        place = tries(lambda: self._read.place(fields))
        people = tries(lambda: self._read.people(fields.get("observer", "")))
        times = tries(lambda: self._read.times(fields))
        # None of them reads as None, so what is missing here has its fault.
        if day is None or place is None or people is None or times is None:
            return None
        nobody = people == ((), "")
        if nobody and self._choices.observer:
            people = ((self._person_of(self._choices.observer),), "")
        return _Around(day, place, people, times, typed_date(fields), nobody)

    def _cells(self, fields: Fields) -> _Read | tuple[Fault, ...]:
        """Read the cells of a row each by itself, and give all that is wrong with any of them."""
        tries = _Tries()
        around = self._around(fields, tries)
        named = tries(lambda: self._read.name(fields))
        counts = tries(lambda: self._read.counts(fields))
        what = tries(lambda: self._read.what(fields))
        if around is None or named is None or counts is None or what is None:
            return tuple(tries.faults)
        both = self._joined(named, what, fields)
        return (both,) if isinstance(both, Fault) else _Read(around, named, counts, both)

    @staticmethod
    def _visit_said(fields: Fields, around: _Around) -> Visit:
        """Give the visit as the row itself says it."""
        typed, _ = around.dated
        start, end, _ = around.times
        return Visit(
            id=fields.get("visit_id", "").strip(),
            date=around.day,
            date_typed="" if typed == around.day and not fields.get("date_typed") else typed,
            start=start,
            end=end,
            place=around.place,
            observers=around.people[0],
            party=around.people[1],
            habitat=fields.get("habitat", "").strip(),
            **read_weather(fields),
            method=fields.get("method", "").strip(),
            all_damselflies="all_damselflies" in fields,
            all_dragonflies="all_dragonflies" in fields,
            remarks=fields.get("visit_remarks", "").strip(),
        )

    def _sightings(
        self, fields: Fields, read: _Read, placed: Placed, row_id: Callable[[], str]
    ) -> tuple[Sighting, ...] | Fault:
        """Make a sighting of each count, or say in what the cells contradict each other."""
        common = self._common(fields, placed.visit, read) | {"observers": placed.observers}
        clash = contradiction(common, read.counts) or misplaced(common, read.counts)
        if clash is not None:
            return clash
        ids = _ids(fields.get("id", "").strip() or row_id(), len(read.counts))
        cell = fields.get("count", "").strip()
        grown = len(read.counts) > 1 and some_grown(common, read.counts)
        return tuple(
            Sighting(id=one, line_id=ids[0], **with_count(common, count, cell, grown=grown))
            for count, one in zip(read.counts, ids, strict=True)
        )

    def _joined(self, named: NamedAs, what: dict[str, Any], fields: Fields) -> dict[str, Any] | Fault:
        """Join what stood with the name, and a comment that says no more than a stage, to what the columns said."""
        certainty = certainty_of(fields, named.certainty)
        if isinstance(certainty, Fault):
            return certainty
        joined = named.kind.into(what | {"certainty": certainty or None}, named.taxon.typed)
        if isinstance(joined, Fault) or self._choices.counting or joined.get("stage"):
            return joined
        comment = fields.get("remarks")
        return joined | self._read.skins(comment) if comment else joined

    @staticmethod
    def _common(fields: Fields, visit: Visit, read: _Read) -> dict[str, Any]:
        """Give what all sightings of a row share, in the fields of a sighting."""
        around, named, what = read.around, read.named, read.what
        doubt = fields.get("qualifier", "").strip()
        _, unread = read_certainty(fields.get("certainty", "").strip())
        pictures = read_pictures(fields.get("photos", ""), fields.get("photo_digests", ""))
        remarks = joined(fields.get("remarks", "").strip(), beyond_status(fields.get("status", "")), unread)
        if pictures.taken and not pictures.photos:
            # No file is named, so it is the evidence that says so; where the row has another, the remark does.
            by_photo = what.setdefault("evidence", "photo") == "photo"
            pictures = pictures if by_photo else pictures._replace(remarks=pictures.remarks or "photographed")
        name_cell = fields.get("name", "").strip() or named.taxon.typed
        typed = " ".join(filter(None, (fields.get("count", "").strip(), name_cell, fields.get("instants"))))
        return {
            "visit_id": visit.id,
            "taxon": named.taxon,
            **what,
            "qualifier": named.qualifier or ("" if doubt in ("?", "probable") else doubt),
            "place": None if around.place == visit.place else around.place,
            "time": around.times[2] or around.dated[1],
            "photos": pictures.photos,
            "remarks": joined(remarks, pictures.remarks),
            "count_typed": "" if fields.get("count", "").strip().isdecimal() else fields.get("count", "").strip(),
            "typed": fields.get("typed", "").strip() or typed,
            "in_pairs": int(paired) if (paired := fields.get("in_pairs_told")) else None,
        }


def _ids(first: str, many: int) -> list[str]:
    """Give the id of a row, and further ones for further counts."""
    return [first, *(str(uuid.uuid5(ROWS, f"{first}\x1f{place}")) for place in range(1, many))]
