"""A row of a sheet, as named fields → a visit and its sightings, or everything that is wrong with the row.

Ids: a row's own id is kept for ever; a row without one gets one of `sheet_ids`. Further counts of a row get ids that
are worked out from its first.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable
from datetime import date
from typing import Any, NamedTuple, TypeVar

from reedmace.darwincore import (
    FIELD_OF_TERM,
    Earlier,
    change_of,
    is_own,
    place_contradicted,
    read_own,
    turned_back,
)
from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.records.verification import Verification
from reedmace.tasks.shared.regions import with_regions
from reedmace.tasks.sheets.counted import contradiction, misplaced, some_grown, with_count
from reedmace.tasks.sheets.counts import Count
from reedmace.tasks.sheets.dates import typed_date
from reedmace.tasks.sheets.fields import Choices, FieldReader, Fields, Slip
from reedmace.tasks.sheets.names import NamedAs
from reedmace.tasks.sheets.photos import read_pictures
from reedmace.tasks.sheets.visits import ROWS, RowVisits
from reedmace.tasks.sheets.weather import read_weather
from reedmace.tasks.sheets.wording import beyond_status, in_our_words, joined, read_certainty

T = TypeVar("T")
# Our own fields back to the terms they come from.
_TERMS = {field: term for term, field in FIELD_OF_TERM.items()}


class Made(NamedTuple):
    """What a row came to: a visit with sightings, or faults; `left_out` says why there is no sighting.

    A row that tells of a withdrawal comes to nothing; `withdrawn` is the id of the record it asks to be taken out.

    `modified` is when the record last changed where it came from (UTC), empty where the row does not say.
    `earlier` are the determinations of the sighting before the present one, and `reason` why that came;
    `verified` is what a county recorder said of it. `nobody` says that the row named nobody who observed,
    `timeless` that a time was left out because its zone is not known for that year.
    `visit_ids` and `objection` are those of `sheet_visits`. `named` is how the name was read, None where nothing
    had to be read into it and the key has it. `said` is the visit as the row itself says it, `exact` that the row is
    one of our own file read cell by cell, and `withheld` that it is of a version of ours that leaves words
    and places out.
    """

    visit: Visit | None = None
    sightings: tuple[Sighting, ...] = ()
    faults: tuple[Fault, ...] = ()
    left_out: str = ""
    withdrawn: str = ""
    modified: str = ""
    earlier: tuple[Earlier, ...] = ()
    verified: Verification | None = None
    reason: str = ""
    nobody: bool = False
    timeless: bool = False
    named: NamedAs | None = None
    visit_ids: tuple[str, ...] = ()
    objection: Fault | None = None
    said: Visit | None = None
    exact: bool = False
    withheld: bool = False


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
            made = self._own(row)
            if made is not None:
                return made
        timeless = in_our_words(fields, self._choices, self._today)
        faults: list[Fault] = []

        def tried(read: Callable[[], T], otherwise: T) -> T:
            try:
                return read()
            except Slip as slip:
                faults.append(slip.fault)
                return otherwise

        nothing: tuple[Count, ...] = ()
        unsaid: dict[str, Any] = {}
        nobody: tuple[tuple[str, ...], str] = ((), "")
        whenever: tuple[str | None, str | None, str | None] = (None, None, None)
        day: str | None = tried(lambda: self._read.day(fields), None)
        place = tried(lambda: self._read.place(fields), PlaceRecord())
        named: NamedAs | None = tried(lambda: self._read.name(fields), None)
        counts = tried(lambda: self._read.counts(fields), nothing)
        what = tried(lambda: self._read.what(fields), unsaid)
        people = tried(lambda: self._read.people(fields.get("observer", "")), nobody)
        times = tried(lambda: self._read.times(fields), whenever)
        if faults:
            return Made(faults=tuple(faults))
        assert named is not None
        joined = self._joined(named, what, fields)
        if isinstance(joined, Fault):
            return Made(faults=(joined,))
        unnamed = people == nobody
        if unnamed and self._choices.observer:
            people = ((self._person_of(self._choices.observer),), "")
        start, end, own = times
        date_typed, clock = typed_date(fields)
        visit = Visit(
            id=fields.get("visit_id", "").strip(),
            date=day,
            date_typed="" if date_typed == day and not fields.get("date_typed") else date_typed,
            start=start,
            end=end,
            place=place,
            observers=people[0],
            party=people[1],
            habitat=fields.get("habitat", "").strip(),
            **read_weather(fields),
            method=fields.get("method", "").strip(),
            all_damselflies="all_damselflies" in fields,
            all_dragonflies="all_dragonflies" in fields,
            remarks=fields.get("visit_remarks", "").strip(),
        )
        said = visit
        number = fields.get("visit_number", "").strip().removesuffix(".0")
        placed = self._visits.place(visit, seen=bool(counts), number=number)
        visit = placed.visit
        if visit.date != day:
            why = f"This row is of {day}, but the visit of this id is of {visit.date}."
            hint = "correct the date, or give the row another visit's id"
            return Made(faults=(Fault("visit-differs", why, hint, visit.id),))
        modified = fields.get("modified", "").strip()
        if not counts:
            return Made(visit, left_out=self._choices.zero or "absent", modified=modified)
        common = self._common(fields, visit, named, joined, place, own or clock) | {"observers": placed.observers}
        clash = contradiction(common, counts) or misplaced(common, counts)
        if clash is not None:
            return Made(faults=(clash,))
        ids = _ids(fields.get("id", "").strip() or row_id(), len(counts))
        cell = fields.get("count", "").strip()
        grown = len(counts) > 1 and some_grown(common, counts)
        sightings = tuple(
            Sighting(id=one, line_id=ids[0], **with_count(common, count, cell, grown=grown))
            for count, one in zip(counts, ids, strict=True)
        )
        return Made(
            visit,
            sightings,
            modified=modified,
            nobody=unnamed,
            timeless=timeless,
            named=named if named.unknown or not named.literal else None,
            visit_ids=placed.ids,
            objection=placed.objection,
            said=said,
            withheld=_withheld(row),
        )

    def _joined(self, named: NamedAs, what: dict[str, Any], fields: Fields) -> dict[str, Any] | Fault:
        """Join what stood with the name, and a comment that says no more than a stage, to what the columns said."""
        joined = named.kind.into(what, named.taxon.typed)
        if isinstance(joined, Fault) or self._choices.counting or joined.get("stage"):
            return joined
        comment = fields.get("remarks")
        return joined | self._read.skins(comment) if comment else joined

    def _own(self, row: dict[str, str]) -> Made | None:
        """Make what a row of our own file says, exactly; None where it was changed and is to be read by its columns."""
        read = read_own(row, self._person_of)
        if read is None and (mended := turned_back(row)) is not None:
            read = read_own(mended, self._person_of)
        if read is None:
            clash = _two_places(row)
            return None if clash is None else Made(faults=(clash,))
        here = self._key.squares
        said = read.visit._replace(place=with_regions(here, read.visit.place))
        visit = self._visits.known(said)
        if visit.date != read.visit.date:
            return None
        place = read.sighting.place
        sighting = read.sighting._replace(place=place and with_regions(here, place))
        return Made(
            visit,
            (sighting,),
            modified=read.modified,
            earlier=read.earlier,
            reason=read.reason,
            verified=read.verified,
            said=said,
            exact=True,
            withheld=_withheld(row),
        )

    def _common(
        self,
        fields: Fields,
        visit: Visit,
        named: NamedAs,
        what: dict[str, Any],
        place: PlaceRecord,
        own: str | None,
    ) -> dict[str, Any]:
        """Give what all sightings of a row share, in the fields of a sighting."""
        doubt = fields.get("qualifier", "").strip()
        certainty = "uncertain" if doubt == "?" else "probable" if doubt == "probable" else named.certainty or None
        sure, unread = read_certainty(fields.get("certainty", "").strip())
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
            "certainty": sure or certainty,
            "qualifier": named.qualifier or ("" if doubt in ("?", "probable") else doubt),
            "place": None if place == visit.place else place,
            "time": own,
            "photos": pictures.photos,
            "remarks": joined(remarks, pictures.remarks),
            "count_typed": "" if fields.get("count", "").strip().isdecimal() else fields.get("count", "").strip(),
            "typed": fields.get("typed", "").strip() or typed,
            "in_pairs": int(paired) if (paired := fields.get("in_pairs_told")) else None,
        }


def _withheld(row: dict[str, str]) -> bool:
    """Say whether a row is of a version of ours that was made for others: public, or with coarser places."""
    return "words as typed" in row.get("informationWithheld", "").casefold()


def _two_places(row: dict[str, str]) -> Fault | None:
    """Say that the columns of a row of our own, which are one place, were corrected in some of them only."""
    column = place_contradicted(row)
    if not column:
        return None
    hint = (
        "correct the reference, the position and the vice-county alike; of a record that is in your ledger, the place:"
    )
    hint += f'  reedmace ledger amend {row.get("occurrenceID", "ID")} place="..." --reason "..."'
    return Fault("place-differs", f"The column {column} says another place than the others do.", hint, row[column])


def _ids(first: str, many: int) -> list[str]:
    """Give the id of a row, and further ones for further counts."""
    return [first, *(str(uuid.uuid5(ROWS, f"{first}\x1f{place}")) for place in range(1, many))]
