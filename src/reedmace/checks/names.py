"""Does the English name go with the scientific one, and does the key know it?"""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.query import Grounds, Query, Record, query
from reedmace.keys.model import Key, Species
from reedmace.keys.name_fits import all_names, words_of


def names_of_two_kinds(grounds: Grounds, record: Record) -> Iterator[Query]:
    """An English name that the key gives to another species than the scientific name beside it."""
    taxon = record.sighting.taxon
    if not taxon.vernacular or taxon.one_of:
        return
    scientific, english = taxon.scientific_name, taxon.vernacular
    other = grounds.once(("names", scientific, english), lambda: _other(grounds, record))
    if other is not None:
        reason = f"{english} is {other.name} in the key, and the scientific name is {scientific}."
        yield query(record, "names-differ", "doubt", reason, "look up which was meant, and name it anew")


def name_not_in_key(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A name that the key does not have: what hangs on the species was not looked at, and silence means nothing."""
    taxon = record.sighting.taxon
    names = taxon.one_of or (taxon.scientific_name,)
    if len(record.species) == len(names) or not taxon.scientific_name:
        return
    known = grounds.once("names of the key", lambda: _names(grounds.key))
    if lost := [name for name in names if name not in grounds.named and name not in known]:
        reason = f"The key {grounds.key.id} has no {' and no '.join(lost)}"
        reason += ": season, range and evidence were not looked at."
        remedy = "check it with a key that has it (--key NAME), or look whether it is spelt right"
        yield query(record, "not-in-key", "note", reason, remedy)


def _names(key: Key) -> frozenset[str]:
    """Every name of the key that is none of its species'."""
    above = (*key.classification.values(), *key.families, *(rank for ranks in key.families.values() for rank in ranks))
    groups = [group.scientific for group in key.groups if group.scientific]
    others = [name for one in key.undescribed for name in (one.name, one.name.partition(" ")[0])]
    return frozenset((*above, *groups, *others, *(species.genus for species in key.species)))


def _other(grounds: Grounds, record: Record) -> Species | None:
    """Give the species of the English name where the scientific name, of a species or a genus, does not hold it."""
    taxon = record.sighting.taxon
    found = grounds.once("english names", lambda: _english(grounds.key)).get(words_of(taxon.vernacular))
    if found is None or found in record.species:
        return None
    genera = {species.genus for species in grounds.key.species}
    known = bool(record.species) or (taxon.scientific_name in genera and taxon.scientific_name != found.genus)
    return found if known else None


def _english(key: Key) -> dict[tuple[str, ...], Species]:
    """The species of each whole name; names of several species say nothing."""
    found: dict[tuple[str, ...], Species | None] = {}
    for species in key.species:
        for words in {words_of(name) for name in all_names(species)}:
            found[words] = None if words in found else species
    return {words: species for words, species in found.items() if species is not None}
