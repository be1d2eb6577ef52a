"""A table of known individuals → a key, as an author would write it who has measured some of each.

Words become a character with states, a class's cell being the frequencies among its individuals (each state counted
once more than seen, so that what was not seen in a few is not called impossible). Numbers become either a measured
character with mean and standard deviation, or an ordered one of `BINS` states, each holding as many individuals.
A class is a species with one guise, as common as it is in the table. Misread rates are those of a beginner (.10) and
a practised eye (.05) as the house takes them, the same for every table.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from statistics import fmean, quantiles, stdev
from typing import NamedTuple

from open_data.tables import Table, Value, classes_of
from reedmace.keys.answers import Answer
from reedmace.keys.model import Character, Key, State
from scoring.tables_made import key_of, number, states

BINS = 8
SPAN = 100.0  # what the whole range of a measured column becomes, in its key: a measurement is then good to .5 %
RATES = {"beginner": (0.10, 0.10), "practised": (0.05, 0.05)}


class Made(NamedTuple):
    """A key and how to put what is seen in a row as answers to it."""

    key: Key
    readers: tuple[Reader, ...]

    def answers(self, row: Sequence[Value]) -> list[Answer]:
        """The answers of one who sees exactly this; what is not noted, or is no state of the key, is left out."""
        read = [reader.read(index, value) for index, (reader, value) in enumerate(zip(self.readers, row, strict=True))]
        return [answer for answer in read if answer is not None]


class Words(NamedTuple):
    """Reads a column of words."""

    words: tuple[str, ...]

    def read(self, index: int, value: Value) -> Answer | None:
        """One answer naming a state."""
        return Answer(index, str(value), (self.words.index(value),)) if value in self.words else None


class Binned(NamedTuple):
    """Reads a number as one of ordered states; `edges` are between them."""

    edges: tuple[float, ...]

    def state(self, value: float) -> int:
        """The state that holds a value."""
        return bisect_right(self.edges, value)

    def read(self, index: int, value: Value) -> Answer | None:
        """One answer naming a state."""
        return Answer(index, str(value), (self.state(float(value)),)) if value is not None else None


class Measured(NamedTuple):
    """Reads a number as a measurement on the key's scale."""

    low: float
    high: float

    def scaled(self, value: float) -> float:
        """The value as a part of the range, in `SPAN`ths."""
        return SPAN * (value - self.low) / (self.high - self.low)

    def read(self, index: int, value: Value) -> Answer | None:
        """One exact measurement."""
        if value is None:
            return None
        scaled = self.scaled(float(value))
        return Answer(index, str(value), low=scaled, high=scaled, instrument="measured")


Reader = Words | Binned | Measured


def key_from(table: Table, *, binned: bool) -> Made:
    """A key of the table's classes; numbers as ordered states if `binned`, else as measurements."""
    classes = classes_of(table)
    characters: list[Character] = []
    readers: list[Reader] = []
    for index, name in enumerate(table.columns):
        values = [
            [row[index] for row, of in zip(table.rows, table.classes, strict=True) if of == one] for one in classes
        ]
        noted = [[value for value in column if value is not None] for column in values]
        made, reader = (
            _measured(index, name, noted)
            if table.is_number(index) and not binned
            else _binned(index, name, noted)
            if table.is_number(index)
            else _words(index, name, noted)
        )
        characters.append(made)
        readers.append(reader)
    key = key_of(characters, [f"Genus {one}" for one in classes])
    abundant = [table.classes.count(one) / len(table.classes) for one in classes]
    species = tuple(one._replace(abundance=(share,)) for one, share in zip(key.species, abundant, strict=True))
    return Made(key._replace(species=species), tuple(readers))


def _words(index: int, name: str, noted: list[list[Value]]) -> tuple[Character, Reader]:
    words = tuple(sorted({str(value) for column in noted for value in column}))
    made = states(
        index,
        name,
        len(words),
        [_cell([words.index(str(v)) for v in c], len(words)) for c in noted],
        range(len(noted)),
        misread=RATES,
    )
    return made._replace(states=tuple(State(word, word, (), False) for word in words)), Words(words)


def _binned(index: int, name: str, noted: list[list[Value]]) -> tuple[Character, Reader]:
    every = [float(value) for column in noted for value in column]
    reader = Binned(tuple(dict.fromkeys(quantiles(every, n=BINS, method="inclusive"))))
    count = len(reader.edges) + 1
    cells = [_cell([reader.state(float(value)) for value in column], count) for column in noted]
    return states(index, name, count, cells, range(len(noted)), misread=RATES, ordered=True), reader


def _measured(index: int, name: str, noted: list[list[Value]]) -> tuple[Character, Reader]:
    every = [float(value) for column in noted for value in column]
    reader = Measured(min(every), max(every))
    scaled = [[reader.scaled(float(value)) for value in column] for column in noted]
    cells = [(fmean(column), max(stdev(column), SPAN / 1000)) for column in scaled]
    return number(index, name, cells, (0.0, SPAN)), reader


def _cell(shown: list[int], count: int) -> list[float]:
    return [(shown.count(state) + 1) / (len(shown) + count) for state in range(count)]
