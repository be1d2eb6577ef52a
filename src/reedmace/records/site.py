"""A site: a named place that is met again and again."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.records.place import PlaceRecord


class Site(NamedTuple):
    """One registered site: its name, other names for it, and its place (which holds the reference and its kind).

    `habitat` is the key's id for it, or free text; both go with every visit that names the site and says
    nothing else.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    place: PlaceRecord = PlaceRecord()
    habitat: str = ""
    remarks: str = ""
