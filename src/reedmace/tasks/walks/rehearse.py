"""A walk put together as it would be written, so that what cannot be written is told without writing anything."""

from __future__ import annotations

from itertools import count
from typing import Any

from reedmace.keys.model import Key
from reedmace.records import Visit, as_body, with_names
from reedmace.tasks.shorthand.page_said import PageVisit
from reedmace.tasks.shorthand.visit_said import VisitSaid
from reedmace.tasks.walks.log_walk import NewId, Writer, sightings_of, visit_of


def rehearse(
    key: Key, page: PageVisit, said: VisitSaid, evidence: str | None, new_id: NewId, joins: Visit | None, name: str
) -> dict[str, Any]:
    """Give visit and sightings as plain values, people by name; `name` is who writes.

    Nothing has an id, for nothing is written, but a visit that is there already. Raises `Refused` with the faults
    that writing this visit would raise; people get ids that nobody keeps.
    """
    people: dict[str, str] = {}
    numbers = count(1)

    def id_of(name: str) -> str:
        return people.setdefault(name, f"person-{next(numbers)}")

    person = id_of(name)
    visit = joins or visit_of(key, said, person, id_of)._replace(id=new_id())
    determiner = id_of(said.determiner.text) if said.determiner else person
    writer = Writer(person, "", new_id)
    shown_visit = as_body(visit)
    sightings = [
        as_body(sighting)
        for seen in page.lines
        for sighting in sightings_of(key, seen, visit, determiner, evidence, None, writer, id_of)
    ]
    name_of = {person: name for name, person in people.items()}
    for body in (shown_visit, *sightings):
        _named(body, name_of)
    return {"dry_run": True, "joins": joins.id if joins else None, "visit": shown_visit, "sightings": sightings}


def _named(body: dict[str, Any], name_of: dict[str, str]) -> None:
    """Put people's names in place of ids that nobody keeps, and leave out the ids of what is not written."""
    for field in ("id", "line_id", "visit_id"):
        body.pop(field, None)
    if body.get("observers"):
        body["observers"] = [name_of.get(one, one) for one in body["observers"]]
    if body.get("determiner"):
        body["determiner"] = name_of.get(body["determiner"], body["determiner"])
    if body.get("typed"):
        body["typed"] = with_names(body["typed"], name_of.get)
