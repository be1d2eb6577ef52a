"""Does the English name go with the scientific one?"""

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
