"""The name in a row of a sheet → the taxon of a record, and how sure whoever wrote it was."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.records import Taxon
from reedmace.tasks.shared.taxa import taxon_of
from reedmace.tasks.sheets.kinds import Kind, apart
from reedmace.tasks.sheets.name_doubts import Doubt, doubt_in, of_all
from reedmace.tasks.sheets.name_forms import read_form, without_author
from reedmace.tasks.sheets.several_names import both_or_either, several_told

SP = re.compile(r"\s+(?:spp?\.?|indet\.?)$")
_PARTS = re.compile(r"/|\s+or\s+", re.I)
# What parts the names of several columns.
JOINER = " | "


_NUMBER_BEFORE = re.compile(r"(?P<number>[0-9]+)\s*[x×]?\s*(?P<name>[^\W\d_].*)", re.ASCII | re.IGNORECASE)
_NUMBER_BEHIND = re.compile(r"(?P<name>.*?[^\W\d_.])\W*(?:\bx|×)?\s*(?P<number>[0-9]+)\W*", re.IGNORECASE)


class NamedAs(NamedTuple):
    """A taxon, and the doubt that stood with its name.

    `certainty` is `uncertain` or `probable`, and `kind` what else was written with the name: `Emperor larva`.
    `literal` says that it was typed as an English or scientific name of the key, and not found by parts of one;
    `unknown` that it is no name of the key, and kept as it is.
    """

    taxon: Taxon
    certainty: str = ""
    qualifier: str = ""
    literal: bool = True
    unknown: bool = False
    kind: Kind = Kind()

    @property
    def told(self) -> str:
        """What it was taken for, in words."""
        taxon = self.taxon
        name = f"{taxon.vernacular} ({taxon.scientific_name})" if taxon.vernacular else taxon.scientific_name
        return ", ".join(filter(None, (name, self.kind.sex, self.kind.stage, *self.kind.behaviour)))


def read_name(key: Key, text: str, *, forms: bool = True) -> NamedAs | Fault:
    """Read a name as people write it, in English or science; what the key does not know is a fault.

    `forms` says to look for those of `sheet_name_forms` too.
    """
    plain, doubt = doubt_in(text)
    kind = Kind()
    if ("♂" in plain or "♀" in plain) and (parted := apart(plain, _known_to(key))):
        plain, kind = parted  # a name is found without its signs
    found = find_name(key, plain)
    bare = plain
    if forms and isinstance(found, Fault) and found.code == "unknown-name":
        found, bare = read_form(key, plain) or found, without_author(key, plain)
        if isinstance(found, Fault) and found.code == "unknown-name" and (parted := apart(plain, _known_to(key))):
            (bare, kind), found = parted, _find(key, parted[0])
            bare = without_author(key, bare)
    if isinstance(found, Fault):
        return (_with_number(key, plain) or several_told(plain, partial(_find, key)) or found)._replace(said=text)
    if "/" in plain and (asked := both_or_either(key, found)):
        return asked._replace(said=text)
    literal = _literal(key, bare, found) and kind == Kind()
    named = NamedAs(taxon_of(key, found)._replace(typed=text), *doubt, literal, kind=kind)
    # `Azure Damselfly (Coenagrion puella)` is both its names in full.
    return named._replace(literal=True) if named.told.casefold() == plain.casefold() else named


def _known_to(key: Key) -> Callable[[str], bool]:
    return lambda name: isinstance(_find(key, name), FoundName)


def _find(key: Key, name: str) -> FoundName | Fault:
    """Find a name as the key has it, or in another form."""
    found = find_name(key, name)
    return read_form(key, name) or found if isinstance(found, Fault) and found.code == "unknown-name" else found


def _with_number(key: Key, text: str) -> Fault | None:
    """Say that a number stands with a name that would be known without it: `Azure Damselfly x3`."""
    numbered = _NUMBER_BEFORE.fullmatch(text) or _NUMBER_BEHIND.fullmatch(text)
    if numbered is None or isinstance(_find(key, numbered["name"]), Fault):
        return None
    why = f"Beside the name stands a number: {numbered['number']}."
    return Fault("number-in-name", why, "write the name alone here, and the number into a column headed  Count")


def read_names(key: Key, text: str) -> NamedAs | Fault:
    """Read the names of several columns, parted by JOINER: parts of one name, or names that agree."""
    parts = list(dict.fromkeys(part for cell in text.split(JOINER) if (part := cell.strip())))
    if len(parts) < 2:
        return read_name(key, parts[0] if parts else text)
    bare, doubts = zip(*map(doubt_in, parts), strict=True)
    whole = read_name(key, " ".join(bare), forms=False) if "/" not in text else None
    if isinstance(whole, NamedAs):
        # Put together, the doubt of one name would stand in the middle of them, and be that of none.
        return doubted(whole._replace(taxon=whole.taxon._replace(typed=" ".join(parts))), doubts, text)
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
    literal = all(one.literal for one in given)
    kind = next((one.kind for one in given if one.kind != Kind()), Kind())
    return doubted(NamedAs(best.taxon._replace(typed=text), literal=literal, kind=kind), doubts, text)


def doubted(named: NamedAs, doubts: Iterable[Doubt], cells: str) -> NamedAs | Fault:
    """Give what a row names with the doubt of all its names; a fault where its `cells` doubt it differently."""
    doubt = of_all((Doubt(named.certainty, named.qualifier), *doubts), cells)
    if isinstance(doubt, Fault):
        return doubt
    return named._replace(certainty=doubt.certainty, qualifier=doubt.qualifier)


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
    """Say whether a name is written in full as the key has it; a stroke could be meant in two ways, and is told."""
    if "/" in typed:
        return False
    names = [name for index in found.species for name in (key.species[index].english, key.species[index].name)]
    names += [name for index in found.others for name in (key.undescribed[index].english, key.undescribed[index].name)]
    if found.group is not None:
        # "darter" is an English word for many a genus: of a group only its scientific name says which is meant.
        names = [found.group.scientific or found.group.title]
    known = {_plain(name) for name in names}
    return all(_plain(SP.sub("", part.strip())) in known for part in _PARTS.split(typed))


def _plain(name: str) -> str:
    return " ".join(name.replace("’", "'").casefold().split())
