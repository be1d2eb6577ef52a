"""Open data as plain tables: individuals of known classes, with columns of words or of numbers.

penguins    344 penguins of three species; PyPI palmerpenguins (package MIT, data CC0).
            Gorman, Williams & Fraser 2014, PLoS ONE 9(3): e90081; Horst, Hill & Gorman 2020.
iris        150 irises of three species; in scikit-learn (BSD-3).
            Anderson 1936, Ann. Missouri Bot. Gard. 23:457–509; Fisher 1936, Ann. Eugenics 7:179–188.
wine        178 wines of three cultivars; in scikit-learn, from the UCI repository (CC BY 4.0).
            Aeberhard & Forina 1992. Nobody named a figure for it beforehand, so nothing could be fitted to one.
segments    3,010 kinds of speech sound × 24 features; PyPI panphon (MIT).
            Mortensen et al. 2016, COLING 2016: 3475–3484.

The first three have individuals and are for accuracy. The last has none, but kinds that may differ in one feature
only and cells that do not apply: a taxon × character matrix of real shape, for scale. Only the data files of these
packages are read; none of their code is run. `python tests/open_data/full.py` measures everything that
docs/open-data.md says.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

Value = str | float | None


class Table(NamedTuple):
    """`rows[i][c]` is what individual i shows in column c: a word, a number, or None where nothing was noted."""

    name: str
    columns: tuple[str, ...]
    rows: list[list[Value]]
    classes: list[str]

    def is_number(self, column: int) -> bool:
        """True for a column of numbers."""
        return all(not isinstance(row[column], str) for row in self.rows)


def penguins() -> Table:
    """344 penguins of three species: island, sex and four measurements; the year is not a trait and left out."""
    numbers = ("bill_length_mm", "bill_depth_mm", "flipper_length_mm", "body_mass_g")
    columns = ("island", "sex", *numbers)
    with _file_of("palmerpenguins", "data/penguins.csv").open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    rows = [[_value(row[column], column in numbers) for column in columns] for row in found]
    return Table("penguins", columns, rows, [row["species"] for row in found])


def iris() -> Table:
    """150 irises of three species, four measurements in centimetres."""
    from sklearn.datasets import load_iris

    data = load_iris()
    names = tuple(name.removesuffix(" (cm)").replace(" ", "_") for name in data.feature_names)
    classes = [str(data.target_names[one]) for one in data.target]
    return Table("iris", names, [[float(value) for value in row] for row in data.data], classes)


def wine() -> Table:
    """178 wines of three cultivars, thirteen measurements."""
    from sklearn.datasets import load_wine

    data = load_wine()
    rows = [[float(value) for value in row] for row in data.data]
    return Table("wine", tuple(data.feature_names), rows, [str(data.target_names[one]) for one in data.target])


def segments() -> Table:
    """Speech sounds by articulatory features: +, −, or 0 for a feature that does not apply; each kind once."""
    with _file_of("panphon", "data/ipa_all.csv").open(encoding="utf-8", newline="") as file:
        head, *found = csv.reader(file)
    kinds: dict[tuple[str, ...], str] = {}
    for name, *features in found:
        kinds.setdefault(tuple(features), name)
    return Table("segments", tuple(head[1:]), [list(features) for features in kinds], list(kinds.values()))


def _file_of(package: str, name: str) -> Path:
    """A data file of an installed package, found without importing it."""
    spec = find_spec(package)
    assert spec is not None, f"{package} is in the tests extra of pyproject.toml"
    assert spec.submodule_search_locations
    return Path(spec.submodule_search_locations[0]) / name


def _value(text: str, number: bool) -> Value:
    if text in ("", "NA"):
        return None
    return float(text) if number else text


def classes_of(table: Table) -> Sequence[str]:
    """The classes in the order of their first individual."""
    return tuple(dict.fromkeys(table.classes))
