"""Reading a county file: YAML or CSV that a county recorder edits and hands out → a `County`, or every fault in it.

Faults have line and column as those of key files, and are found by the same readers.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

from pydantic import ValidationError

from reedmace.checks.county import County, Day, LocalSpecies
from reedmace.faults import Fault, Refused, Where, cannot_read, did_you_mean
from reedmace.keys.authoring import Authored, Text
from reedmace.keys.authoring import Day as IsoDay
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.keys.seasons import MONTHS, PARTS
from reedmace.keys.shape import shape_faults
from reedmace.keys.tree import Spot, Tree, read_tree
from reedmace.places.vice_counties import ViceCounty, find_vice_county

FORMAT = 1
SIDES = {"100 m": 100, "1 km": 1000, "2 km": 2000, "5 km": 5000, "10 km": 10_000}
COLUMNS = ("species", "status", "first", "last", "photo", "blur", "note")
Side = Literal["100 m", "1 km", "2 km", "5 km", "10 km"]


class FlightEntry(Authored):
    """First and last day, as `12 May`, `May` or `mid-may`."""

    first: Text
    last: Text


class SpeciesEntry(Authored):
    """One species in this county; what is left out is as the key has it."""

    name: Text
    status: Literal["common", "local", "scarce", "rare", "vagrant", "lost", "absent"] | None = None
    flight: FlightEntry | None = None
    photo: Literal["always", "males", "females", "unsexed", "never"] | None = None
    blur: Side | None = None
    note: str = ""


class CountyFile(Authored):
    """The whole file."""

    format: Literal[1]
    county: Text
    updated: IsoDay | None = None
    vice_counties: tuple[Any, ...] = ()
    squares: tuple[Text, ...] = ()
    wants: Side | None = None
    species: tuple[SpeciesEntry, ...] = ()


def read_county(path: Path, key: Key) -> County:
    """Read a county file; names of species are those of the key. Raises `Refused` with every fault at once."""
    text = _text(path)
    tree, faults = _csv_tree(text, path) if path.suffix.casefold() == ".csv" else read_tree(text, path.name)
    if not faults:
        if tree.value is None:
            tree.value = {}  # an empty file lacks its fields
        try:
            authored = CountyFile.model_validate(tree.value)
        except ValidationError as error:
            faults = list(shape_faults(tree, error, CountyFile))
        else:
            county = _county(authored, tree, key, faults)
            if not faults:
                return county
    raise Refused(*map(_as_county_fault, faults))


def _text(path: Path) -> str:
    where = Where(path.name)
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        message = "The county file is not UTF-8."
        raise Refused(
            Fault("not-utf8", message, "save it as UTF-8 (in a spreadsheet: CSV UTF-8)", None, where)
        ) from None
    except OSError as error:
        raise cannot_read(path, error, "The county file") from None


def _as_county_fault(fault: Fault) -> Fault:
    """The readers of key files speak of key files."""
    message = fault.message.replace("A key file", "A county file")
    return fault._replace(message=message)


def _csv_tree(text: str, path: Path) -> tuple[Tree, list[Fault]]:
    """The rows of a CSV as the tree that the same facts in YAML would make, so that faults keep their lines."""
    tree = Tree(path.name, text)
    tree.spots[()] = tree.spots[("species",)] = Spot(0, 0, 1, 0, 0, 1)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=";" if ";" in tree.lines[0] else ",", strict=True)
    faults: list[Fault] = []
    species: list[dict[str, Any]] = []
    header: list[str] = []
    begins = 0
    try:
        for row in reader:
            cells, line = [cell.strip() for cell in row], begins
            begins = reader.line_num
            if not any(cells) or cells[0].startswith("#"):
                continue
            if not header:
                header = [cell.casefold() for cell in cells]
                faults.extend(_header_faults(header, tree, line))
                continue
            spots = dict(_spots(cells, header, tree.lines[line], line))
            values = {name: cell for name, cell in zip(header, cells, strict=False) if cell}
            at = ("species", len(species))
            tree.spots[at] = Spot(line, 0, 1, line, 0, 1)
            tree.spots.update({(*at, *_path(name)): spot for name, spot in spots.items()})
            if len(cells) > len(header):
                message = f"This row has {len(cells)} cells, and the heading {len(header)}."
                hint = 'put a text that holds a comma in quotes: "one, two"'
                faults.append(Fault("row-too-long", message, hint, None, tree.where(at)))
            species.append(_as_entry(values))
    except csv.Error as error:
        where = Where(path.name, reader.line_num, 1, tree.lines[min(reader.line_num, len(tree.lines)) - 1])
        faults.append(Fault("not-csv", f"This is not CSV: {error}.", "save it as CSV once more", None, where))
    name = path.stem.replace("-", " ").replace("_", " ").title()
    tree.value = {"format": FORMAT, "county": name, "species": tuple(species)}
    return tree, faults


def _header_faults(header: list[str], tree: Tree, line: int) -> Iterator[Fault]:
    where = Where(tree.file, line + 1, 1, tree.lines[line])
    if "species" not in header:
        hint = f"the first row names the columns: {', '.join(COLUMNS)}"
        yield Fault("missing-field", 'The column "species" is missing.', hint, None, where)
    for name in dict.fromkeys(header):
        if name not in COLUMNS:
            hint = did_you_mean(name, COLUMNS, f"columns here: {', '.join(COLUMNS)}")
            yield Fault("unknown-field", f'There is no column "{name}" here.', hint, name, where)
        elif header.count(name) > 1:
            yield Fault(
                "duplicate-field", f'The column "{name}" stands here twice.', "keep one of the two", name, where
            )


def _spots(cells: list[str], header: list[str], text: str, line: int) -> Iterator[tuple[str, Spot]]:
    at = 0
    for name, cell in zip(header, cells, strict=False):
        found = text.find(cell, at) if cell else -1
        column = max(found, 0)
        yield name, Spot(line, column, max(1, len(cell)), line, column, max(1, len(cell)))
        at = found + len(cell) if found >= 0 else at


def _path(name: str) -> tuple[str, ...]:
    return {"species": ("name",), "first": ("flight", "first"), "last": ("flight", "last")}.get(name, (name,))


def _as_entry(values: dict[str, str]) -> dict[str, Any]:
    plain = {name: _plain_word(cell) if name in ("status", "photo", "blur") else cell for name, cell in values.items()}
    entry: dict[str, Any] = {("name" if name == "species" else name): cell for name, cell in plain.items()}
    flight = {name: entry.pop(name) for name in ("first", "last") if name in entry}
    return entry | ({"flight": flight} if flight else {})


def _plain_word(cell: str) -> str:
    """A word of a spreadsheet as this file writes it: `Scarce`, `2km`."""
    return re.sub(r"(?<=[0-9]) ?(?=k?m$)", " ", cell.casefold())


def _county(authored: CountyFile, tree: Tree, key: Key, faults: list[Fault]) -> County:
    numbers = []
    for index, typed in enumerate(authored.vice_counties):
        found = find_vice_county(str(typed))
        if isinstance(found, ViceCounty):
            numbers.append(found.number)
        else:
            faults.append(found._replace(where=tree.where(("vice_counties", index)), typed=False))
    squares = []
    for index, typed in enumerate(authored.squares):
        plain = "".join(typed.upper().split())
        squares.append(plain)
        if not re.fullmatch(r"[A-HJ-Z]{1,2}(?:[0-9]{2})?", plain):
            message = f'"{typed}" is no 100 km or 10 km square.'
            hint = "write the letters (SU) or a 10 km square (SU41)"
            faults.append(Fault("county-square", message, hint, typed, tree.where(("squares", index))))
    species: dict[str, LocalSpecies] = {}
    for index, entry in enumerate(authored.species):
        local = _local(entry, ("species", index), tree, key, faults)
        if local and local.name in species:
            message = f"{local.name} stands here twice."
            faults.append(
                Fault("duplicate-species", message, "keep one", entry.name, tree.where(("species", index, "name")))
            )
        elif local:
            species[local.name] = local
    wants = SIDES[authored.wants] if authored.wants else None
    return County(authored.county, authored.updated or "", tuple(numbers), tuple(squares), wants, species)


def _local(
    entry: SpeciesEntry, at: tuple[str | int, ...], tree: Tree, key: Key, faults: list[Fault]
) -> LocalSpecies | None:
    flight = None
    if entry.flight:
        first = _day(entry.flight.first, (*at, "flight", "first"), tree, faults, last=False)
        last = _day(entry.flight.last, (*at, "flight", "last"), tree, faults, last=True)
        if first and last and first > last:
            message = f"The flight period ends ({entry.flight.last}) before it begins ({entry.flight.first})."
            faults.append(
                Fault("flight-order", message, "swap them, or check", None, tree.where((*at, "flight", "last")))
            )
        flight = (first, last) if first and last else None
    found = find_name(key, entry.name)
    if not isinstance(found, FoundName) or len(found.species) != 1 or found.others:
        hint = found.hint if isinstance(found, Fault) else "name one species"
        code = found.code if isinstance(found, Fault) else "not-one-species"
        message = found.message if isinstance(found, Fault) else f'"{entry.name}" is more than one species.'
        faults.append(Fault(code, message, hint, entry.name, tree.where((*at, "name"))))
        return None
    blur = SIDES[entry.blur] if entry.blur else None
    return LocalSpecies(key.species[found.species[0]].name, entry.status, flight, entry.photo, blur, entry.note)


def _day(text: str, at: tuple[str | int, ...], tree: Tree, faults: list[Fault], *, last: bool) -> Day | None:
    """`12 May`, a month, or a third of one: its first day, or its last where it ends a period."""
    plain = " ".join(text.casefold().split())
    if found := re.fullmatch(r"(?:(early|mid|late)[ -])?([a-z]{3,9})\.?", plain, re.ASCII):
        month = _month(found[2])
        if month is not None:
            ends = (10, 20, _LONGEST[month]) if last else (1, 11, 21)
            whole = _LONGEST[month] if last else 1
            return month + 1, ends[PARTS.index(found[1])] if found[1] else whole
    for form in (_DAY_FIRST, _MONTH_FIRST):
        if found := re.fullmatch(form, plain, re.ASCII):
            month = _month(found["month"])
            if month is not None and 1 <= int(found["day"]) <= _LONGEST[month]:
                return month + 1, int(found["day"])
    message = f'"{text}" is no day of the year.'
    faults.append(Fault("county-day", message, "write  12 May  or  mid-may", text, tree.where(at)))
    return None


def _month(word: str) -> int | None:
    """The month, from 0, that a word or its beginning in three letters or more names; `Sept` too."""
    found = [index for index, name in enumerate(MONTHS) if name.startswith(word)]
    return found[0] if len(found) == 1 and len(word) > 2 else None


# A spreadsheet writes 12-May where 12 May was typed.
_DAY_FIRST = r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?[ -](?:of )?(?P<month>[a-z]{3,9})\.?"
_MONTH_FIRST = r"(?P<month>[a-z]{3,9})\.? (?P<day>[0-9]{1,2})(?:st|nd|rd|th)?"
_LONGEST = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
