"""What tells species apart: marks by their expected weight of evidence, for each sex and age, and what decides.

The weight of a mark is what it is expected to tell, as an observer would report it: the smaller of the two
Kullback–Leibler divergences between the species' readings, in decibans (Kullback & Leibler 1951, Ann. Math.
Statist. 22:79–86). With more than two species it is the mean over pairs.
"""

from __future__ import annotations

from itertools import combinations
from typing import Any, NamedTuple

from reedmace.keys.model import Character, Key, Lookalike
from reedmace.scoring.divergence import separation
from reedmace.scoring.tables import Tables

LEAST = 1.0  # decibans from which a mark is worth naming
SHOWN = 0.2  # frequency from which a state is named as what a species shows
CLASSES = (
    ("male", "mature", "mature males"),
    ("female", "mature", "mature females"),
    (None, "immature", "immature ones"),
    (None, "teneral", "newly emerged ones"),
)

# How a pair can be settled.
LOOK, HAND, TOGETHER, NOTHING = "by one mark", "in the hand", "by several marks together", "by nothing seen"


class Mark(NamedTuple):
    """One mark: `shows` are the states each species shows (state numbers, commonest first), `weight` in decibans."""

    character: int
    weight: float
    shows: tuple[tuple[int, ...], ...]


class Chapter(NamedTuple):
    """The marks of one sex and age, best first; `species` are those that have such a guise."""

    title: str
    sex: str | None
    age: str
    species: tuple[int, ...]
    marks: tuple[Mark, ...]


class Pair(NamedTuple):
    """How two species are settled: `marks` as the key words them, and what to write if unseen.

    Each mark is worded from one side: the species' number, its guises it holds for (all when empty), the words.
    `undecided` are the guises of either that no one mark settles.
    """

    one: int
    other: int
    how: str
    listed: bool
    deciding: tuple[int, ...]
    marks: tuple[tuple[int, tuple[int, ...], str], ...]
    unseen: str
    undecided: tuple[int, ...]


class Apart(NamedTuple):
    """All that tells some species apart."""

    species: tuple[int, ...]
    chapters: tuple[Chapter, ...]
    pairs: tuple[Pair, ...]


def tell_apart(tables: Tables, species: tuple[int, ...]) -> Apart:
    """What tells two or more species of a key apart."""
    chapters = tuple(filter(None, (_chapter(tables, species, *wanted) for wanted in CLASSES)))
    pairs = tuple(_pair(tables.key, chapters, one, other) for one, other in combinations(species, 2))
    return Apart(species, chapters, pairs)


def _chapter(tables: Tables, species: tuple[int, ...], sex: str | None, age: str, title: str) -> Chapter | None:
    key = tables.key
    guises = {
        one: [g for g in key.species[one].guises if key.guises[g].age == age and sex in (None, key.guises[g].sex)]
        for one in species
    }
    having = tuple(one for one in species if guises[one])
    if len(having) < 2:
        return None
    marks = [
        mark
        for character in key.characters
        if sex is None or character.shown_by in (None, sex)
        if (mark := _mark(tables, character, [guises[one] for one in having])) and mark.weight >= LEAST
    ]
    return Chapter(title, sex, age, having, tuple(sorted(marks, key=lambda mark: (-mark.weight, mark.character))))


def _mark(tables: Tables, character: Character, guises: list[list[int]]) -> Mark | None:
    """The mark of a character between sets of guises; None where it is not known of all, or makes no sense for one."""
    known = [[g for g in group if 0 <= character.column[g] < character.described] for group in guises]
    if not all(known):
        return None
    readings = tables.readings(character)
    rows = [_mixed(tables, group, [readings.row(readings.row_of[g]) for g in group]) for group in known]
    weights = [separation(one, other) for one, other in combinations(rows, 2)]
    shows = tuple(_shown(tables, character, group) for group in known)
    return Mark(character.index, sum(weights) / len(weights), shows)


def _mixed(tables: Tables, group: list[int], rows: list[list[float]]) -> list[float]:
    shares = [tables.key.guises[g].share for g in group]
    return [
        sum(share * row[k] for share, row in zip(shares, rows, strict=True)) / sum(shares) for k in range(len(rows[0]))
    ]


def _shown(tables: Tables, character: Character, group: list[int]) -> tuple[int, ...]:
    if character.is_number:
        return ()
    mixed = _mixed(tables, group, [list(character.cells[character.column[g]]) for g in group])
    order = sorted(range(len(mixed)), key=lambda state: -mixed[state])
    return tuple(state for state in order if mixed[state] >= SHOWN) or (order[0],)


def _pair(key: Key, chapters: tuple[Chapter, ...], one: int, other: int) -> Pair:
    entries = [(one, entry) for entry in key.species[one].lookalikes if entry.species == other]
    entries += [(other, entry) for entry in key.species[other].lookalikes if entry.species == one]
    deciding = _deciding(key, [entry for _, entry in entries])
    visible = [index for index in deciding if key.characters[index].effort != "hand"]
    if visible:
        how = LOOK
    elif deciding:
        how = HAND
    else:
        how = TOGETHER if _enough_together(key, chapters, one, other) else NOTHING
    marks = tuple(dict.fromkeys((side, _guises_of(key, side, entry), entry.mark) for side, entry in entries))
    undecided = [
        guise
        for side in (one, other)
        for guise in key.species[side].guises
        if not any(
            whose == side and entry.decided_by and (not entry.guises or key.guises[guise].id in entry.guises)
            for whose, entry in entries
        )
    ]
    unseen = next((entry.unseen for _, entry in entries if entry.unseen), "")
    named = unseen or f"{key.species[one].english} or {key.species[other].english}"
    return Pair(one, other, how, bool(entries), deciding, marks, named, tuple(undecided) if entries else ())


def _guises_of(key: Key, species: int, entry: Lookalike) -> tuple[int, ...]:
    return tuple(guise for guise in key.species[species].guises if key.guises[guise].id in entry.guises)


def _deciding(key: Key, entries: list[Lookalike]) -> tuple[int, ...]:
    """Characters that decide, those seen with least effort first."""
    effort = {"glance": 0, "look": 1, "close": 2, "hand": 3}
    found = {key.character(name).index for entry in entries for name in entry.decided_by}
    return tuple(sorted(found, key=lambda index: (effort[key.characters[index].effort], index)))


def _enough_together(key: Key, chapters: tuple[Chapter, ...], one: int, other: int) -> bool:
    """Whether marks that can be seen add up to a separation (7 dB on two marks) for some sex and age."""
    for chapter in chapters:
        if {one, other} <= set(chapter.species):
            seen = [mark.weight for mark in chapter.marks if key.characters[mark.character].effort != "hand"]
            if len(seen) > 1 and sum(seen) >= 7:
                return True
    return False


def as_json(key: Key, apart: Apart) -> dict[str, Any]:
    """One JSON-able object."""

    def name(species: int) -> str:
        return key.species[species].name

    return {
        "species": [name(one) for one in apart.species],
        "pairs": [
            {
                "names": [name(pair.one), name(pair.other)],
                "lookalikes": pair.listed,
                "settled": pair.how,
                "deciding": [key.characters[index].id for index in pair.deciding],
                "marks": [
                    {"name": name(side), "guises": [key.guises[one].title for one in guises], "mark": mark}
                    for side, guises, mark in pair.marks
                ],
                "undecided": [
                    {"name": name(key.guises[one].species), "guise": key.guises[one].title} for one in pair.undecided
                ],
                "unseen": pair.unseen,
            }
            for pair in apart.pairs
        ],
        "classes": [
            {
                "sex": chapter.sex,
                "age": chapter.age,
                "marks": [
                    {
                        "character": key.characters[mark.character].id,
                        "weight": mark.weight,
                        "effort": key.characters[mark.character].effort,
                        "shows": {
                            name(one): [key.characters[mark.character].states[state].id for state in shown]
                            for one, shown in zip(chapter.species, mark.shows, strict=True)
                        },
                    }
                    for mark in chapter.marks
                ],
            }
            for chapter in apart.chapters
        ],
        "key": {"id": key.id, "version": key.version, "digest": key.digest},
    }
