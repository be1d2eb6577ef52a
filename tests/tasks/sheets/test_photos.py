"""What a sheet says of photographs: which files, or only whether there are some."""

from __future__ import annotations

from pathlib import Path

import pytest

from reedmace.tasks.sheets.photos import read_pictures
from tasks.importing import Import, kept

HEAD = "Date,Grid Ref,Species,Count,Photo,Evidence,Comments"
ROW = "\n12/07/2026,SU 431 118,Pale Rushlet,{},{},{},{}"


@pytest.mark.parametrize("cell", ["No", "n", "none", "0", "-", "–", "N/A", "no photo", "FALSE"])
def test_no_photograph_is_none(bring: Import, tmp_path: Path, cell: str) -> None:
    """Neither a file of that name, nor evidence."""
    bring(HEAD + ROW.format(1, cell, "", ""))
    [(one, _)] = kept(tmp_path)
    assert (one.photos, one.evidence, one.remarks) == ((), None, "")


@pytest.mark.parametrize(
    ("cell", "remarks"), [("y", ""), ("Yes", ""), ("✓", ""), ("3", "photographs: 3"), ("photo", "")]
)
def test_a_photograph_that_is_not_named_is_the_evidence(bring: Import, tmp_path: Path, cell: str, remarks: str) -> None:
    """And no file called y."""
    bring(HEAD + ROW.format(1, cell, "", ""))
    [(one, _)] = kept(tmp_path)
    assert (one.photos, one.evidence, one.remarks) == ((), "photo", remarks)


def test_other_evidence_stays_beside_a_photograph_that_is_not_named(bring: Import, tmp_path: Path) -> None:
    """The remark has the photograph then."""
    bring(HEAD + ROW.format(1, "y", "in hand", "by the sluice") + ROW.format(2, "2", "in hand", ""))
    said = {one.count: (one.evidence, one.remarks) for one, _ in kept(tmp_path)}
    assert said == {1: ("in hand", "by the sluice; photographed"), 2: ("in hand", "photographs: 2")}


@pytest.mark.parametrize(
    ("cell", "names"),
    [
        ("IMG_2.jpg, IMG_3.jpg", ["IMG_2.jpg", "IMG_3.jpg"]),
        ("IMG_2.JPG;IMG_3.heic ; a.png", ["IMG_2.JPG", "IMG_3.heic", "a.png"]),
        ("one.jpg two.jpg", ["one.jpg", "two.jpg"]),
        ("by the reeds, late.jpg", ["by the reeds, late.jpg"]),
        ("the wing.jpg, side view.jpg", ["the wing.jpg", "side view.jpg"]),
        ("wing, IMG_3", ["wing, IMG_3"]),
        ("a.jpg | y | no | b.jpg", ["a.jpg", "b.jpg"]),
        ("DSC00123", ["DSC00123"]),
        ("?", []),
    ],
)
def test_several_files_in_one_cell_are_several(cell: str, names: list[str]) -> None:
    """Where each part is the name of a picture; else the text is one name, as it was typed."""
    read = read_pictures(cell, "")
    assert [photo.path for photo in read.photos] == names
    assert read.remarks == ("photographs: ?" if cell == "?" else "")
