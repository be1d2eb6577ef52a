"""Which sightings an answer is about: by our id, or by name, date and place where ids were lost."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from itertools import islice
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.place import Place, read_place
from reedmace.records import PlaceRecord, Sighting, Visit, span
from reedmace.tasks.replies.days import day_of_reply
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.names import read_name
from reedmace.tasks.sheets.rows import Sheet, rows
from reedmace.tasks.sheets.values import read_sex, read_stage

_ENDING = 20  # signs of the end of an id, at most
_SAMPLE = 50  # rows looked at for a column of ids
_TOLD = 3  # ids named where several records answer to a row


class Found(NamedTuple):
    """A sighting as it stands, its visit, the entry that says so, and whether it was found by our id."""

    sighting: Sighting
    visit: Visit
    meta: EntryMeta
    by_id: bool

    @property
    def place(self) -> PlaceRecord:
        """The place that counts for it."""
        return self.sighting.place or self.visit.place


def with_ids(ledger: Ledger, sheet: Sheet, mapping: ColumnMapping) -> ColumnMapping:
    """Give what columns mean; where no heading says which holds our ids, the first one that holds nothing else."""
    if any(field == "id" for _, field in mapping.columns):
        return mapping
    sample = [row.cells for row in islice(rows(sheet), _SAMPLE) if row.fault is None]
    for place, (column, field) in enumerate(mapping.columns):
        cells = [row[place].strip() for row in sample if row[place].strip()]
        if field is None and cells and all(_is_sighting(ledger, cell) for cell in cells):
            columns = tuple((one, "id" if one == column else what) for one, what in mapping.columns)
            return mapping._replace(columns=columns)
    return mapping


def _is_sighting(ledger: Ledger, identifier: str) -> bool:
    standing = ledger.standing(ledger.id_kept(identifier))
    return standing is not None and isinstance(standing[0], Sighting)


def find_records(ledger: Ledger, key: Key, fields: Mapping[str, str], today: date) -> tuple[Found, ...] | Fault:
    """Give the sightings that a row is about: one by its id; without an id, those of one visit that answer to it."""
    typed = fields.get("id", "").strip().removeprefix("…")
    return _by_id(ledger, ledger.id_kept(typed)) if typed else _by_words(ledger, key, fields, today)


def _by_id(ledger: Ledger, typed: str) -> tuple[Found, ...] | Fault:
    # Only a short text can be the end of an id, as lists show it; looking for those goes through all of them.
    whole = len(typed) > _ENDING or ledger.standing(typed) is not None
    meant = (typed,) if whole else ledger.subjects_ending(typed)
    if len(meant) > 1:
        hint = "give the whole id, as it was sent"
        return Fault("matches-several", f"{len(meant)} ids in the ledger end like this.", hint, typed)
    standing = ledger.standing(meant[0]) if meant else None
    if standing is None:
        said = "No record in this ledger has this id."
        hint = "look whether it is another's record; else leave the id out and give name, date and place"
        return Fault("matches-nothing", said, hint, typed)
    record, meta = standing
    if isinstance(record, Visit):
        hint = "give the id of the sighting (occurrenceID), not of its visit (eventID)"
        return Fault("not-a-sighting", "This is the id of a visit.", hint, typed)
    at = ledger.standing(record.visit_id)
    assert at is not None
    assert isinstance(at[0], Visit)
    return (Found(record, at[0], meta, True),)


def _by_words(ledger: Ledger, key: Key, fields: Mapping[str, str], today: date) -> tuple[Found, ...] | Fault:
    """Find by name, day and place; count, sex and stage only choose among several."""
    lost = [what for what in ("name", "date") if not fields.get(what)]
    if not (fields.get("place") or fields.get("locality")):
        lost.append("place")
    if lost:
        said = f"Without an id a row needs name, date and place; here is no {' and no '.join(lost)}."
        return Fault("matches-nothing", said, "give the id as it was sent, or what is missing")
    named = read_name(key, fields["name"])
    day = day_of_reply(fields["date"], today)
    for read in (named, day):
        if isinstance(read, Fault):
            return read
    assert not isinstance(named, Fault)
    assert not isinstance(day, Fault)
    days = span(day)
    assert days is not None
    wanted = Wanted(taxon=named.taxon.scientific_name, since=days.first, until=days.last)
    near = [
        Found(sighting, visit, meta, False)
        for sighting, visit, meta in ledger.current_sightings(wanted)
        if visit.date == day and _is_called(sighting, named.taxon.scientific_name, named.taxon.one_of)
    ]
    here = [one for one in near if _is_here(one.place, fields)]
    if not here:
        elsewhere = f"; there is one at {_where(near[0].place)}" if near else ""
        said = f"No record of this name, day and place stands in this ledger{elsewhere}."
        return Fault("matches-nothing", said, "give the id as it was sent", fields["name"])
    chosen = [one for one in here if _fits(one.sighting, fields)] or here
    if len({one.visit.id for one in chosen}) == 1:
        return tuple(chosen)
    ids = ", ".join(one.sighting.id for one in chosen[:_TOLD])
    if len(chosen) > _TOLD:
        ids += f", or one of {len(chosen) - _TOLD} more"
    said = f"{len(chosen)} records of {len({one.visit.id for one in chosen})} visits answer to this row."
    return Fault("matches-several", said, f"give the id of the one that is meant: {ids}", fields["name"])


def _is_called(sighting: Sighting, name: str, one_of: tuple[str, ...]) -> bool:
    return sighting.taxon.scientific_name == name and (not one_of or set(one_of) == set(sighting.taxon.one_of))


def _is_here(place: PlaceRecord, fields: Mapping[str, str]) -> bool:
    reference = fields.get("place", "").strip()
    if reference:
        read = read_place(reference)
        if isinstance(read, Place):
            return same_place(place, read)
        if reference.casefold() in (place.typed.casefold(), place.locality.casefold()):
            return True
    return _same_name(fields.get("locality", ""), place.locality)


def _same_name(one: str, other: str) -> bool:
    """Say whether two names are of one place: alike, or one a part of the other between its commas."""
    names = [" ".join(name.casefold().split()) for name in (one, other)]
    parts = [{name, *map(str.strip, re.split(r"[,;]", name))} - {""} for name in names]
    return all(names) and (names[0] in parts[1] or names[1] in parts[0])


def same_place(place: PlaceRecord, read: Place) -> bool:
    """Say whether what was read is the record's square, or a larger one around it, as a recipient may keep it."""
    if read.square is None or place.square is None:
        return place.latitude is not None and (place.latitude, place.longitude) == read.rounded()
    if read.square == place.square:
        return True
    if read.system != place.system or (read.side_m or 0) <= (place.side_m or 0):
        return False
    inner = read_place(place.square)
    return isinstance(inner, Place) and read.covers(inner)


def _fits(sighting: Sighting, fields: Mapping[str, str]) -> bool:
    """Say whether what the row says of count, sex and stage is true of this sighting."""
    if text := fields.get("count", "").strip():
        counts = read_count(text)
        if not isinstance(counts, Fault) and [(one.number, one.to) for one in counts] != [
            (sighting.count, sighting.count_to)
        ]:
            return False
    sex = read_sex(text) if (text := fields.get("sex", "").strip()) else None
    if sex is not None and not isinstance(sex, Fault) and sex != sighting.sex:
        return False
    if (text := fields.get("stage", "").strip()) and not isinstance(read := read_stage(text), Fault):
        return read == (sighting.stage or "adult")
    return True


def _where(place: PlaceRecord) -> str:
    return place.square or place.typed or place.locality or "an unknown place"
