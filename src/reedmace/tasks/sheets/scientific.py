"""A scientific name with the terms beside it → the taxon of a record, by the key's name where that knows it.

Whatever stands behind a name to say who gave it, and when, is no part of it. Names that the key does not have are
kept as given, for a file of the standard says what it means; whoever imports it is told of them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from reedmace.faults import Fault, nearest
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.records import Taxon
from reedmace.tasks.shared.taxa import taxon_of
from reedmace.tasks.sheets.name_doubts import without_doubt, without_sign
from reedmace.tasks.sheets.name_forms import in_full, without_author
from reedmace.tasks.sheets.names import SP, NamedAs

_QUALIFIED = re.compile(r"^(?P<genus>[A-Z][a-z]+)\s+(?P<sign>cf\.?|aff\.?|nr\.?)\s+(?P<rest>[a-z-]+)$")
_PARTS = ("authorship", "rank", "vernacular", "kingdom", "phylum", "class_name", "order", "family", "genus")


def read_scientific(key: Key, fields: Mapping[str, str]) -> NamedAs | Fault:
    """Read a scientific name with what stands beside it; filled up from the key where that knows the name."""
    whole = text = fields["scientific_name"].strip()
    authorship = fields.get("authorship", "").strip()
    if authorship and text.endswith(authorship):
        text = text.removesuffix(authorship).strip()
    plain, certainty = without_doubt(text)
    if found := _QUALIFIED.fullmatch(plain):
        plain, qualifier = found["genus"], f"{found['sign'].rstrip('.')}. {found['rest']}"
    else:
        plain, qualifier = without_sign(plain)
    plain = SP.sub("", plain)
    if not re.search(r"\w", plain):
        return Fault("name-empty", "There is no name here.", "write a name, such as  Aeshna cyanea", text)
    typed = fields.get("name_typed", "").strip()
    choice = tuple(part for part in typed.split(" or ") if part) if " or " in typed else ()
    given: dict[str, Any] = {part: fields[part] for part in _PARTS if fields.get(part)}
    taxon = Taxon(
        scientific_name=plain,
        specific_epithet=fields.get("specific_epithet", ""),
        one_of=choice if len(set(choice)) > 1 else (),
        typed="" if choice else typed,
        **given,
    )
    if choice:
        return NamedAs(taxon, certainty, qualifier)
    short = without_author(key, plain)
    bare = in_full(key, short)
    named = _of_key(key, bare)
    if named is None:
        return NamedAs(taxon, certainty, qualifier, unknown=not _is_known(key, bare))
    filled, same = named
    same = same and bare == short
    if same and bare == plain and given.keys() >= {"rank", "family"}:
        return NamedAs(taxon, certainty, qualifier)
    # Under another name of a species only who gave it, and the genus, are those of the other name.
    filled = filled._replace(typed=typed or (whole if bare != plain or not same else ""), **(given if same else {}))
    return NamedAs(filled, certainty, qualifier, literal=same)


def nearest_scientific(key: Key, name: str) -> str:
    """Give the scientific name of the key that looks most like this one; empty where none does."""
    known = [name for species in key.species for name in (species.name, *species.synonyms)]
    known += [other.name for other in key.undescribed]
    return next(iter(nearest(without_author(key, name), known, 1, 0.75)), "")


def _of_key(key: Key, name: str) -> tuple[Taxon, bool] | None:
    """Give the key's taxon of a name, and whether it is called so there; None where it has none."""
    if "/" in name:
        pair = _pair(key, name)
        return (taxon_of(key, pair), False) if pair else None
    found = find_name(key, name)
    if not isinstance(found, FoundName):
        return None
    filled = taxon_of(key, found)
    if filled.scientific_name == name:
        return filled, True
    if found.group is None and len(found.species) == 1 and name in key.species[found.species[0]].synonyms:
        return filled, False
    return None


def _pair(key: Key, name: str) -> FoundName | None:
    """Read `Genus one/other`, or whole names parted by a stroke, where the key has all of them."""
    genus = name.partition(" ")[0]
    parts = [part.strip() for part in name.split("/")]
    names = [part if " " in part else f"{genus} {part}" for part in parts]
    index = {species.name: species.index for species in key.species}
    found = [index.get(one) for one in names]
    some = tuple(dict.fromkeys(one for one in found if one is not None))
    return FoundName(name, some) if None not in found and len(some) > 1 else None


def _is_known(key: Key, name: str) -> bool:
    """Say whether the key has a place for a name that it does not describe by itself."""
    above = {*key.classification.values(), *key.families, *(rank for ranks in key.families.values() for rank in ranks)}
    return name in above or any(name in (one.name, one.name.partition(" ")[0]) for one in key.undescribed)
