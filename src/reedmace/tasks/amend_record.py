"""Corrections typed as `field=value` → the record as it stands from then on. An empty value clears a field."""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any, get_args

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.places.place import read_place
from reedmace.places.vice_counties import find_vice_county
from reedmace.records import PlaceRecord, Sighting, Visit, unless_blank
from reedmace.records.sighting import Certainty, Evidence, Sex, Stage
from reedmace.tasks.dates import read_date
from reedmace.tasks.field_words import BEHAVIOURS, PAIRS
from reedmace.tasks.shorthand import read_tallies

Change = dict[str, Any]
_YES_NO = {"yes": True, "no": False}
_ALL = {"damselflies": (True, False), "dragonflies": (False, True), "both": (True, True), "none": (False, False)}


def amended(record: Sighting | Visit, words: Sequence[str], today: date) -> Sighting | Visit:
    """Give the record with the typed changes. Raises Refused with every fault at once."""
    fields = _SIGHTING if isinstance(record, Sighting) else _VISIT
    changes: Change = {}
    faults: list[Fault] = []
    for word in words:
        name, equals, value = word.partition("=")
        name = name.strip().casefold().replace("_", "-")
        if not equals:
            hint = 'write, for example,  count=12  or  remarks="by the sluice"'
            faults.append(Fault("no-equals", "This is no change to a field.", hint, word, typed=True))
        elif name not in fields:
            faults.append(_unknown(record, name, word, fields))
        else:
            read = fields[name](value.strip(), record, today)
            if isinstance(read, Fault):
                faults.append(read._replace(said=word))
            else:
                # Two parts of one place may be changed at once.
                if "place" in read and "place" in changes:
                    read["place"] = _joined(record, changes["place"], read["place"])
                changes |= read
    if faults:
        raise Refused(*faults)
    return record._replace(**changes)


def _unknown(record: Sighting | Visit, name: str, word: str, fields: Mapping[str, Any]) -> Fault:
    if isinstance(record, Sighting) and name in _VISIT:
        return Fault(
            "field-of-the-visit",
            f"The {name} belongs to the whole visit.",
            f'amend the visit:  reedmace ledger amend {record.visit_id} {shlex.quote(word)} --reason "..."',
            word,
            typed=True,
        )
    if name in ("name", "species") and isinstance(record, Sighting):
        hint = f'give it another name:  reedmace ledger redetermine {record.id} --name "NAME" --reason "..."'
    else:
        hint = did_you_mean(name, fields, f"fields: {', '.join(fields)}")
    return Fault("unknown-field", f'There is no field "{name}" here.', hint, word, typed=True)


def _joined(record: Sighting | Visit, one: PlaceRecord, other: PlaceRecord) -> PlaceRecord:
    """Put two changes of one place together."""
    before = _place_of(record)
    kept = {name: value for name, value in other._asdict().items() if value != getattr(before, name)}
    return one._replace(**kept)


def _place_of(record: Sighting | Visit) -> PlaceRecord:
    return record.place or PlaceRecord()


def _text(field: str) -> Callable[..., Change | Fault]:
    return lambda value, _record, _today: {field: value}


def _word(field: str, words: tuple[str, ...]) -> Callable[..., Change | Fault]:
    def read(value: str, _record: Any, _today: date) -> Change | Fault:
        if not value:
            return {field: None}
        if value.casefold() not in words:
            hint = did_you_mean(value, words, f"one of: {', '.join(words)}")
            return Fault("unknown-word", f'"{value}" is no {field}.', hint, typed=True)
        return {field: value.casefold()}

    return read


def _clock(field: str) -> Callable[..., Change | Fault]:
    def read(value: str, _record: Any, _today: date) -> Change | Fault:
        if not value:
            return {field: None}
        hours, _, minutes = value.replace(".", ":").partition(":")
        if not (hours.isdecimal() and minutes.isdecimal() and int(hours) < 24 and int(minutes) < 60):
            return Fault("time-not-read", "This is no time of day.", "write it as  10:30", typed=True)
        return {field: f"{int(hours):02}:{int(minutes):02}"}

    return read


def _date(value: str, _record: Any, today: date) -> Change | Fault:
    if not value:
        return {"date": None, "date_typed": ""}
    read = read_date(value, today)
    return read if isinstance(read, Fault) else {"date": read.iso, "date_typed": value}


def _count(value: str, record: Sighting, _today: date) -> Change | Fault:
    if not value or value.casefold() == "present":
        return {"count": None, "count_to": None, "count_kind": "present", "count_typed": value, "pairs": None}
    read = read_tallies(value)
    if isinstance(read, Fault):
        return read
    if len(read.tallies) != 1:
        hint = "one sighting has one count: log the other with  reedmace log"
        return Fault("two-counts", "This counts more than one kind of insect.", hint, typed=True)
    tally = read.tallies[0]
    change: Change = {"count": tally.count, "count_to": tally.to, "count_kind": tally.kind, "count_typed": value}
    change["pairs"] = tally.pairs
    if tally.pairs:
        # "2 pairs" says how many, and nothing new of what they did where it is known already that they were pairs.
        words = re.findall(r"[a-z]+", value.casefold())
        known = any(act in PAIRS.values() for act in record.behaviour)
        plain = known and not any(word in PAIRS for word in words)
        acts = record.behaviour if plain else (*tally.behaviour, *record.behaviour)
        return change | {"sex": None, "behaviour": tuple(dict.fromkeys(acts))}
    if record.pairs:
        # They are no pairs any more, so what says that they were goes too.
        change["behaviour"] = tuple(act for act in record.behaviour if act not in PAIRS.values())
    return change | ({"sex": tally.sex} if tally.sex else {})


def _behaviour(value: str, _record: Any, _today: date) -> Change | Fault:
    known = {**BEHAVIOURS, **PAIRS}
    acts = [known.get(act.strip().casefold(), act.strip()) for act in value.split(",") if act.strip()]
    return {"behaviour": tuple(dict.fromkeys(acts))}


def _place(value: str, record: Sighting | Visit, _today: date) -> Change | Fault:
    before = _place_of(record)
    if not value:
        return {"place": None} if isinstance(record, Sighting) else {"place": PlaceRecord(locality=before.locality)}
    read = read_place(value)
    if isinstance(read, Fault):
        return read
    latitude, longitude = read.rounded()
    return {
        "place": PlaceRecord(
            typed=read.typed,
            system=read.system,
            square=read.square,
            side_m=read.side_m,
            latitude=latitude,
            longitude=longitude,
            uncertainty_m=round(read.uncertainty_m) if read.uncertainty_m is not None else None,
            vice_county=before.vice_county,
            locality=before.locality,
        )
    }


def _locality(value: str, record: Sighting | Visit, _today: date) -> Change | Fault:
    return {"place": _place_of(record)._replace(locality=unless_blank(value))}


def _vice_county(value: str, record: Sighting | Visit, _today: date) -> Change | Fault:
    if not value:
        return {"place": _place_of(record)._replace(vice_county=None)}
    county = find_vice_county(value)
    if isinstance(county, Fault):
        return county
    return {"place": _place_of(record)._replace(vice_county=county.number)}


def _all(value: str, _record: Any, _today: date) -> Change | Fault:
    if value.casefold() not in _ALL:
        return Fault("unknown-word", "Say all of what was noted.", f"one of: {', '.join(_ALL)}", typed=True)
    damselflies, dragonflies = _ALL[value.casefold()]
    return {"all_damselflies": damselflies, "all_dragonflies": dragonflies}


def _none_seen(value: str, _record: Any, _today: date) -> Change | Fault:
    if value.casefold() not in _YES_NO:
        return Fault("unknown-word", "Say yes or no.", "none-seen=yes  or  none-seen=no", typed=True)
    return {"none_seen": _YES_NO[value.casefold()]}


def _named(value: str, _record: Any, today: date) -> Change | Fault:
    read = read_date(value, today) if value else None
    return read if isinstance(read, Fault) else {"determined_on": read.iso if read else None}


_SIGHTING: dict[str, Callable[..., Change | Fault]] = {
    "named": _named,
    "count": _count,
    "sex": _word("sex", get_args(Sex)),
    "stage": _word("stage", get_args(Stage)),
    "behaviour": _behaviour,
    "evidence": _word("evidence", get_args(Evidence)),
    "certainty": _word("certainty", get_args(Certainty)),
    "time": _clock("time"),
    "place": _place,
    "locality": _locality,
    "remarks": _text("remarks"),
}
_VISIT: dict[str, Callable[..., Change | Fault]] = {
    "date": _date,
    "start": _clock("start"),
    "end": _clock("end"),
    "place": _place,
    "locality": _locality,
    "vice-county": _vice_county,
    "habitat": _text("habitat"),
    "weather": _text("weather"),
    "method": _text("method"),
    "party": _text("party"),
    "all": _all,
    "none-seen": _none_seen,
    "permission": _text("permission_noted"),
    "remarks": _text("remarks"),
}
