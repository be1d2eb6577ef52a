"""Small keys made from tables of numbers, for checking the engine against values worked elsewhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from reedmace.keys.answers import Answer
from reedmace.keys.borrowing import borrow, kinship
from reedmace.keys.model import Character, Characters, Guise, Key, Species, State
from reedmace.scoring.assumptions import DEFAULTS, Assumptions

# The engine without any assumption of its own: what the plain formula says.
PLAIN = DEFAULTS._replace(kin=0.0, error_factor=1.0, echo_lapse=0.0, outside_prior=0.0, number_floor=0.0)


def plain(**changes: float) -> Assumptions:
    """The plain engine with some assumptions set."""
    return PLAIN._replace(**changes)


NOTHING_MORE = (
    '{"status":"","levels":{},"hindwing":null,"lookalikes":[],"protection":[],"notes":[],"sources":[],"sources_of":{}}'
)


def species(index: int, name: str, guises: tuple[int, ...]) -> Species:
    """A species about which nothing is known but its name."""
    return Species(
        index,
        name,
        "",
        name,
        (),
        (),
        name.split()[0],
        "Familia",
        (1.0,),
        None,
        {},
        None,
        False,
        (),
        NOTHING_MORE,
        guises,
    )


def states(
    index: int,
    name: str,
    count: int,
    cells: Sequence[Sequence[float]],
    column: Sequence[int],
    *,
    error: float = 0.0,
    **more: object,
) -> Character:
    """A character with `count` states, the same chance of a misread everywhere."""
    made = tuple(State(f"s{k}", f"state {k}", (), False) for k in range(count))
    both = {"beginner": (error, error), "practised": (error, error)}
    character = Character(
        index,
        name,
        name,
        f"{name}?",
        "",
        "part",
        "look",
        None,
        (),
        False,
        False,
        1.0,
        "",
        (),
        both,
        made,
        "",
        None,
        {},
        len(cells),
        tuple(map(tuple, cells)),
        tuple(column),
    )
    return character._replace(**more)


def number(index: int, name: str, cells: Sequence[Sequence[float]], span: tuple[float, float]) -> Character:
    """A measured character in millimetres; cells are (mean, sd)."""
    return Character(
        index,
        name,
        name,
        f"{name}?",
        "",
        "part",
        "look",
        None,
        (),
        False,
        False,
        1.0,
        "",
        (),
        {},
        (),
        "mm",
        span,
        {},
        len(cells),
        tuple(map(tuple, cells)),
        tuple(range(len(cells))),
    )


def key_of(characters: Sequence[Character], names: Sequence[str], *, guises: Sequence[Guise] | None = None) -> Key:
    """A key with one guise a species unless `guises` are given."""
    made = tuple(
        guises or (Guise(i, "adult", "adult", None, "mature", "", 1.0, (), "sight", "") for i in range(len(names)))
    )
    kinds = tuple(
        species(i, name, tuple(g for g, guise in enumerate(made) if guise.species == i)) for i, name in enumerate(names)
    )
    # What is not known is borrowed when a key is compiled; here there is no compiling.
    kin = kinship((kinds[guise.species].genus, guise.sex, guise.age) for guise in made)
    filled = []
    for one in characters:
        if not one.is_number:
            borrowed = borrow(kin, one.cells, one.column, len(one.states))
            one = one._replace(cells=(*one.cells, *borrowed.cells), column=tuple(borrowed.column))
        filled.append(one)
    ranks = {"kingdom": "K", "phylum": "P", "class": "C", "order": "O", "title": "insect"}
    return Key(
        "made",
        "Made",
        "1.0.0",
        "0" * 64,
        "",
        "",
        "",
        "adult",
        ranks,
        {"Familia": ("kin", "Sub")},
        (),
        {},
        (),
        Characters(tuple(filled)),
        kinds,
        made,
        (),
        (),
    )


def answer(character: int, *chosen: int, unsure: bool = False) -> Answer:
    """An answer naming states."""
    return Answer(character, "", tuple(chosen), unsure=unsure)


def measured(character: int, value: float) -> Answer:
    """An exact measurement."""
    return Answer(character, "", low=value, high=value, instrument="measured")


def two_state_key(table: Mapping[str, Sequence[float]], *, error: float = 0.0) -> Key:
    """A key of two-state characters from P(+) by species."""
    names = list(table)
    count = len(next(iter(table.values())))
    characters = [
        states(
            i, f"c{i + 1}", 2, [(table[name][i], 1 - table[name][i]) for name in names], range(len(names)), error=error
        )
        for i in range(count)
    ]
    return key_of(characters, names)
