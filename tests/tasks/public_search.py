"""Search what was published for a 1 km square, in every spelling; shares nothing with what is searched for leaks.

Every cell of every file is looked at by itself, and the numbers of a whole row together, in their order.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
import uuid
import zipfile
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from reedmace.places.datum import GridSystem, from_grid, to_grid
from reedmace.places.squares import TETRAD_LETTERS, hundred_km_letters, square_at

_UUID = re.compile(r"urn:uuid:[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")


class Kilometre(NamedTuple):
    """A square of 1 km: its grid and its corner in metres."""

    grid: GridSystem
    east: int
    north: int

    @property
    def letters(self) -> str:
        """The letters of its 100 km square."""
        return hundred_km_letters(self.grid, self.east, self.north)

    @property
    def figures(self) -> tuple[str, str]:
        """The two figures each way."""
        return f"{self.east % 100_000 // 1000:02}", f"{self.north % 100_000 // 1000:02}"

    def holds(self, latitude: float, longitude: float) -> bool:
        """Whether a position lies in it."""
        east, north = to_grid(self.grid, latitude, longitude)
        return self.east <= east < self.east + 1000 and self.north <= north < self.north + 1000


def spelled(at: Kilometre, off_east: int, off_north: int) -> list[str]:
    """Ways to write a point of a square, with which 1 km square it is; finer ones too."""
    letters, (east, north) = at.letters, at.figures
    x, y = f"{off_east:03}", f"{off_north:03}"
    hundred = f"{letters} {east}{x[0]} {north}{y[0]}"
    tetrad = square_at(at.grid, at.east, at.north, 2000).reference
    latitude, longitude = from_grid(at.grid, at.east + off_east, at.north + off_north)
    side = "W" if longitude < 0 else "E"
    return [
        *(f"{letters}{east}{north}", f"{letters} {east} {north}", f"{letters.lower()}{east}{north}"),
        *(hundred, hundred.replace(" ", ""), hundred.lower(), f"{letters}-{east}{x[0]}-{north}{y[0]}"),
        *(f"{letters} {east}{x[:2]} {north}{y[:2]}", f"{letters}{east}{x}{north}{y}"),
        *(tetrad, f"{tetrad[:-3]} {tetrad[-3]} {tetrad[-2]} {tetrad[-1]}".lower(), f"tetrad {tetrad}."),
        *(f"the{letters}{east}{north}pond", f"pond({letters}{east}{north})", f"{letters}{east} {north}RF"),
        *(f"{east}{x[0]} {north}{y[0]}", f"{east}{x[0]}/{north}{y[0]}"),
        f"E {at.east + off_east} N {at.north + off_north}",
        f"{at.east + off_east},{at.north + off_north}",
        f"{latitude:.4f}, {longitude:.4f}",
        f"{latitude:.5f}N {abs(longitude):.5f}{side}",
        f"{_sexagesimal(latitude)}N {_sexagesimal(abs(longitude))}{side}",
        f"{int(latitude)} {latitude % 1 * 60:.3f}, {int(abs(longitude))} {abs(longitude) % 1 * 60:.3f} {side}",
        "".join(chr(ord(sign) + 0xFEE0) for sign in f"{letters}{east}{north}"),
    ]


def _sexagesimal(degrees: float) -> str:
    seconds = round(degrees * 3600, 1)
    return f"{int(seconds // 3600)}°{int(seconds % 3600 // 60):02}'{seconds % 60:04.1f}\""


class Files(NamedTuple):
    """What was published: rows of tables, and texts of the other files; the rows of the occurrences once more.

    What describes the columns stands apart: it is the same whatever the ledger, and `index="28" term` is no X28T.
    """

    rows: list[list[str]]
    texts: list[str]
    occurrences: list[dict[str, str]]
    columns: list[str]


def read_files(*paths: Path) -> Files:
    """Read archives with all their members, and tables beside them."""
    found = Files([], [], [], [])
    for path in paths:
        if path.suffix != ".zip":
            _take(found, path.name, path.read_text(encoding="utf-8"))
            continue
        with zipfile.ZipFile(path) as archive:
            found.texts.extend([archive.comment.decode(), *archive.namelist()])
            for name in archive.namelist():
                _take(found, name, archive.read(name).decode())
    return found


def _take(found: Files, name: str, text: str) -> None:
    if name == "meta.xml":
        found.columns.append(text)
    elif not name.endswith(".csv"):
        found.texts.extend(re.split(r"[<>\n]", text))
    else:
        found.rows.extend(csv.reader(io.StringIO(text, newline="")))
        if name != "identification.csv":
            found.occurrences.extend(csv.DictReader(io.StringIO(text, newline="")))


def leaks(files: Files, at: Kilometre, published: set[tuple[str, str]], side_m: int) -> list[str]:
    """Everything in which the square can be read.

    `published` are the middles of the squares that may be published, of this side: they lie in some 1 km square,
    and tell nothing of where in the 10 km square the place is.
    """
    found = []
    for row in files.rows:
        cells = [unicodedata.normalize("NFKC", cell) for cell in row if not _is_uuid(cell)]
        found += [f"{cell!r} by {why}" for cell in cells for why in _in_text(cell, at, side_m)]
        for one, other in pairwise(cells):
            if (one, other) not in published:
                found += [f"{one!r}, {other!r} by {why}" for why in _in_numbers(f"{one} ; {other}", at)]
    for text in files.texts:
        # The package's own identifier is worked out from what is published; its figures may look like anything.
        plain = _UUID.sub("", unicodedata.normalize("NFKC", text))
        found += [f"{text!r} by {why}" for why in _in_text(plain, at, side_m)]
    return found


def _in_text(text: str, at: Kilometre, side_m: int) -> Iterator[str]:
    bare = re.sub(r"[\W_]", "", text).casefold()
    letters, (east, north) = at.letters.casefold(), at.figures
    patterns = [rf"{letters}{east}[0-9]{{{more}}}{north}[0-9]{{{more}}}(?![0-9])" for more in range(4)]
    if side_m > 2000:
        column, row = at.east % 10_000 // 2000, at.north % 10_000 // 2000
        # SU41NW is the quadrant, not the tetrad N.
        tetrad = f"{letters}{east[0]}{north[0]}{TETRAD_LETTERS[column * 5 + row]}".casefold()
        patterns.append(f"{tetrad}(?![ew])" if tetrad[-1] in "ns" else tetrad)
    yield from (pattern for pattern in patterns if re.search(pattern, bare))
    for more in (1, 2, 3):
        pattern = rf"(?<![0-9.]){east}[0-9]{{{more}}}[ ,/;|-]*{north}[0-9]{{{more}}}(?![0-9])"
        if re.search(pattern, text) and not re.fullmatch(r"[0-9]{4}-[0-9-]+T[0-9:]+Z", text):
            yield pattern
    yield from _in_numbers(text, at)


def _in_numbers(text: str, at: Kilometre) -> Iterator[str]:
    """Every two numbers that stand together, as metres, and as latitude and longitude."""
    numbers = [float(one) for one in re.findall(r"[0-9]+(?:\.[0-9]+)?", text) if len(one) < 16]
    for east, north in pairwise(numbers):
        if (east // 1000, north // 1000) == (at.east // 1000, at.north // 1000):
            yield f"metres {east} {north}"
    for parts in (1, 2, 3):
        for first in range(len(numbers) - 2 * parts + 1):
            angles = numbers[first : first + parts], numbers[first + parts : first + 2 * parts]
            latitude, longitude = (sum(part / 60**power for power, part in enumerate(angle)) for angle in angles)
            if not (49 < latitude < 62 and longitude < 12) or (parts == 1 and latitude.is_integer()):
                continue
            if any(part >= 60 for angle in angles for part in angle[1:]):
                continue
            if at.holds(latitude, -longitude) or at.holds(latitude, longitude):
                yield f"position {latitude} {longitude}"


def _is_uuid(text: str) -> bool:
    try:
        return str(uuid.UUID(text.partition("#")[0])) == text.partition("#")[0]
    except ValueError:
        return False
