"""A name that sightings are asked for by → the scientific names that stand in the ledger for it."""

from __future__ import annotations

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.ledger.store import Ledger
from reedmace.tasks.shared.taxa import taxon_of


def taxa_called(ledger: Ledger, key: Key, typed: str) -> tuple[str, ...]:
    """Read the name as `log` reads it, groups with all that belongs to them; or as it stands in the ledger.

    Raises Refused for a name that neither knows, and for one that could be several: "none" would be false.
    """
    standing = ledger.taxa_called(typed.strip())
    found = find_name(key, typed)
    if isinstance(found, Fault):
        if not standing and found.code == "unknown-name":
            standing = ledger.taxa_with_words(typed)
        if not standing:
            raise Refused(found)
        return standing
    wanted = _taxa(key, found)
    # Of a pair that was not split the genus alone, not every species of it.
    wide = found.group is not None and found.group.scientific is not None
    there = [
        name for taxon in wanted for name in ledger.taxa_called(taxon) if wide or name.casefold() == taxon.casefold()
    ]
    return tuple(dict.fromkeys((*there, *standing))) or wanted[:1]


def _taxa(key: Key, found: FoundName) -> tuple[str, ...]:
    """The taxon itself, its species with their older scientific names, and every group within it."""
    members = frozenset(found.species)
    species = [key.species[index] for index in found.species]
    within = [group.scientific for group in key.groups if group.scientific and group.members <= members]
    if len(members) == 1 and found.group is None:
        within = []  # a genus of one species here may have others elsewhere
    names = [name for one in species for name in (one.name, *one.synonyms)]
    return tuple(dict.fromkeys((taxon_of(key, found).scientific_name, *within, *names)))
