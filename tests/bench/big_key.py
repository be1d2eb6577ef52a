"""Keys of any size, made by chance: for speed, memory and growth, never for judging verdicts."""

from __future__ import annotations

from pathlib import Path
from random import Random

from reedmace.keys.model import NOT_APPLICABLE, NOT_KNOWN, Guise, Key
from scoring.tables_made import key_of, states

STATES = 3
VARIABLE = 0.1  # of a character's cells that hold two states
EMPTY = 0.03  # of guises not known, and as many to which a character does not apply


def big_key(
    chance: Random, taxa: int, characters: int, *, guises: int = 1, own_cells: bool = False, echoes: bool = True
) -> Key:
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
        echo = f"group-{index % 3}" if echoes and index % 5 == 4 else None
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


def write_big_key(chance: Random, folder: Path, taxa: int, characters: int) -> Path:
    """The same kind of key as an author's files: a genus of eight species a file."""
    (folder / "species").mkdir(parents=True)
    (folder / "key.yaml").write_text(KEY, encoding="utf-8")
    rows = [CHARACTERS, *(CHARACTER.format(index) for index in range(characters))]
    (folder / "characters.yaml").write_text("".join(rows), encoding="utf-8")
    for first in range(0, taxa, 8):
        genus = f"Genus{_letters(first // 8)}"
        lines = [GENUS.format(genus)]
        for species in range(first, min(first + 8, taxa)):
            lines.append(SPECIES.format(genus, _letters(species)))
            lines += [
                f"      mark-{i}: s{chance.randrange(STATES)}\n" for i in range(characters) if chance.random() > EMPTY
            ]
            lines.append(GUISES)
        (folder / "species" / f"{genus.lower()}.yaml").write_text("".join(lines), encoding="utf-8")
    return folder


def _letters(number: int) -> str:
    """A number in letters, for names."""
    return "".join(chr(97 + int(digit)) for digit in f"{number:05d}")


KEY = """\
format: 1
id: big
title: A big made key
version: 0.1.0
scope: For speed alone.
licence: CC0-1.0
classification: {kingdom: Animalia, phylum: Arthropoda, class: Insecta, order: Fictoptera, title: made fly}
suborders: [{name: Tenuiptera, title: slim fly}]
families: [{name: Exemplidae, suborder: Tenuiptera, title: example fly}]
groups: []
abundance: {common: 0.5, absent: 0.00002}
regions: [{id: lowland, title: the Lowland}]
squares: {SU: [lowland]}
habitats: [{id: pond, title: pond}]
undescribed: []
sources: [{id: practice, title: common practice}]
"""
CHARACTERS = "format: 1\nsource: practice\ncharacters:\n"
CHARACTER = """\
  - id: mark-{0}
    title: Mark {0}
    question: Which mark {0}?
    help: Look closely.
    part: body
    effort: look
    beginner: {{missed: 0.1, invented: 0.1}}
    practised: {{missed: 0.05, invented: 0.05}}
    states: [{{id: s0, title: first of {0}}}, {{id: s1, title: second of {0}}}, {{id: s2, title: third of {0}}}]
"""
GENUS = "format: 1\ngenus: {0}\nfamily: Exemplidae\ntitle: example fly\nsource: practice\nspecies:\n"
SPECIES = """\
  - name: {0} {1}
    authority: Marsh, 1901
    english: Fly {1}
    status: resident
    abundance: {{lowland: common}}
    flight: {{first: mid-may, peak: [early-june, late-july], last: early-september}}
    habitats: {{pond: main}}
    traits:
"""
GUISES = "    guises: [{id: any, title: either sex, age: mature, share: 1, evidence: sight}]\n"
