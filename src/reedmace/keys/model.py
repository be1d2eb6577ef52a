"""A key as the program runs it: plain, immutable, made from the compiled form without pydantic or YAML.

Guises are numbered across the whole key; a character holds its distinct cells and a `column` with, for each
guise, the number of its cell, `NOT_KNOWN` or `NOT_APPLICABLE`.
"""

import json
from collections.abc import Iterable
from functools import lru_cache
from typing import Any, NamedTuple

NOT_KNOWN = -1
NOT_APPLICABLE = -2
EFFORTS = ("glance", "look", "close", "hand")
LEVELS = ("abundant", "common", "local", "scarce", "rare", "vagrant", "absent")  # of abundance, commonest first


class State(NamedTuple):
    """One state of a character, with the everyday words that mean it."""

    id: str
    title: str
    words: tuple[str, ...]
    absent: bool


class Character(NamedTuple):
    """One character. `cells` are frequencies by state, or (mean, sd) for a number.

    The first `described` of them are the authors' own; the rest are borrowed for guises of which nothing is known.
    `needs` is the number of the character without which there is nothing to ask about; `shown_by` the one sex whose
    mark it is, though the other is described by it too; of `colours` one said by itself may be of any part.
    """

    index: int  # type: ignore[assignment]  # hides tuple.index, which nobody needs here
    id: str
    title: str
    question: str
    help: str
    part: str
    effort: str
    echo: str | None
    aliases: tuple[str, ...]
    ordered: bool
    sexing: bool
    visible: float
    photograph: str
    confused: tuple[tuple[int, int], ...]
    misread: dict[str, tuple[float, float]]
    states: tuple[State, ...]
    unit: str
    range: tuple[float, float] | None
    by_eye: dict[str, tuple[float, float]]
    described: int
    cells: tuple[tuple[float, ...], ...]
    column: tuple[int, ...]
    needs: int | None = None
    shown_by: str | None = None
    colours: bool = False

    @property
    def is_number(self) -> bool:
        """True for a measured character, False for one with states."""
        return self.range is not None


class Guise(NamedTuple):
    """One way a species can look. `species` is the species' number in the key.

    `share` is its share of the individuals seen; `share_in` gives other shares in some regions (by number). `flight`
    is when in the year insects of the species look like this (see `Species`), None where they do all of its season.
    """

    species: int
    id: str
    title: str
    sex: str | None
    age: str
    form: str
    share: float
    share_in: tuple[tuple[int, float], ...]
    evidence: str
    photograph: str
    flight: tuple[int, int, int, int] | None = None


class Lookalike(NamedTuple):
    """A species to rule out: by its number, or by its number among the undescribed."""

    name: str
    species: int | None
    undescribed: int | None
    guises: tuple[str, ...]
    mark: str
    decided_by: dict[str, tuple[int, ...]]
    unseen: str


class More(NamedTuple):
    """What is known of a species beyond what every look needs: decoded only when it is asked for."""

    status: str
    levels: dict[str, str]
    hindwing: tuple[float, float] | None
    lookalikes: tuple[Lookalike, ...]
    protection: tuple[dict[str, Any], ...]
    notes: tuple[str, ...]
    sources: tuple[str, ...]
    sources_of: dict[str, tuple[str, ...]]


class Species(NamedTuple):
    """One species. `abundance` is a weight per region, `flight` first, peak from, peak to, last in thirds.

    `named_by` are the species that list this one as a look-alike; `text` is the rest, as JSON (see `More`).
    """

    index: int  # type: ignore[assignment]  # hides tuple.index, which nobody needs here
    name: str
    authority: str
    english: str
    aliases: tuple[str, ...]
    synonyms: tuple[str, ...]
    genus: str
    family: str
    abundance: tuple[float, ...]
    flight: tuple[int, int, int, int] | None
    habitats: dict[str, str]
    length: tuple[float, float] | None
    protected: bool
    named_by: tuple[int, ...]
    text: str
    guises: tuple[int, ...]

    @property
    def more(self) -> More:
        """The rest of what is known, decoded once."""
        return _more(self.text)

    @property
    def lookalikes(self) -> tuple[Lookalike, ...]:
        """The species to rule out."""
        return self.more.lookalikes


@lru_cache(maxsize=1024)
def _more(text: str) -> More:
    row = json.loads(text)
    return More(
        row["status"],
        row["levels"],
        _pair(row["hindwing"]),
        tuple(
            Lookalike(
                other["name"],
                other["species"],
                other["undescribed"],
                tuple(other["guises"]),
                other["mark"],
                {name: tuple(states) for name, states in other["decided_by"].items()},
                other["unseen"],
            )
            for other in row["lookalikes"]
        ),
        tuple(row["protection"]),
        tuple(row["notes"]),
        tuple(row["sources"]),
        {name: tuple(named) for name, named in row["sources_of"].items()},
    )


class Group(NamedTuple):
    """A group a verdict may climb to; `members` are species numbers, `scientific` None for a trade group."""

    rank: str
    title: str
    scientific: str | None
    members: frozenset[int]


class Undescribed(NamedTuple):
    """A species named as a look-alike before it is described in the key; `group` is its genus or family."""

    name: str
    english: str
    group: str
    abundance: tuple[float, ...]
    flight: tuple[int, int, int, int] | None


class Namesake(NamedTuple):
    """An animal that has some of the key's short names too, and the words by which a page speaks of it."""

    animal: str
    names: tuple[str, ...]
    words: tuple[str, ...]


class Remark(NamedTuple):
    """Words of another animal, or of what says nothing of the kind, and what is told to whoever types them.

    `instead` where they are no mark; it is not meant where one of `unless` stands beside them.
    """

    words: tuple[str, ...]
    tell: str
    instead: bool
    unless: tuple[str, ...]


class Named(NamedTuple):
    """A region or habitat: id, title, other words."""

    id: str
    title: str
    words: tuple[str, ...] = ()


class Characters:
    """The characters of a key, made from their compiled rows when they are first asked for.

    They are most of a key, and writing down what was seen needs none of them.
    """

    __slots__ = ("_made", "_rows")

    def __init__(self, rows: bytes | str | list[dict[str, Any]] | tuple[Character, ...]) -> None:
        """Takes compiled rows, as JSON or read already, or the characters themselves."""
        self._rows = rows
        self._made = rows if isinstance(rows, tuple) else None

    @property
    def made(self) -> tuple[Character, ...]:
        """All characters, in the key's order."""
        if self._made is None:
            rows = json.loads(self._rows) if isinstance(self._rows, bytes | str) else self._rows
            self._made = tuple(_character(index, row) for index, row in enumerate(rows))
            self._rows = self._made
        return self._made

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Characters) and self.made == other.made

    __hash__ = None  # type: ignore[assignment]  # as a key, which holds mappings


class Key(NamedTuple):
    """A whole key."""

    id: str
    title: str
    version: str
    digest: str
    scope: str
    licence: str
    caution: str
    stage: str
    classification: dict[str, str]
    families: dict[str, tuple[str, str]]
    regions: tuple[Named, ...]
    squares: dict[str, tuple[str, ...]]
    habitats: tuple[Named, ...]
    described_by: Characters
    species: tuple[Species, ...]
    guises: tuple[Guise, ...]
    groups: tuple[Group, ...]
    undescribed: tuple[Undescribed, ...]
    namesakes: tuple[Namesake, ...] = ()
    remarks: tuple[Remark, ...] = ()

    @property
    def characters(self) -> tuple[Character, ...]:
        """What the species are described by."""
        return self.described_by.made

    def with_characters(self, characters: Iterable[Character]) -> "Key":
        """The key with other characters in place of its own."""
        return self._replace(described_by=Characters(tuple(characters)))

    def character(self, identifier: str) -> Character:
        """The character with this id. Raises KeyError."""
        for character in self.characters:
            if character.id == identifier:
                return character
        raise KeyError(identifier)


def from_compiled(form: dict[str, Any]) -> Key:
    """The running key from its compiled form; the caller vouches for the form (it is ours, by digest).

    The characters may still be JSON.
    """
    guises = tuple(_guise(*row) for row in form["guises"])
    of_species: list[list[int]] = [[] for _ in form["species"]]
    for index, guise in enumerate(guises):
        of_species[guise.species].append(index)
    return Key(
        id=form["id"],
        title=form["title"],
        version=form["version"],
        digest=form["digest"],
        scope=form["scope"],
        licence=form["licence"],
        caution=form["caution"],
        stage=form["stage"],
        classification=form["classification"],
        families={name: (title, suborder) for name, (title, suborder) in form["families"].items()},
        regions=tuple(Named(name, title, tuple(words)) for name, title, words in form["regions"]),
        squares={square: tuple(named) for square, named in form["squares"].items()},
        habitats=tuple(Named(name, title, tuple(words)) for name, title, words in form["habitats"]),
        described_by=Characters(form["characters"]),
        species=tuple(_species(index, row, tuple(of_species[index])) for index, row in enumerate(form["species"])),
        guises=guises,
        groups=tuple(Group(**(row | {"members": frozenset(row["members"])})) for row in form["groups"]),
        undescribed=tuple(
            Undescribed(row["name"], row["english"], row["group"], tuple(row["abundance"]), _four(row["flight"]))
            for row in form["undescribed"]
        ),
        namesakes=tuple(Namesake(animal, tuple(names), tuple(words)) for animal, names, words in form["namesakes"]),
        remarks=tuple(
            Remark(tuple(words), tell, instead, tuple(unless)) for words, tell, instead, unless in form["remarks"]
        ),
    )


def _guise(
    species: int, name: str, title: str, sex: str | None, age: str, form: str, share: float, *rest: Any
) -> Guise:
    share_in, evidence, photograph, flight = rest
    regional = tuple((region, here) for region, here in share_in)
    return Guise(species, name, title, sex, age, form, share, regional, evidence, photograph, _four(flight))


def _four(thirds: list[int] | None) -> tuple[int, int, int, int] | None:
    return (thirds[0], thirds[1], thirds[2], thirds[3]) if thirds else None


def _pair(values: list[float] | None) -> tuple[float, float] | None:
    return (values[0], values[1]) if values else None


def _character(index: int, row: dict[str, Any]) -> Character:
    return Character(
        **row
        | {
            "index": index,
            "aliases": tuple(row["aliases"]),
            "confused": tuple((one, other) for one, other in row["confused"]),
            "misread": {eye: (missed, invented) for eye, (missed, invented) in row["misread"].items()},
            "states": tuple(State(name, title, tuple(words), absent) for name, title, words, absent in row["states"]),
            "range": _pair(row["range"]),
            "by_eye": {eye: (half, bias) for eye, (half, bias) in row["by_eye"].items()},
            "cells": tuple(map(tuple, row["cells"])),
            "column": tuple(map(int, row["column"].split())),
        }
    )


def _species(index: int, row: dict[str, Any], guises: tuple[int, ...]) -> Species:
    return Species(
        **row
        | {
            "index": index,
            "aliases": tuple(row["aliases"]),
            "synonyms": tuple(row["synonyms"]),
            "abundance": tuple(row["abundance"]),
            "flight": _four(row["flight"]),
            "length": _pair(row["length"]),
            "named_by": tuple(row["named_by"]),
            "guises": guises,
        }
    )
