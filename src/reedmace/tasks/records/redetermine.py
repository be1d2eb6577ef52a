"""Another name for sightings that are there: by a person, with a reason, as a further entry."""

from __future__ import annotations

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.keys.names import find_name
from reedmace.records import Sighting
from reedmace.tasks.shared.taxa import taxon_of


def redetermined(key: Key, sighting: Sighting, name: str, determiner: str, day: str) -> Sighting:
    """Give the sighting under its new name; raises Refused where the key does not know the name.

    `determiner` is a person's id, `day` an ISO date. What the key once ranked stays with the entry it belongs
    to: beside the new name it would be a reason for another one.
    """
    doubtful = name.rstrip().endswith("?")
    found = find_name(key, name.rstrip().removesuffix("?"))
    if isinstance(found, Fault):
        raise Refused(found)
    return sighting._replace(
        taxon=taxon_of(key, found),
        naming=None,
        determiner=determiner,
        determined_on=day,
        certainty="uncertain" if doubtful else None,
        qualifier="",
    )
