"""Cells of a row → the values that records hold. What was read lately is not read again, for rows repeat each other."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Any, NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import PlaceRecord
from reedmace.tasks.sheets.above import DITTO
from reedmace.tasks.sheets.bands import Bands
from reedmace.tasks.sheets.count_cells import CountCells
from reedmace.tasks.sheets.counts import Count
from reedmace.tasks.sheets.days import of_parts, turned
from reedmace.tasks.sheets.determiners import Determined, read_determiner
from reedmace.tasks.sheets.kinds import Kind, read_kind, stage_alone
from reedmace.tasks.sheets.memory import Fields, Memory, Slip
from reedmace.tasks.sheets.month_first import FIELD, impossible
from reedmace.tasks.sheets.name_doubts import Doubt, doubt_in
from reedmace.tasks.sheets.names import JOINER, NamedAs, agree, doubted, names_differ, read_names
from reedmace.tasks.sheets.people import read_people
from reedmace.tasks.sheets.place_cells import PlaceCells
from reedmace.tasks.sheets.scientific import nearest_scientific, read_scientific
from reedmace.tasks.sheets.values import read_behaviour, read_day, read_time

_EVIDENCE = {"photograph": "photo", "photos": "photo", "seen": "sight", "field": "sight", "exuviae": "exuvia"}
_EVIDENCES = frozenset({"sight", "photo", "in hand", "exuvia"})
_SPAN = re.compile(
    r"(\S*[0-9]\S*?(?: ?[ap]m)?)\s*(?:-|–|—|\bto\b)\s*(\S*[0-9]\S*(?: ?[ap]m)?)", re.ASCII | re.IGNORECASE
)


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


class FieldReader:
    """Reads the fields of one file's rows; every method raises `Slip` for a cell that does not read.

    `person_of` gives the id of a name.
    """

    def __init__(self, key: Key, choices: Choices, today: date, person_of: Callable[[str], str]) -> None:
        self._key = key
        self._choices = choices
        self._today = today
        self._person_of = person_of
        memory = Memory()
        self._once = memory.once
        self._place = PlaceCells(key, memory)
        self._counts = CountCells(choices.zero, choices.counting, dict(choices.bands), memory)

    def day(self, fields: Fields) -> str:
        """Give the date as the records write it."""
        text = fields.get("date", "").strip() or of_parts(fields, self._choices.century)
        text = text or fields.get("date_typed", "").strip()
        if not text and FIELD in fields:
            raise Slip(impossible(fields[FIELD].strip()))
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
        return self._place.read(fields)

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
        doubts = [Doubt(named.certainty, named.qualifier)]
        for field in ("name", "vernacular"):
            beside = fields.get(field, "").strip()
            doubts += [doubt_in(one)[1] for one in beside.split(JOINER)]
            other = read_names(self._key, beside) if beside else None
            if field == "name" and named.unknown and isinstance(other, NamedAs):
                name = fields["scientific_name"].strip()
                if nearest_scientific(self._key, name) == other.taxon.scientific_name:
                    # An old or mistaken spelling of the very species that the other column names.
                    taxon = other.taxon._replace(typed=f"{beside}, {name}")
                    return doubted(other._replace(taxon=taxon, literal=False), doubts, taxon.typed)
            sure = isinstance(other, NamedAs) and (field == "name" or (other.literal and not named.unknown))
            if isinstance(other, NamedAs) and sure and not agree(named, other):
                return names_differ(named, other)
        cells = (fields.get(field, "").strip() for field in ("scientific_name", "name", "vernacular"))
        return doubted(named, doubts, ", ".join(filter(None, cells)))

    def counts(self, fields: Fields) -> tuple[Count, ...]:
        """Give the counts; none where the row says that there was nothing."""
        return self._counts.read(fields)

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
        # Under "Time" a number alone may be minutes.
        one, two = (
            self._once("hours", text, partial(read_time, text, hours=True)) if text else None for text in (start, end)
        )
        return one, two, self._once("time", own, partial(read_time, own)) if own else None


def _finer(one: str | None, other: str, cell: str) -> str:
    """Give the finer of two days of naming, where one is within the other."""
    if one is not None and not other.startswith(one):
        if one.startswith(other):
            return one
        why = f"This says {other}, and the column for the day says {one}."
        raise Slip(Fault("cells-differ", why, "correct one of the two", cell))
    return other
