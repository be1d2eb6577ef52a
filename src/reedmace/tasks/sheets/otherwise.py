"""What a row of a sheet says otherwise than the record of its id.

Compared is all that the row would have written, by what it means: words as typed are not, where they come to the same,
for a spreadsheet writes dates and numbers in its own way. A column that the sheet does not have says nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from reedmace.darwincore import one_line
from reedmace.faults import Fault
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.tasks.records.tell_history import count_words, taxon_words
from reedmace.tasks.sheets.weather import WEATHER

_NUMBER = ("count", "count_to", "count_kind", "pairs")
_COUNTED = (*_NUMBER, "sex", "stage", "certainty")
_COMPARED = (*_COUNTED, "behaviour", "remarks", "qualifier")
# What a row says of its sighting only where the sheet has a column for it.
_MAPPED = {"evidence": "evidence", "determined_on": "day of naming"}
_OF_VISIT = ("start", "end", "habitat", "method", "remarks", "all_damselflies", "all_dragonflies")
_FIGURES = ("temperature_c", "sun_percent", "wind_force", "wind_force_to")
_OF_OUR_VISIT = ("none_seen", "exuvia_passes", "party_size", *_FIGURES)
_CALLED = {"remarks": "visit remarks", **dict.fromkeys(_FIGURES, "weather")}
_LONGEST = 60  # signs of what is said that are told
_NEAR = 1.5e-6  # degrees: positions are written with six decimals


class Told(NamedTuple):
    """What a row tells: a sighting, and the visit as the row itself says it.

    `mapped` are the fields that the sheet has columns for. `exact` says that it is a row of our own file read cell by
    cell, so that a blank is one; `nobody` that it names nobody who observed. `withheld` is what our own file says that
    it leaves out: of such a row the figures alone are compared. `untold` are fields of the visit in which an earlier
    row of it said something else, so that this one would not have written them.
    """

    sighting: Sighting
    visit: Visit
    mapped: frozenset[str] = frozenset()
    exact: bool = False
    nobody: bool = False
    withheld: bool = False
    untold: frozenset[str] = frozenset()


class Differs(NamedTuple):
    """A thing that is said otherwise, in plain words, and whether it is the visit's.

    `was` and `now` are what the record and the row say of it, blank where they say nothing or it is not told.
    """

    what: str
    of_visit: bool = False
    was: str = ""
    now: str = ""

    @property
    def told(self) -> str:
        """What each of the two says, in words; blank where these are the same or too long."""
        if self.was == self.now or max(len(self.was), len(self.now)) > _LONGEST:
            return ""
        return f"{self.what}: {self.was or 'nothing'} there, {self.now or 'nothing'} here"


NameOf = Callable[[str], str | None]


def differences(one: Sighting, there: Sighting) -> list[str]:
    """Name what two records say otherwise of what was seen and how much of it."""
    return [found.what for found in _seen(one, there, _COMPARED)]


def all_differences(told: Told, there: Sighting, at: Visit | None, name_of: NameOf) -> list[Differs]:
    """Name all that a row says otherwise than the record `there` of the visit `at`.

    `name_of` gives a person's name as it is compared, None of somebody whose name was taken out of the ledger.
    """
    one = told.sighting
    if told.withheld:
        return list(_seen(one, there, _COUNTED))
    found = list(_seen(one, there, _COMPARED))
    found += _taxon(told, there)
    found += _of_sighting(told, there, at)
    found += _people(told, there, at, name_of)
    if at is not None:
        found += _place(told, there, at)
        found += _of_visit(told, at)
    return list(dict.fromkeys(found))


def _seen(one: Sighting, there: Sighting, compared: Sequence[str]) -> Iterator[Differs]:
    if one.taxon.scientific_name != there.taxon.scientific_name:
        yield Differs("name", False, taxon_words(there.taxon), taxon_words(one.taxon))
    unlike = [field for field in compared if _plain(getattr(one, field)) != _plain(getattr(there, field))]
    if not set(unlike).isdisjoint(_NUMBER):
        yield Differs("count", False, count_words(there), count_words(one))
    for field in unlike:
        if field not in _NUMBER:
            said = (_words(getattr(record, field)) for record in (there, one))
            yield Differs(field if field != "qualifier" else "sign of doubt", False, *said)


def _taxon(told: Told, there: Sighting) -> Iterator[Differs]:
    """Compare the parts of a name that the row gives beside the scientific one."""
    one, other = told.sighting.taxon, there.taxon
    if one.scientific_name != other.scientific_name:
        return
    if one.one_of != other.one_of:
        yield Differs("name")
    english = told.exact or (one.vernacular and {"vernacular", "scientific_name"} <= told.mapped)
    if english and _plain(one.vernacular) != _plain(other.vernacular):
        yield Differs("English name")
    if told.exact:
        for field in ("authorship", "rank", "kingdom", "phylum", "class_name", "order", "family", "genus"):
            if _plain(getattr(one, field)) != _plain(getattr(other, field)):
                yield Differs(field.removesuffix("_name"))


def _of_sighting(told: Told, there: Sighting, at: Visit | None) -> Iterator[Differs]:
    one = told.sighting
    for field, what in _MAPPED.items():
        value = getattr(one, field)
        if (value or told.exact or field in told.mapped) and value != getattr(there, field):
            yield Differs(what)
    if told.exact and one.in_pairs != there.in_pairs:
        yield Differs("counted in pairs")
    if one.photos or told.exact or "photos" in told.mapped:
        paths = [photo.path for photo in one.photos] != [photo.path for photo in there.photos]
        sums = zip(one.photos, there.photos, strict=False)
        if paths or any(a.sha256 and b.sha256 and a.sha256 != b.sha256 for a, b in sums):
            yield Differs("photographs")
    # A row says the time of its visit for its own where its sighting has none.
    of_visit = at.start if at is not None and there.time is None else None
    if one.time is not None:
        if one.time != (there.time or of_visit):
            yield Differs("time", of_visit is not None)
    elif there.time is not None and (told.exact or "time" in told.mapped):
        yield Differs("time")


def _people(told: Told, there: Sighting, at: Visit | None, name_of: NameOf) -> Iterator[Differs]:
    one = told.sighting
    named = one.determiner or told.exact or "determiner" in told.mapped
    if named and not _same_people((one.determiner,), (there.determiner,), name_of):
        yield Differs("determiner")
    if told.nobody or at is None or not (told.exact or "observer" in told.mapped):
        return
    own = one.observers is not None if told.exact else False
    who = one.observers if own else told.visit.observers
    if not _same_people(who or (), at.observers if there.observers is None else there.observers, name_of):
        yield Differs("observers", there.observers is None)
    party = "" if own else told.visit.party
    if _plain(party) != _plain(at.party if there.observers is None else ""):
        yield Differs("party", of_visit=True)


def _same_people(some: Sequence[str | None], others: Sequence[str | None], name_of: NameOf) -> bool:
    """Say whether two lists are of the same people, in any order; somebody forgotten may be anybody."""
    one, two = {who for who in some if who}, {who for who in others if who}
    if one == two:
        return True
    names = {name_of(who) for who in two}
    return None in names or {name_of(who) for who in one} == names


def _place(told: Told, there: Sighting, at: Visit) -> Iterator[Differs]:
    one, other = told.sighting.place or told.visit.place, there.place or at.place
    shared = there.place is None
    positioned = told.exact or not told.mapped.isdisjoint(_POSITIONED)
    if positioned and not _same_spot(one, other):
        yield Differs("place", shared, *(spot.square or spot.typed for spot in (other, one)))
    elif one.uncertainty_m != other.uncertainty_m and one.side_m is None and "uncertainty" in told.mapped:
        yield Differs("uncertainty", shared)
    for field, what in (("locality", "locality"), ("vice_county", "vice-county"), ("kind", "kind of place")):
        said = getattr(one, field)
        if (said or told.exact or field in told.mapped) and _plain(said) != _plain(getattr(other, field)):
            yield Differs(what, shared, _words(getattr(other, field)), _words(said))


_POSITIONED = frozenset(
    ("place", "latitude", "longitude", "british_easting", "british_northing", "irish_easting", "irish_northing")
)


def _same_spot(one: PlaceRecord, other: PlaceRecord) -> bool:
    if one.square and other.square:
        return one.square == other.square
    ends = ((one.latitude, other.latitude), (one.longitude, other.longitude))
    return all(a == b or (a is not None and b is not None and abs(a - b) < _NEAR) for a, b in ends)


def _of_visit(told: Told, at: Visit) -> Iterator[Differs]:
    """Compare what a row says of its visit; a blank says something only in a row of our own."""
    said = told.visit
    if said.date != at.date:
        yield Differs("date", True, at.date or "", said.date or "")
    for field in (*_OF_VISIT, *(_OF_OUR_VISIT if told.exact else ())):
        value = getattr(said, field)
        if (value or told.exact) and field not in told.untold and _plain(value) != _plain(getattr(at, field)):
            what = _CALLED.get(field, field.replace("_", " "))
            yield Differs(what, True, _words(getattr(at, field)), _words(value))
    weather = told.exact or said.weather
    if weather and "weather" not in told.untold and not _same_weather(said, at, told.mapped):
        yield Differs("weather", of_visit=True)


def _same_weather(said: Visit, at: Visit, mapped: frozenset[str]) -> bool:
    """Compare the weather by its words, and of columns of figures by what these mean: 22 and 22.0 are one."""
    if _plain(said.weather) == _plain(at.weather):
        return True
    words = "weather" in mapped or "cloud" in mapped or WEATHER.isdisjoint(mapped)
    known = any(getattr(said, field) is not None for field in _FIGURES)
    return known and not words and all(getattr(said, field) == getattr(at, field) for field in _FIGURES)


def _words(value: object) -> str:
    """Give a value as it is told."""
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    return "yes" if value is True else str(value or "")


def _plain(value: object) -> object:
    """Give a text as it is compared: blanks as one, for no line of a sheet holds a line break; nothing as nothing."""
    return " ".join(one_line(value).split()) if isinstance(value, str) else value or None


def otherwise(record: str, differs: Sequence[Differs], *, stands: bool, visit: str = "", numbering: str = "") -> Fault:
    """Say that a row says otherwise than the record of its id, which `stands` or was taken back.

    `visit` is the record's, which some of it may belong to. `numbering` is the column of the id where that looks like
    a running number.
    """
    others = ", ".join(one.what for one in differs)
    if stands:
        said = f"A record with this id is in the ledger, with another {others}."
        if told := "; ".join(filter(None, (one.told for one in differs))):
            said += f" {told[0].upper()}{told[1:]}."
        amend = 'reedmace ledger amend {} FIELD=VALUE --reason "..."'
        lines = [amend.format(record)] if not all(one.of_visit for one in differs) or not visit else []
        lines += [amend.format(visit)] if visit and any(one.of_visit for one in differs) else []
        which = "record" if len(lines) < 2 and lines[0] == amend.format(record) else "visit" if len(lines) < 2 else ""
        hint = f"if the file is right, amend the {which or 'record and its visit'}:  {'  and  '.join(lines)}"
    else:
        said = f"The record with this id was withdrawn in this ledger; it had another {others}."
        hint = f'leave the row out; or, if it should stand again:  reedmace ledger reinstate {record} --reason "..."'
    if numbering:
        hint += f'  ; if "{numbering}" only numbers the rows of each sheet, these are others:  --map "{numbering}="'
    return Fault("differs-from-ledger", said, hint, record)
