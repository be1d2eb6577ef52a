"""What was named → the taxon that a record holds: the lowest one that holds everything claimed."""

from typing import Any, NamedTuple

from reedmace.keys.model import Group, Key
from reedmace.keys.names import FoundName
from reedmace.records import Taxon


class _Member(NamedTuple):
    name: str
    english: str
    genus: str
    family: str
    suborder: str


def taxon_of(key: Key, found: FoundName) -> Taxon:
    """The record's taxon for a name found in the key.

    One species is itself; several become the lowest taxon that holds them all, with the choice kept beside it.
    """
    if found.group is not None and found.group.scientific is not None:
        return _group(key, found.group, found.typed)
    members = [_described(key, index) for index in found.species] + [_other(key, index) for index in found.others]
    ranks = key.classification
    first = members[0]
    common: dict[str, Any] = {
        "kingdom": ranks["kingdom"],
        "phylum": ranks["phylum"],
        "class_name": ranks["class"],
        "order": ranks["order"],
        "typed": found.typed,
    }
    if len(members) == 1:
        species = key.species[found.species[0]]
        return Taxon(
            species.name,
            species.authority,
            "species",
            species.english,
            family=species.family,
            genus=species.genus,
            specific_epithet=species.name.partition(" ")[2],
            **common,
        )
    vernacular = found.group.title if found.group else " or ".join(one.english for one in members)
    common["one_of"] = tuple(one.name for one in members)
    if len({one.genus for one in members}) == 1:
        return Taxon(first.genus, "", "genus", vernacular, family=first.family, genus=first.genus, **common)
    if first.family and len({one.family for one in members}) == 1:
        return Taxon(first.family, "", "family", vernacular, family=first.family, **common)
    if first.suborder and len({one.suborder for one in members}) == 1:
        return Taxon(first.suborder, "", "suborder", vernacular, **common)
    return Taxon(ranks["order"], "", "order", vernacular, **common)


def _described(key: Key, index: int) -> _Member:
    species = key.species[index]
    return _Member(species.name, species.english, species.genus, species.family, key.families[species.family][1])


def _other(key: Key, index: int) -> _Member:
    """A species the key does not describe; its family is known by its genus or by the group it is filed under."""
    other = key.undescribed[index]
    genus = other.name.partition(" ")[0]
    family = next((species.family for species in key.species if species.genus in (genus, other.group)), other.group)
    return _Member(other.name, other.english, genus, family, key.families.get(family, ("", ""))[1])


def _group(key: Key, group: Group, typed: str) -> Taxon:
    assert group.scientific is not None
    ranks = key.classification
    first = key.species[min(group.members)]
    return Taxon(
        group.scientific,
        "",
        group.rank,
        group.title,
        ranks["kingdom"],
        ranks["phylum"],
        ranks["class"],
        ranks["order"],
        family=first.family if group.rank in ("genus", "family") else "",
        genus=first.genus if group.rank == "genus" else "",
        typed=typed,
    )
