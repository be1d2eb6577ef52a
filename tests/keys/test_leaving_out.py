"""A key without a species is the key its authors would have written without it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from made_key import EXEMPLUM, PALUDULA, write_key
from reedmace.keys.cache import load_key
from reedmace.keys.leaving_out import without
from reedmace.keys.model import NOT_KNOWN, Character, Key

# The second species' spur and wings are not known, so that they are borrowed from the first or from the whole key.
GAPPED = EXEMPLUM.replace("      wings-at-rest: {closed: 0.9, half-open: 0.1}\n", "").replace(
    "      spur: absent\n", ""
)


def told(character: Character, guise: int) -> object:
    """What the key says of a guise, wherever its cells are kept."""
    cell = character.column[guise]
    return tuple(round(value, 7) for value in character.cells[cell]) if cell >= 0 else cell


@pytest.mark.parametrize("exemplum", [EXEMPLUM, GAPPED], ids=["all known", "with gaps"])
@pytest.mark.parametrize("name", ["Exemplum primum", "Paludula lata"])
def test_leaving_out_gives_what_reading_the_files_without_it_gives(tmp_path: Path, exemplum: str, name: str) -> None:
    """Cells, borrowed ones too, look-alikes, groups: as if it had never been described."""
    whole = load_key(write_key(tmp_path / "whole", {"species/exemplum.yaml": exemplum}), None)
    left = without(whole, [name])
    first, second = exemplum.index("  - name: Exemplum primum"), exemplum.index("  - name: Exemplum alterum")
    if name == "Paludula lata":
        files: dict[str, str | None] = {"species/exemplum.yaml": exemplum, "species/paludula.yaml": None}
    else:
        rest = exemplum[:first] + exemplum[second:]
        rest = re.sub(r"    lookalikes:\n.*Exemplum primum.*\n", "", rest)
        files = {"species/exemplum.yaml": rest, "species/paludula.yaml": PALUDULA}
    from made_key import KEY

    pair = next(line for line in KEY.splitlines() if "first-or-second" in line)
    if name != "Paludula lata":
        files["key.yaml"] = KEY.replace(f"groups:\n{pair}\n", "")
    written = load_key(write_key(tmp_path / "written", files), None)
    assert [species.name for species in left.species] == [species.name for species in written.species]
    assert left.guises == written.guises
    for one, other in zip(left.species, written.species, strict=True):
        assert one._replace(text="") == other._replace(text="")
        mine, theirs = json.loads(one.text), json.loads(other.text)
        assert mine["lookalikes"] == theirs["lookalikes"]
    for one, other in zip(left.characters, written.characters, strict=True):
        assert [told(one, g) for g in range(len(left.guises))] == [told(other, g) for g in range(len(left.guises))]
        assert [cell == NOT_KNOWN or cell >= one.described for cell in one.column] == [
            cell == NOT_KNOWN or cell >= other.described for cell in other.column
        ]
    mine = {(group.rank, group.title, group.members) for group in left.groups}
    assert {(group.rank, group.title, group.members) for group in written.groups} == mine


def test_no_look_alike_points_to_a_species_that_is_gone(key: Key) -> None:
    """Every species of the shipped key in turn: numbers are those of the smaller key."""
    for gone in key.species:
        left = without(key, [gone.name])
        assert len(left.species) == len(key.species) - 1
        for index, species in enumerate(left.species):
            assert species.index == index
            assert all(left.guises[guise].species == index for guise in species.guises)
            for other in species.lookalikes:
                assert other.name != gone.name
                assert other.species is None or left.species[other.species].name == other.name
            for naming in species.named_by:
                assert any(other.species == index for other in left.species[naming].lookalikes)


def test_nothing_is_left_of_a_key_without_its_only_species(made_key: Key) -> None:
    with pytest.raises(ValueError, match="a key needs a species"):
        without(made_key, [species.name for species in made_key.species])
