"""Cells: what an author writes and which numbers the engine gets (docs/key-format.md, "What a cell can be")."""

from __future__ import annotations

from statistics import NormalDist
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.keys.authoring_characters import CharacterEntry
from reedmace.keys.cells import CellError, read_cell
from reedmace.keys.model import NOT_APPLICABLE, Key

BASE = {"title": "x", "question": "x", "help": "x", "part": "x", "effort": "look"}
RATES = {"missed": 0.1, "invented": 0.1}
COLOUR = CharacterEntry.model_validate(
    {
        **BASE,
        "id": "colour",
        "beginner": RATES,
        "practised": RATES,
        "states": tuple({"id": name, "title": name} for name in ("blue", "green", "red")),
    }
)
LENGTH = CharacterEntry.model_validate({**BASE, "id": "length", "kind": "number", "unit": "mm", "range": (15, 95)})


def refused(character: CharacterEntry, raw: Any) -> CellError:
    with pytest.raises(CellError) as caught:
        read_cell(character, raw)
    assert caught.value.hint
    return caught.value


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        ("green", (0, 1, 0)),
        (("blue", "red"), (0.5, 0, 0.5)),
        (("red",), (0, 0, 1)),
        (("blue", "blue"), (1, 0, 0)),
        ({"red": 0.2, "blue": 0.8}, (0.8, 0, 0.2)),
        ({"blue": 1}, (1, 0, 0)),
    ],
)
def test_a_cell_of_states_is_a_frequency_for_each_state(raw: Any, expected: tuple[float, ...]) -> None:
    assert read_cell(COLOUR, raw) == pytest.approx(expected)


def test_thirds_that_an_author_rounded_are_scaled_to_add_up_to_one() -> None:
    cell = read_cell(COLOUR, {"blue": 0.33, "green": 0.33, "red": 0.33})
    assert cell == pytest.approx((1 / 3, 1 / 3, 1 / 3), abs=1e-12)


@given(st.lists(st.integers(1, 100), min_size=1, max_size=3))
def test_frequencies_that_are_read_add_up_to_one(parts: list[int]) -> None:
    total = sum(parts)
    cell = read_cell(COLOUR, dict(zip(("blue", "green", "red"), (part / total for part in parts), strict=False)))
    assert cell is not None
    assert sum(cell) == pytest.approx(1)
    assert all(0 <= share <= 1 for share in cell)


@pytest.mark.parametrize("raw", [{"blue": 0.5, "red": 0.4}, {"blue": 0.9, "red": 0.2}, {"blue": 50, "red": 50}])
def test_frequencies_that_do_not_add_up_are_refused(raw: Any) -> None:
    assert refused(COLOUR, raw).code == "frequency-sum"


@pytest.mark.parametrize("raw", ["not-applicable"])
@pytest.mark.parametrize("character", [COLOUR, LENGTH])
def test_not_applicable_has_no_numbers(character: CharacterEntry, raw: str) -> None:
    assert read_cell(character, raw) is None


@pytest.mark.parametrize(
    ("raw", "inside"), [("blu", ()), (("blue", "blu"), (1,)), ({"blue": 0.5, "blu": 0.5}, ("blu",))]
)
def test_an_unknown_state_is_told_where_it_stands_with_the_nearest(raw: Any, inside: tuple[str | int, ...]) -> None:
    error = refused(COLOUR, raw)
    assert (error.code, error.inside) == ("unknown-state", inside)
    assert "blue" in error.hint


@pytest.mark.parametrize(
    "raw", [None, True, 1, (), {}, ("blue", 1), {"blue": "often"}, {"blue": 1.1, "red": -0.1}, {"blue": True}]
)
def test_what_is_no_cell_of_states_is_refused(raw: Any) -> None:
    assert refused(COLOUR, raw).code == "wrong-type"


@given(st.floats(15, 60), st.floats(0.1, 30))
def test_a_range_is_the_central_95_per_cent(low: float, width: float) -> None:
    """Checked against the standard library's normal distribution: 2.5 % lie below the range, 2.5 % above."""
    cell = read_cell(LENGTH, (low, low + width))
    assert cell is not None
    spread = NormalDist(*cell)
    assert spread.cdf(low) == pytest.approx(0.025, abs=1e-9)
    assert spread.cdf(low + width) == pytest.approx(0.975, abs=1e-9)


def test_a_mean_and_its_deviation_are_taken_as_they_are() -> None:
    assert read_cell(LENGTH, {"mean": 34, "sd": 1}) == (34.0, 1.0)


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        ((36, 33), "range-order"),
        ((33, 33), "range-order"),
        ({"mean": 34, "sd": 0}, "range-order"),
        ({"mean": 34, "sd": -1}, "range-order"),
        ((3.3, 3.6), "out-of-range"),
        ((330, 360), "out-of-range"),
        ((33,), "wrong-type"),
        ((33, 34, 35), "wrong-type"),
        (34, "wrong-type"),
        ("33-36", "wrong-type"),
        ((33, "36"), "wrong-type"),
        ((33, True), "wrong-type"),
        ({"mean": 34}, "wrong-type"),
        ({"mean": 34, "sd": 1, "n": 20}, "wrong-type"),
        ({"mean": 34, "sd": float("inf")}, "wrong-type"),
        ((33, float("nan")), "wrong-type"),
        ((33, 10**400), "wrong-type"),
        (None, "wrong-type"),
    ],
)
def test_a_measured_cell_that_cannot_be_is_refused(raw: Any, code: str) -> None:
    assert refused(LENGTH, raw).code == code


def column(key: Key, character: str) -> dict[str, tuple[float, ...] | int]:
    """The cell of every guise, by species' epithet and guise."""
    entry = key.character(character)
    return {
        f"{key.species[guise.species].name.split()[1]} {guise.id}": entry.cells[cell] if cell >= 0 else cell
        for guise, cell in zip(key.guises, entry.column, strict=True)
    }


def test_guises_inherit_their_species_traits_and_applies_rules_the_rest(made_key: Key) -> None:
    """The made key: tails are asked of Exemplum's males only; the spur makes no sense for Paludula."""
    assert column(made_key, "spur") == {
        "primum male": (0, 1),
        "primum female": (0, 1),
        "alterum male": (1, 0),
        "alterum female": (1, 0),
        "lata any": NOT_APPLICABLE,
    }
    assert column(made_key, "tail-colour") == {
        "primum male": (1, 0),
        "primum female": NOT_APPLICABLE,
        "alterum male": (0.5, 0.5),
        "alterum female": NOT_APPLICABLE,
        "lata any": NOT_APPLICABLE,
    }


def test_what_is_left_out_is_not_known_which_is_not_the_same(key: Key) -> None:
    """The shipped key holds both: values nobody wrote, and questions that make no sense."""
    columns = [(cell, character.described) for character in key.characters for cell in character.column]
    assert any(cell >= described for cell, described in columns), "borrowed from relatives"
    assert any(cell == NOT_APPLICABLE for cell, _ in columns)


def test_every_cell_of_the_shipped_key_is_a_distribution(key: Key) -> None:
    for character in key.characters:
        for cell in character.cells:
            if character.is_number:
                assert len(cell) == 2
                assert cell[1] > 0
            else:
                assert len(cell) == len(character.states)
                assert sum(cell) == pytest.approx(1)
                assert min(cell) >= 0
