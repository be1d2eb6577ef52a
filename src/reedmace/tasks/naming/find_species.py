"""Typed names → species of a key, for commands that want one or a few."""

from __future__ import annotations

from collections.abc import Sequence

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.keys.names import find_name

MOST = 5


def one_species(key: Key, typed: str) -> int:
    """The one species meant. Raises Refused where the name is unknown, ambiguous or a group's."""
    found = find_name(key, typed)
    if isinstance(found, Fault):
        raise Refused(found)
    if len(found.species) != 1:
        names = ", ".join(key.species[one].english for one in found.species[:8])
        raise Refused(
            Fault("not-one-species", f'"{typed}" names several species.', f"name one of: {names}", typed, typed=True)
        )
    return found.species[0]


def several_species(key: Key, typed: Sequence[str]) -> tuple[int, ...]:
    """Two to five species; a name may be a pair (`azure/variable`) or a small group. Raises Refused."""
    species: list[int] = []
    faults: list[Fault] = []
    for name in typed:
        found = find_name(key, name)
        if isinstance(found, Fault):
            faults.append(found)
        else:
            species += found.species
    if faults:
        raise Refused(*faults)
    unique = tuple(dict.fromkeys(species))
    if not 2 <= len(unique) <= MOST:
        hint = f'name two to {MOST} species, each in quotes if it has several words:  "common blue" "azure damselfly"'
        these = "This is one species." if len(unique) == 1 else f"These are {len(unique)} species."
        raise Refused(Fault("two-to-five", these, hint, " ".join(typed), typed=True))
    return unique
