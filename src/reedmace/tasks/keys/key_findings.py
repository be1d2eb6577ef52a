"""What a key can and cannot tell, found by going through it: no faults, but what its authors should know."""

from __future__ import annotations

from typing import NamedTuple

from reedmace.keys.model import NOT_APPLICABLE, NOT_KNOWN, Key
from reedmace.scoring.divergence import separation
from reedmace.scoring.tables import Tables

DECIDES = 1.0  # decibans below which a character tells no two guises apart
SEPARATES = 7.0  # decibans that separate two guises, all visible marks together


class Findings(NamedTuple):
    """What was found, by numbers of guises, characters and species.

    `inseparable` are pairs of guises of different species, `idle` characters that decide nothing, `not_known` counts
    cells by species: (those not known, those that apply).
    """

    inseparable: tuple[tuple[int, int], ...]
    idle: tuple[int, ...]
    not_known: dict[int, tuple[int, int]]


def find(key: Key) -> Findings:
    """Go through a key as a practised eye sees it."""
    tables = Tables(key, "practised")
    distances = [_distances(tables, index) for index in range(len(key.characters))]
    idle = tuple(
        index for index, table in enumerate(distances) if max((max(row) for row in table), default=0.0) < DECIDES
    )
    return Findings(tuple(_inseparable(tables, distances)), idle, _not_known(key))


def _distances(tables: Tables, index: int) -> list[list[float]]:
    """Between any two rows of a character: the smaller expected weight of evidence, in decibans."""
    rows = tables.readings(tables.key.characters[index]).every_row()
    return [[separation(one, other) for other in rows] for one in rows]


def _inseparable(tables: Tables, distances: list[list[list[float]]]) -> list[tuple[int, int]]:
    """Pairs of guises that all visible marks together would not be expected to separate."""
    key = tables.key
    visible = [
        (distances[character.index], tables.readings(character).row_of)
        for character in key.characters
        if character.effort != "hand"
    ]
    # What tells most apart first, so that nearly every pair is done after a few marks.
    visible.sort(key=lambda item: -sum(map(sum, item[0])) / len(item[0]) ** 2)
    found = []
    for one in range(len(key.guises)):
        for other in range(one + 1, len(key.guises)):
            mine, theirs = key.guises[one], key.guises[other]
            if mine.species == theirs.species or (mine.sex and theirs.sex and mine.sex != theirs.sex):
                continue
            total = 0.0
            for table, row_of in visible:
                total += table[row_of[one]][row_of[other]]
                if total >= SEPARATES:
                    break
            else:
                found.append((one, other))
    return found


def _not_known(key: Key) -> dict[int, tuple[int, int]]:
    counts = {}
    for species in key.species:
        columns = [
            (character.column[guise], character.described) for character in key.characters for guise in species.guises
        ]
        applying = [(cell, described) for cell, described in columns if cell != NOT_APPLICABLE]
        missing = sum(cell == NOT_KNOWN or cell >= described for cell, described in applying)
        counts[species.index] = (missing, len(applying))
    return counts
