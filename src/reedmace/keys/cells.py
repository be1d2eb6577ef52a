"""A cell as an author writes it → the numbers the engine uses.

A cell of states becomes one frequency per state, adding up to 1. A numeric cell becomes mean and standard
deviation: a published range is taken as the central 95 % of a normal distribution.
"""

from __future__ import annotations

from typing import Any

from reedmace.faults import did_you_mean
from reedmace.keys.authoring_characters import CharacterEntry

NOT_APPLICABLE = "not-applicable"
CENTRAL_95 = 1.959963984540054  # two-sided 95 % point of the standard normal distribution


class CellError(Exception):
    """What is wrong with a cell: code, message, hint and the part of its path that is at fault."""

    def __init__(self, code: str, message: str, hint: str, inside: tuple[str | int, ...] = ()) -> None:
        super().__init__(message)
        self.code, self.message, self.hint, self.inside = code, message, hint, inside


def read_cell(character: CharacterEntry, raw: Any) -> tuple[float, ...] | None:
    """The numbers of a cell, or None for not applicable. Raises `CellError`."""
    if raw == NOT_APPLICABLE:
        return None
    return _number(character, raw) if character.kind == "number" else _frequencies(character, raw)


def _frequencies(character: CharacterEntry, raw: Any) -> tuple[float, ...]:
    given = _weights(raw)
    ids = [state.id for state in character.states]
    for name, (_, inside) in given.items():
        if name not in ids:
            raise CellError(
                "unknown-state",
                f'The character "{character.id}" has no state "{name}".',
                did_you_mean(name, ids, f"its states are {', '.join(ids)}; or add one to it in characters.yaml"),
                inside,
            )
    total = sum(weight for weight, _ in given.values())
    if abs(total - 1) > 0.021:
        shares = ", ".join(f"{name}: {weight / total:.3g}" for name, (weight, _) in given.items())
        hint = (
            f"make them add up to 1:  {{{shares}}}"
            if len(given) > 1
            else "leave the number out: it is always this state"
        )
        raise CellError("frequency-sum", f"These frequencies add up to {total:g}.", hint)
    return tuple(given[name][0] / total if name in given else 0.0 for name in ids)


def _weights(raw: Any) -> dict[str, tuple[float, tuple[str | int, ...]]]:
    if isinstance(raw, str):
        return {raw: (1.0, ())}
    if isinstance(raw, tuple) and raw and all(isinstance(item, str) for item in raw):
        return {item: (1.0 / len(set(raw)), (index,)) for index, item in enumerate(raw)}
    if isinstance(raw, dict) and raw and all(_is_number(weight) and weight > 0 for weight in raw.values()):
        return {name: (float(weight), (name,)) for name, weight in raw.items()}
    raise CellError(
        "wrong-type",
        "A cell is a state, a list of states, or a map of states to frequencies.",
        "write  state   or  [state, state]   or  {state: 0.8, state: 0.2}",
    )


def _number(character: CharacterEntry, raw: Any) -> tuple[float, ...]:
    if isinstance(raw, tuple) and len(raw) == 2 and all(map(_is_number, raw)):
        low, high = raw
        if not low < high:
            raise CellError("range-order", "A range goes from smaller to larger.", f"write  [{high}, {low}]")
        if character.range and not (character.range[0] <= low and high <= character.range[1]):
            raise _outside(character, f"{low:g} to {high:g} {character.unit} reaches")
        mean, sd = (low + high) / 2, (high - low) / (2 * CENTRAL_95)
    elif isinstance(raw, dict) and set(raw) == {"mean", "sd"} and all(map(_is_number, raw.values())):
        mean, sd = float(raw["mean"]), float(raw["sd"])
        if sd <= 0:
            raise CellError("range-order", "A standard deviation is above 0.", "give the published one", ("sd",))
    else:
        raise CellError(
            "wrong-type",
            "A numeric cell is a range or a mean with its sd.",
            "write  [33, 36]  or  {mean: 34, sd: 1}",
        )
    assert character.range is not None
    if not character.range[0] <= mean <= character.range[1]:
        raise _outside(character, f"{mean:g} {character.unit} lies")
    return (mean, sd)


def _outside(character: CharacterEntry, what: str) -> CellError:
    assert character.range is not None
    low, high = character.range
    hint = f"the character allows {low:g} to {high:g} {character.unit}; mend the number, or widen  range  there"
    return CellError("out-of-range", f"{what} outside what this character allows.", hint)


def _is_number(value: Any) -> bool:
    # Nothing measured on an insect comes near the bound; beyond it sums would overflow.
    return isinstance(value, (int, float)) and not isinstance(value, bool) and -1e9 < value < 1e9
