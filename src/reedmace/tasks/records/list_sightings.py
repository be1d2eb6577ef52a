"""What `ledger list` takes and gives: typed conditions → a choice; a sighting → plain values for `--json`."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from reedmace.faults import Fault, Refused
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.finding import words_of
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.places.place import read_place
from reedmace.records import Sighting, Visit, as_body, span
from reedmace.records.verification import Verification
from reedmace.tasks.shared.dates import read_date


def choice(
    ledger: Ledger,
    wanted: Wanted,
    *,
    since: str | None,
    until: str | None,
    place: str | None,
    person: str | None,
    today: date,
) -> Wanted:
    """Complete a choice by what was typed for days, place and person. Raises Refused with every fault at once."""
    faults: list[Fault] = []
    if wanted.text is not None and not words_of(wanted.text):
        message = "Only words are searched, not signs, and there is no word in this."
        hint = "write the beginning of a word, such as  --text sluice"
        faults.append(Fault("text-without-words", message, hint, wanted.text, typed=True))
    first, last = _day(since, 0, today, faults), _day(until, 1, today, faults)
    people: tuple[str, ...] = ()
    if person is not None:
        people = ledger.people.ids_of(person)
        if not people:
            from reedmace.tasks.shorthand.people_short import longer_names  # only slips pay for it

            longer = longer_names(person, [one.name for one in ledger.people.all()])
            hint = " , or  ".join(f'write  --person "{name}"' for name in longer)
            hint = hint or "see who there is with  reedmace people"
            faults.append(Fault("unknown-person", "Nobody of this name is in the ledger.", hint, person, typed=True))
    if faults:
        raise Refused(*faults)
    square = locality = None
    if place is not None:
        read = read_place(place)
        if isinstance(read, Fault) or read.square is None:
            locality = place.strip()
        else:
            square = read.square
    return wanted._replace(since=first, until=last, square=square, locality=locality, people=people)


def _day(typed: str | None, end: int, today: date, faults: list[Fault]) -> str | None:
    if typed is None:
        return None
    read = read_date(typed, today, future=True)
    if isinstance(read, Fault):
        faults.append(read)
        return None
    days = span(read.iso)
    assert days is not None
    return days[end]


def as_json(
    sighting: Sighting,
    visit: Visit,
    meta: EntryMeta,
    name_of: Callable[[str], str],
    said: Verification | None = None,
) -> dict[str, Any]:
    """One JSON-able object: what, where, when, who, and the whole record under `record` and `visit`.

    `said` is the county recorder's answer that counts for it; under `status` stands what holds of its name now.
    """
    place = sighting.place or visit.place
    observers = sighting.observers if sighting.observers is not None else visit.observers
    taxon = sighting.taxon
    return {
        "id": sighting.id,
        "visit_id": visit.id,
        "line_id": sighting.line_id,
        "date": visit.date,
        "name": taxon.scientific_name,
        "rank": taxon.rank,
        "vernacular": taxon.vernacular,
        "one_of": list(taxon.one_of),
        "count": sighting.count,
        "count_kind": sighting.count_kind,
        "pairs": sighting.pairs,
        "sex": sighting.sex,
        "stage": sighting.stage,
        "behaviour": list(sighting.behaviour),
        "place": place.square or place.typed,
        "latitude": place.latitude,
        "longitude": place.longitude,
        "uncertainty_m": place.uncertainty_m,
        "locality": place.locality,
        "observers": [name_of(person) for person in observers],
        "determiner": name_of(sighting.determiner) if sighting.determiner else None,
        "certainty": sighting.certainty,
        "evidence": sighting.evidence,
        "remarks": sighting.remarks,
        "typed": sighting.typed,
        "act": meta.act,
        "written_at": meta.written_at,
        "verification": None
        if said is None
        else {
            "status": said.holds_for(taxon.scientific_name),
            "said": said.status,
            "verifier": name_of(said.verifier),
            "date": said.date,
            "remark": said.remark,
            "about": said.about,
            "name": said.name,
        },
        "record": as_body(sighting),
        "visit": as_body(visit),
    }
