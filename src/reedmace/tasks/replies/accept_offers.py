"""Corrections by the county recorder that were accepted → further entries, each with its reason.

The name is redetermined; place, count and stage are amended. A date belongs to the whole visit: where all that
stands in it gets the same date, the visit is amended, else those sightings move to a visit of their own.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import NamedTuple, Protocol

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import PlaceRecord, Sighting, Visit
from reedmace.records.verification import Verification
from reedmace.tasks.records.amend_record import amended
from reedmace.tasks.records.redetermine import redetermined
from reedmace.tasks.replies.days import day_of_reply, year_of
from reedmace.tasks.replies.match import Found
from reedmace.tasks.replies.offers import Offer
from reedmace.tasks.sheets.values import read_place_cells, read_stage
from reedmace.tasks.sheets.visits import ROWS


class Offering(Protocol):
    """An answer that offers corrections: just read from a file, or kept in the ledger and still open."""

    @property
    def found(self) -> Found:
        """The record it is about."""

    @property
    def verifier(self) -> str:
        """Who decided, by name."""

    @property
    def said(self) -> Verification:
        """What was decided."""

    @property
    def offers(self) -> tuple[Offer, ...]:
        """What it would correct."""


class Accepting(NamedTuple):
    """The key, the time (UTC), ids and today, passed in."""

    key: Key
    written_at: str
    new_id: Callable[[], str]
    today: date


class Accepted(NamedTuple):
    """One sighting with what was accepted for it, or why it could not be."""

    answer: Offering
    offers: tuple[Offer, ...]
    refused: tuple[Fault, ...] = ()


def accept(ledger: Ledger, chosen: Iterable[tuple[Offering, tuple[Offer, ...]]], how: Accepting) -> list[Accepted]:
    """Write what was accepted, by the verifier; a record that cannot be corrected now does not stop the others."""
    chosen = [(answer, offers) for answer, offers in chosen if offers]
    days = _days(chosen, how.today)
    done: list[Accepted] = []
    moved: set[str] = set()
    for answer, offers in chosen:
        try:
            subject = answer.found.sighting.id
            if subject in days:
                _redate(ledger, answer, days, how, moved)
            _correct(ledger, answer, [one for one in offers if one.field != "date"], how)
            done.append(Accepted(answer, offers))
        except Refused as refused:
            done.append(Accepted(answer, offers, refused.faults))
    return done


def _days(chosen: Iterable[tuple[Offering, tuple[Offer, ...]]], today: date) -> dict[str, str]:
    """Give the new day of each sighting that gets one."""
    found = {}
    for answer, offers in chosen:
        for offer in offers:
            if offer.field == "date":
                day = day_of_reply(offer.typed, today, year_of(answer.found.visit))
                assert not isinstance(day, Fault)
                found[answer.found.sighting.id] = day
    return found


def _redate(ledger: Ledger, answer: Offering, days: Mapping[str, str], how: Accepting, moved: set[str]) -> None:
    """Give a sighting its new day: with the whole visit where all of it gets that day, else on a visit of its own."""
    visit_id, day = answer.found.visit.id, days[answer.found.sighting.id]
    if visit_id in moved:
        return
    person, reason = _who_and_why(ledger, answer, how)
    standing = ledger.standing(visit_id)
    assert standing is not None
    visit, meta = standing
    assert isinstance(visit, Visit)
    together = [one.id for one, _, _ in ledger.current_sightings(Wanted(visit_id=visit_id))]
    typed = next(offer.typed for offer in answer.offers if offer.field == "date")
    if all(days.get(one) == day for one in together):
        new = visit._replace(date=day, date_typed=typed)
        ledger.amend(new, reason, person, how.written_at, how.new_id, follows=meta.entry_id)
        moved.add(visit_id)
        return
    # What belongs to the other day stays there: times, weather, and that everything was noted.
    own = Visit(
        str(uuid.uuid5(ROWS, f"{visit_id}\x1f{day}")),
        date=day,
        date_typed=typed,
        place=visit.place,
        observers=visit.observers,
        party=visit.party,
        party_size=visit.party_size,
        habitat=visit.habitat,
        habitat_typed=visit.habitat_typed,
        method=visit.method,
    )
    there = ledger.standing(own.id)
    if there is None:
        ledger.record_walk(own, (), person, how.written_at, how.new_id)
    sighting, seen = _standing(ledger, answer)
    ledger.amend(sighting._replace(visit_id=own.id), reason, person, how.written_at, how.new_id, follows=seen)


def _correct(ledger: Ledger, answer: Offering, offers: list[Offer], how: Accepting) -> None:
    """Write place, count and stage in one entry, and a new name in another."""
    person, reason = _who_and_why(ledger, answer, how)
    changes = [offer for offer in offers if offer.field != "name"]
    if changes:
        sighting, seen = _standing(ledger, answer)
        new = sighting
        for offer in changes:
            new = _changed(new, answer, offer, how.today)
        if new != sighting:
            ledger.amend(new, reason, person, how.written_at, how.new_id, follows=seen)
    for offer in offers:
        if offer.field == "name":
            sighting, seen = _standing(ledger, answer)
            day = answer.said.date or how.today.isoformat()
            new = redetermined(how.key, sighting, offer.typed, person, day)
            ledger.amend(new, reason, person, how.written_at, how.new_id, "redetermined", seen)


def _changed(sighting: Sighting, answer: Offering, offer: Offer, today: date) -> Sighting:
    if offer.field == "place":
        read = read_place_cells(offer.typed, "", "", "", "")
        if isinstance(read, Fault):
            raise Refused(read)
        # The square was corrected; name of the place and vice-county stay as they were said.
        before = sighting.place or answer.found.visit.place
        place: PlaceRecord = read._replace(locality=before.locality, vice_county=before.vice_county, kind=before.kind)
        return sighting._replace(place=place)
    if offer.field in ("locality", "vice_county"):
        place = sighting.place or answer.found.visit.place
        named = place._replace(locality=offer.typed)
        return sighting._replace(place=named if offer.field == "locality" else place._replace(vice_county=offer.now))
    value = offer.now if offer.field == "sex" else offer.typed
    if offer.field == "stage":
        stage = read_stage(value)
        if isinstance(stage, Fault):
            raise Refused(stage)
        value = stage
    new = amended(sighting, [f"{offer.field}={value}"], today)
    assert isinstance(new, Sighting)
    return new


def _standing(ledger: Ledger, answer: Offering) -> tuple[Sighting, str]:
    standing = ledger.standing(answer.found.sighting.id)
    assert standing is not None
    record, meta = standing
    assert isinstance(record, Sighting)
    return record, meta.entry_id


def _who_and_why(ledger: Ledger, answer: Offering, how: Accepting) -> tuple[str, str]:
    said = answer.said.remark or "; ".join(f"{offer.field.replace('_', '-')} {offer.typed}" for offer in answer.offers)
    return ledger.people.register(answer.verifier, how.new_id), f"county recorder's reply: {said}"
