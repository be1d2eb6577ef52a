"""Several species in one cell of names: no record is made of it, and the row comes back with what to do."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.tasks.sheets.names import read_name
from tasks.importing import Import, faulty

HEAD = "Date,Grid Ref,Species,No.\n"


@pytest.mark.parametrize(
    ("cell", "parts"),
    [
        ("Pale Rushlet, Great Boulderer", "Pale Rushlet  and  Great Boulderer"),
        ("Pale Rushlet & Great Boulderer", "Pale Rushlet  and  Great Boulderer"),
        ("Pale Rushlet and Misty Rushlet", "Pale Rushlet  and  Misty Rushlet"),
        ("Pale Rushlet; Misty Rushlet; Great Boulderer", "Pale Rushlet  and  Misty Rushlet  and  Great Boulderer"),
        ("3 Pale Rushlet, 2 Great Boulderer", "3 Pale Rushlet  and  2 Great Boulderer"),
        ("Pale Rushlet (3) + Great Boulderer (2)", "Pale Rushlet (3)  and  Great Boulderer (2)"),
        ("Tarnula pallida, Tarnula nebula, wombat", "Tarnula pallida  and  Tarnula nebula  and  wombat"),
    ],
)
def test_a_cell_that_names_several_is_told_as_such(tarn: Key, cell: str, parts: str) -> None:
    """That one of its names may have been meant for all of them would be wrong."""
    fault = read_name(tarn, cell)
    assert isinstance(fault, Fault)
    assert (fault.code, fault.said, fault.hint.partition(":  ")[2]) == ("several-names", cell, parts)


@pytest.mark.parametrize("cell", ["Rushlet, Pale", "wombat, vole", "Pale Rushlet, wombat, vole", "Pale Rushlet, Pale"])
def test_other_cells_are_none_of_several(tarn: Key, cell: str) -> None:
    """A name turned about is one, and of words that nobody knows nothing is said."""
    read = read_name(tarn, cell)
    assert not isinstance(read, Fault) or read.code == "unknown-name"


def test_a_stroke_between_insects_that_nobody_mixes_up_is_asked_about(bring: Import) -> None:
    """A list of what was there is no doubt between two; with "or" it is one."""
    done = bring(f"{HEAD}12/07/2026,SU 431 118,Pale Rushlet/Great Boulderer,1\n")
    [row] = faulty(done)
    assert (row["fault"], row["what to do"].rpartition("  ")[2]) == ("several-names", "Pale Rushlet or Great Boulderer")
    assert bring(f"{HEAD}12/07/2026,SU 431 118,Pale Rushlet or Great Boulderer,1\n").faulty == 0
    assert bring(f"{HEAD}12/07/2026,SU 431 118,Pale Rushlet/Misty Rushlet,1\n").faulty == 0
