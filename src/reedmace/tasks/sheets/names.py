"""The name in a row of a sheet → the taxon of a record, and how sure whoever wrote it was."""

from __future__ import annotations

import re
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.records import Taxon
from reedmace.tasks.shared.taxa import taxon_of
from reedmace.tasks.sheets.name_forms import read_form, without_author
from reedmace.tasks.shorthand.field_words import QUALIFIERS

DOUBT = re.compile(r"\s*(?:\?|\((?:probable|possible|\?)\))\s*$", re.I)
SP = re.compile(r"\s+(?:spp?\.?|indet\.?)$")
_PARTS = re.compile(r"/|\s+or\s+", re.I)
# What parts the names of several columns.
JOINER = " | "


class NamedAs(NamedTuple):
    """A taxon, and the doubt that stood with its name.

    `literal` says that it was typed as an English or scientific name of the key, and not found by parts of one;
    `unknown` that it is no name of the key, and kept as it is.
    """

    taxon: Taxon
    uncertain: bool = False
    qualifier: str = ""
    literal: bool = True
    unknown: bool = False

    @property
    def told(self) -> str:
        """What it was taken for, in words."""
        taxon = self.taxon
        return f"{taxon.vernacular} ({taxon.scientific_name})" if taxon.vernacular else taxon.scientific_name


def read_name(key: Key, text: str, *, forms: bool = True) -> NamedAs | Fault:
    """Read a name as people write it, in English or science; what the key does not know is a fault.

    `forms` says to look for those of `sheet_name_forms` too.
    """
    plain, qualifier = without_sign(DOUBT.sub("", text))
    found = find_name(key, plain)
    bare = plain
    if forms and isinstance(found, Fault) and found.code == "unknown-name":
        found, bare = read_form(key, plain) or found, without_author(key, plain)
    if isinstance(found, Fault):
        return found._replace(said=text)
    doubted = DOUBT.search(text) is not None
    named = NamedAs(taxon_of(key, found)._replace(typed=text), doubted, qualifier, _literal(key, bare, found))
    # `Azure Damselfly (Coenagrion puella)` is both its names in full.
    return named._replace(literal=True) if named.told.casefold() == plain.casefold() else named


def without_sign(name: str) -> tuple[str, str]:
    """Part a name from a sign of doubt before or within it: `cf. Variable Damselfly`, `Coenagrion cf. pulchellum`."""
    words = name.split()
    signs = [QUALIFIERS[word.casefold()] for word in words if word.casefold() in QUALIFIERS]
    if len(signs) != 1 or len(words) < 2:
        return name, ""
    return " ".join(word for word in words if word.casefold() not in QUALIFIERS), signs[0]


def read_names(key: Key, text: str) -> NamedAs | Fault:
    """Read the names of several columns, parted by JOINER: parts of one name, or names that agree."""
    parts = list(dict.fromkeys(part for cell in text.split(JOINER) if (part := cell.strip())))
    if len(parts) < 2:
        return read_name(key, parts[0] if parts else text)
    whole = read_name(key, " ".join(parts), forms=False) if "/" not in text else None
    if isinstance(whole, NamedAs):
        return whole
    read = [read_name(key, part) for part in parts]
    best: NamedAs | None = None
    for one in read:
        if isinstance(one, Fault):
            return one
        if best is None or _holds(best.taxon, one.taxon):
            best = one
        elif not _holds(one.taxon, best.taxon):
            return names_differ(best, one)
    assert best is not None
    given = [one for one in read if isinstance(one, NamedAs)]
    return NamedAs(
        best.taxon._replace(typed=text),
        any(one.uncertain for one in given),
        next((one.qualifier for one in given if one.qualifier), ""),
        literal=all(one.literal for one in given),
    )


def agree(one: NamedAs, other: NamedAs) -> bool:
    """Say whether two names are of one taxon, or one of them holds the other."""
    return _holds(one.taxon, other.taxon) or _holds(other.taxon, one.taxon)


def names_differ(one: NamedAs, other: NamedAs) -> Fault:
    """Give the fault of a row that gives two names of different kinds."""
    why = f"Two columns name this: one {one.told}, the other {other.told}."
    return Fault("names-differ", why, 'correct one of them, or leave its column out:  --map "Heading="')


def _holds(taxon: Taxon, other: Taxon) -> bool:
    """Say whether a taxon is the other, or a genus or family that holds it."""
    if (taxon.scientific_name, taxon.one_of) == (other.scientific_name, other.one_of):
        return True
    rank = {"genus": other.genus, "family": other.family}.get(taxon.rank)
    return rank == taxon.scientific_name and (not taxon.one_of or other.scientific_name in taxon.one_of)


def _literal(key: Key, typed: str, found: FoundName) -> bool:
    """Say whether a name is written in full as the key has it."""
    names = [name for index in found.species for name in (key.species[index].english, key.species[index].name)]
    names += [name for index in found.others for name in (key.undescribed[index].english, key.undescribed[index].name)]
    if found.group is not None:
        # "darter" is an English word for many a genus: of a group only its scientific name says which is meant.
        names = [found.group.scientific or found.group.title]
    known = {_plain(name) for name in names}
    return all(_plain(SP.sub("", part.strip())) in known for part in _PARTS.split(typed))


def _plain(name: str) -> str:
    return " ".join(name.replace("’", "'").casefold().split())
