"""A walk put together as it would be written, so that what cannot be written is told without writing anything."""

from __future__ import annotations

from reedmace.keys.model import Key
from reedmace.records import Visit, as_body
from reedmace.tasks.field_page import PageVisit
from reedmace.tasks.log_walk import NewId, Writer, sightings_of, visit_of
from reedmace.tasks.visit_said import VisitSaid


def rehearse(
    key: Key, page: PageVisit, said: VisitSaid, evidence: str | None, new_id: NewId, joins: Visit | None
) -> None:
    """Raise `Refused` with the faults that writing this visit would raise; people get ids that nobody keeps."""
    person = new_id()

    def id_of(_: str) -> str:
        return person

    visit = joins or visit_of(key, said, person, id_of)._replace(id=new_id())
    as_body(visit)
    for seen in page.lines:
        for sighting in sightings_of(key, seen, visit, person, evidence, None, Writer(person, "", new_id), id_of):
            as_body(sighting)
