"""Visits and sightings as values: what the ledger keeps and the export reads.

All values here are NamedTuples: slotted, frozen, typed, and cheap to import on the way to `log`.
This room imports nothing of places, keys or scoring: what it keeps of them are plain copies,
so that an old sighting still reads when a key or a grid rule has moved on.
"""

from __future__ import annotations

from reedmace.records.bodies import as_body, from_body
from reedmace.records.dates import Span, span
from reedmace.records.ids import read_id, spellings_of
from reedmace.records.names import name_mark, people_marked, with_names
from reedmace.records.naming import Answer, Circumstances, Naming, Ranked
from reedmace.records.photo import Photo
from reedmace.records.place import PlaceRecord
from reedmace.records.rules import slips_in_sighting, slips_in_visit
from reedmace.records.sighting import Sighting
from reedmace.records.site import Site
from reedmace.records.taxon import Taxon
from reedmace.records.text import unless_blank, unreadable
from reedmace.records.visit import Times, Visit, apart_in_time, habitat_said, times_apart

__all__ = [
    "Answer",
    "Circumstances",
    "Naming",
    "Photo",
    "PlaceRecord",
    "Ranked",
    "Sighting",
    "Site",
    "Span",
    "Taxon",
    "Times",
    "Visit",
    "apart_in_time",
    "as_body",
    "from_body",
    "habitat_said",
    "name_mark",
    "people_marked",
    "read_id",
    "slips_in_sighting",
    "slips_in_visit",
    "span",
    "spellings_of",
    "times_apart",
    "unless_blank",
    "unreadable",
    "with_names",
]
