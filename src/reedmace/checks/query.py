"""A query: something doubtful about a record, with the reason and what to do about it. Nothing is ever blocked."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.keys.model import Key, Species
from reedmace.records import Sighting, Visit


class Query(NamedTuple):
    """One doubt. `code` never changes meaning; `severity` is `error`, `doubt` or `note`; `sighting` is its id."""

    code: str
    severity: str
    sighting: str
    reason: str
    remedy: str


class Record(NamedTuple):
    """A sighting with its visit, and the species of the key it names (empty where the key has none)."""

    sighting: Sighting
    visit: Visit
    species: tuple[Species, ...]

    @property
    def name(self) -> str:
        """The name to show."""
        return self.sighting.taxon.vernacular or self.sighting.taxon.scientific_name


def record_of(key: Key, sighting: Sighting, visit: Visit) -> Record:
    """Match a sighting's name against the key, by accepted names and synonyms."""
    wanted = set(sighting.taxon.one_of or (sighting.taxon.scientific_name,))
    found = tuple(species for species in key.species if wanted & {species.name, *species.synonyms})
    return Record(sighting, visit, found)
