"""A site: a named place that is met again and again."""

from typing import Literal, NamedTuple

from reedmace.records.place import PlaceRecord

MaySee = Literal["everybody", "county recorder", "nobody else"]


class Site(NamedTuple):
    """One registered site: its name, other names for it, and its place (which holds the reference and its kind).

    `habitat` is the key's id for it, or free text; both go with every visit that names the site and says
    nothing else, an id with the word `habitat_typed` that it was said by. `may_see` says who may see where it is;
    what is published or sent must keep to it.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    place: PlaceRecord = PlaceRecord()
    habitat: str = ""
    remarks: str = ""
    may_see: MaySee = "everybody"
    habitat_typed: str = ""
