"""A key without some of its species: as if its authors had never heard of them."""

from __future__ import annotations

import json
from collections.abc import Collection

from reedmace.keys.borrowing import Kinship, borrow, kinship
from reedmace.keys.model import NOT_APPLICABLE, NOT_KNOWN, Character, Characters, Group, Key, Species

# Groups that a key names for their own sake; all others need two members to be worth a name.
TAXA = ("genus", "family", "suborder")


def without(key: Key, names: Collection[str]) -> Key:
    """The key without the species of these names: not described, not named as look-alikes, nothing borrowed from them.

    Raises ValueError when nothing would be left.
    """
    kept = [species.index for species in key.species if species.name not in names]
    if not kept:
        raise ValueError("a key needs a species")
    renumbered = {old: new for new, old in enumerate(kept)}
    guises = [index for index, guise in enumerate(key.guises) if guise.species in renumbered]
    guise_number = {old: new for new, old in enumerate(guises)}
    kin = kinship((key.species[key.guises[g].species].genus, key.guises[g].sex, key.guises[g].age) for g in guises)
    return key._replace(
        species=tuple(_species(key.species[old], renumbered, guise_number) for old in kept),
        guises=tuple(key.guises[g]._replace(species=renumbered[key.guises[g].species]) for g in guises),
        described_by=Characters(tuple(_character(character, guises, kin) for character in key.characters)),
        groups=tuple(sorted(_groups(key, renumbered), key=lambda group: len(group.members))),
    )


def _species(species: Species, renumbered: dict[int, int], guise_number: dict[int, int]) -> Species:
    row = json.loads(species.text)
    row["lookalikes"] = [
        other | {"species": renumbered.get(other["species"])}
        for other in row["lookalikes"]
        if other["species"] is None or other["species"] in renumbered
    ]
    return species._replace(
        index=renumbered[species.index],
        named_by=tuple(renumbered[other] for other in species.named_by if other in renumbered),
        text=json.dumps(row),
        guises=tuple(guise_number[guise] for guise in species.guises),
    )


def _character(character: Character, guises: list[int], kin: Kinship) -> Character:
    """The column of the guises that stay; cells that nobody has any more go, what is borrowed is borrowed anew."""
    described = [
        cell if cell == NOT_APPLICABLE or 0 <= cell < character.described else NOT_KNOWN
        for cell in (character.column[guise] for guise in guises)
    ]
    used = sorted({cell for cell in described if cell >= 0})
    cell_number = {old: new for new, old in enumerate(used)} | {
        NOT_APPLICABLE: NOT_APPLICABLE,
        NOT_KNOWN: NOT_KNOWN,
    }
    cells = tuple(character.cells[cell] for cell in used)
    column = tuple(cell_number[cell] for cell in described)
    if character.is_number:
        return character._replace(cells=cells, column=column, described=len(cells))
    borrowed = borrow(kin, cells, column, len(character.states))
    return character._replace(
        cells=(*cells, *map(tuple, borrowed.cells)), column=tuple(borrowed.column), described=len(cells)
    )


def _groups(key: Key, renumbered: dict[int, int]) -> list[Group]:
    left = [
        group._replace(members=frozenset(renumbered[member] for member in group.members if member in renumbered))
        for group in key.groups
    ]
    return [group for group in left if len(group.members) > 1 or (group.members and group.rank in TAXA)]
