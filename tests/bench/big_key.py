"""Keys of any size, made by chance: for speed, memory and growth, never for judging verdicts."""

from __future__ import annotations

from random import Random

from reedmace.keys.model import NOT_APPLICABLE, NOT_KNOWN, Guise, Key
from scoring.tables_made import key_of, states

STATES = 3
VARIABLE = 0.1  # of a character's cells that hold two states
EMPTY = 0.03  # of guises not known, and as many to which a character does not apply


def big_key(chance: Random, taxa: int, characters: int, *, guises: int = 1, own_cells: bool = False) -> Key:
    """A key of `taxa` species with `guises` guises each; every fifth character belongs to an echo group.

    With `own_cells` every guise has frequencies of its own, so that no two share a cell.
    """
    names = [f"Genus{index // 8} s{index}" for index in range(taxa)]
    made = [
        Guise(species, f"form-{form}", f"form {form}", None, "mature", "", 1 / guises, (), "sight", "")
        for species in range(taxa)
        for form in range(guises)
    ]
    columns = []
    for index in range(characters):
        cells = _own(chance, len(made)) if own_cells else _shared()
        # Characters of the species (nearly all), and one in ten that differs between its guises.
        differs = index % 10 == 9
        column: list[int] = []
        for at, guise in enumerate(made):
            again = guise.species == made[at - 1].species and at > 0 and not differs
            column.append(column[-1] if again and not own_cells else _cell(chance, at, own_cells))
        echo = f"group-{index % 3}" if index % 5 == 4 else None
        columns.append(states(index, f"c{index}", STATES, cells, column, error=0.1, echo=echo))
    return key_of(columns, names, guises=made)


def _shared() -> list[list[float]]:
    sure = [[float(k == state) for k in range(STATES)] for state in range(STATES)]
    mixed = [[0.0 if k == state else 1 / (STATES - 1) for k in range(STATES)] for state in range(STATES)]
    return [*sure, *mixed]


def _own(chance: Random, count: int) -> list[list[float]]:
    drawn = [[chance.random() ** 3 + 0.01 for _ in range(STATES)] for _ in range(count)]
    return [[value / sum(cell) for value in cell] for cell in drawn]


def _cell(chance: Random, guise: int, own_cells: bool) -> int:
    roll = chance.random()
    if roll < EMPTY:
        return NOT_KNOWN
    if roll < 2 * EMPTY:
        return NOT_APPLICABLE
    if own_cells:
        return guise
    return chance.randrange(STATES) + (STATES if chance.random() < VARIABLE else 0)
