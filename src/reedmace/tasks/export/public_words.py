"""Texts that would give a blurred place away: its name, or its position in any spelling.

A name of a place, or an identifier, may hold a grid reference (`SU 43 11`, `su-431-118`, `SU41F`), eastings and
northings, or a latitude and longitude in degrees, minutes or decimals. What is looked for is not one spelling, but
every number and reference that can be read out of the text and lies in a square that is kept back.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import floor

from reedmace.places.datum import GridSystem, to_grid
from reedmace.places.squares import EXTENT, TETRAD_LETTERS, hundred_km_corner, inside

Cell = tuple[str, int, int]
"""A square of 1 km: grid, and its corner in whole kilometres."""

NO_GRID = ""
_KM = 1000
_MOST_FIGURES = 3  # in the name of a place; four say a square of 1 km
# One letter is an Irish square, two are a British one; within a word it can be either.
_REFERENCES = [re.compile(rf"(?=([a-hj-z]{{{letters}}})([0-9]{{4,10}}))") for letters in (1, 2)]
_TETRADS = [re.compile(rf"(?=([a-hj-z]{{{letters}}})([0-9])([0-9])([a-np-z]))") for letters in (1, 2)]
# A comma stands within a number, or between two.
_NUMBERS = (re.compile(r"[0-9]+(?:[.,][0-9]+)?"), re.compile(r"[0-9]+(?:\.[0-9]+)?"))
_LONGEST = 20  # signs of a number that could be part of a position
_IN_SQUARE = 100  # kilometres along a side of a lettered square
_APART = re.compile(r"[,;:/()\[\]]")  # what parts the name of a pond from that of its village
# Words that stand in the names of many places: two of them together tell none.
_GENERAL = frozenset(
    (
        *("a", "at", "by", "in", "near", "nr", "of", "off", "on", "the", "and", "old"),
        *("new", "north", "south", "east", "west", "upper", "lower", "great", "little", "big", "small", "end"),
        *("pond", "ponds", "pool", "pools", "lake", "lakes", "water", "waters", "river", "stream"),
        *("brook", "beck", "burn", "canal", "ditch", "dyke", "fen", "bog", "marsh", "moor"),
        *("heath", "wood", "woods", "forest", "common", "green", "meadow", "meadows"),
        *("field", "fields", "farm", "house", "hall", "mill", "park", "garden", "gardens"),
        *("reserve", "nature", "country", "national", "local", "wildlife", "trust", "site"),
        *("lane", "road", "bridge", "quarry", "pit", "pits", "gravel", "reservoir"),
        *("village", "school", "church"),
    )
)


class Telling:
    """What is to be kept back: squares of 1 km, and names of places."""

    def __init__(self, cells: Iterable[Cell] = (), names: Iterable[str] = ()) -> None:
        self._cells = frozenset(cells)
        self._names = frozenset(bare for name in names for bare in _tellings(name) if len(bare) > 2)
        self._tetrads = {(grid, east // 2, north // 2) for grid, east, north in self._cells}
        self._whole = {(east, north) for grid, east, north in self._cells if grid}
        self._in_square = {(east % _IN_SQUARE, north % _IN_SQUARE) for east, north in self._whole}
        self._known: dict[str, bool] = {}

    def in_text(self, text: str) -> bool:
        """Say whether a position in one of the squares can be read out of a text."""
        if not self._cells or not text:
            return False
        found = self._known.get(text)
        if found is None:
            if len(self._known) > 65536:
                self._known.clear()
            plain = _plain(text)
            found = self._known[text] = self._by_letters(_bare(plain)) or self._by_numbers(plain)
        return found

    def in_place_name(self, text: str) -> bool:
        """Say whether the name of a place may hold a position: by what can be read, or four figures in any script."""
        return bool(self._cells) and (
            sum(sign.isnumeric() for sign in unicodedata.normalize("NFKC", text)) > _MOST_FIGURES or self.in_text(text)
        )

    def in_title(self, text: str) -> bool:
        """Say whether a name of the whole tells: by a position, or by the name of a place or a telling part of it."""
        bare = _bare(text)
        return any(name in bare for name in self._names) or self.in_text(text)

    def _by_letters(self, bare: str) -> bool:
        """Look for letters with figures behind them, also within a word."""
        for found in (found for pattern in _REFERENCES for found in pattern.finditer(bare)):
            grid, east, north = _corner(found[1])
            figures = found[2]
            for half in range(2, len(figures) // 2 + 1):
                if (grid, east + int(figures[:2]), north + int(figures[half : half + 2])) in self._cells:
                    return True
        for found in (found for pattern in _TETRADS for found in pattern.finditer(bare)):
            grid, east, north = _corner(found[1])
            column, row = divmod(TETRAD_LETTERS.index(found[4].upper()), 5)
            tens = east + int(found[2]) * 10, north + int(found[3]) * 10
            if (grid, tens[0] // 2 + column, tens[1] // 2 + row) in self._tetrads:
                return True
        return False

    def _by_numbers(self, plain: str) -> bool:
        """Look at the numbers that stand together, as eastings and northings, or latitude and longitude."""
        for pattern in _NUMBERS:
            numbers = [one.replace(",", ".") for one in pattern.findall(plain)]
            if self._in_numbers([one for one in numbers if len(one) <= _LONGEST]):
                return True
        return False

    def _in_numbers(self, numbers: list[str]) -> bool:
        for run in numbers:
            half = len(run) // 2
            if run.isdigit() and len(run) in (6, 8, 10, 12, 14) and self._are_metres(run[:half], run[half:]):
                return True
        for one, other in pairwise(numbers):
            if self._are_metres(one, other) or self._are_metres(other, one):
                return True
        return any(
            self._is_position(latitude, sign * longitude)
            for first, second in _degrees([float(one) for one in numbers])
            for latitude, longitude in ((first, second), (second, first))
            for sign in (1, -1)
        )

    def _are_metres(self, east: str, north: str) -> bool:
        """Take two numbers for figures of a reference without its letters, metres, or kilometres with decimals."""
        if "." in east or "." in north:
            return any((int(float(east) / unit), int(float(north) / unit)) in self._whole for unit in (1, 1000))
        figures = len(east)
        if min(figures, len(north)) < 3:
            return False
        if figures == len(north) and figures <= 5 and (int(east[:2]), int(north[:2])) in self._in_square:
            return True
        return any((int(east) // unit, int(north) // unit) in self._whole for unit in (1, 10, 100, 1000))

    def _is_position(self, latitude: float, longitude: float) -> bool:
        if not (49 <= latitude <= 62 and -12 <= longitude <= 4):
            return False
        return any(cell in self._cells for cell in cells_of(latitude, longitude))


def cells_of(latitude: float, longitude: float) -> Iterator[Cell]:
    """Give the squares of 1 km that hold a position, on each grid that reaches it, else by degrees."""
    found = False
    for grid in EXTENT:
        east, north = to_grid(grid, latitude, longitude)
        if inside(grid, east, north):
            found = True
            yield grid, floor(east / _KM), floor(north / _KM)
    if not found:
        # The Channel Islands: kilometres east and north, near enough.
        yield NO_GRID, floor(longitude * 72.8), floor(latitude * 111.2)


def _tellings(name: str) -> Iterator[str]:
    """Give what tells a place by its name, without blanks and signs: its name, parts of it, two words of its own.

    A part of one word may be a county's or a village's, which tells too little to forbid it.
    """
    yield _bare(name)
    for part in _APART.split(_plain(name)):
        words = part.split()
        if len(words) > 1:
            yield _bare(part)
        for pair in pairwise(words):
            if not _GENERAL.issuperset(map(_bare, pair)):
                yield _bare("".join(pair))


def _degrees(numbers: list[float]) -> Iterator[tuple[float, float]]:
    """Give each two values that stand together: in degrees, in degrees and minutes, with seconds."""
    for parts in (1, 2, 3):
        for at in range(len(numbers) - 2 * parts + 1):
            one, other = numbers[at : at + parts], numbers[at + parts : at + 2 * parts]
            # Whole degrees say no square of 1 km.
            if all(part < 60 for part in (*one[1:], *other[1:])) and not (parts == 1 and one[0] == int(one[0])):
                yield _decimal(one), _decimal(other)


def _decimal(parts: list[float]) -> float:
    return sum((part / 60.0**power for power, part in enumerate(parts)), 0.0)


def _corner(letters: str) -> Cell:
    """Give the grid of a lettered square, and its corner in whole kilometres."""
    grid: GridSystem = "GB" if len(letters) == 2 else "IE"
    east, north = hundred_km_corner(letters.upper())
    return grid, east // _KM, north // _KM


def _plain(text: str) -> str:
    """Give a text in small letters of one width, with figures of every script as ours."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    return plain if plain.isascii() else "".join(str(unicodedata.decimal(sign, sign)) for sign in plain)


def _bare(text: str) -> str:
    """Give the same without blanks and signs between."""
    return "".join(sign for sign in _plain(text) if sign.isalnum())
