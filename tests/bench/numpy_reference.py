"""Look-next's mathematics in numpy: the posterior with echoes, and the expected information of every character.

Two engines: `NumpyEngine` for any key, and `MatrixEngine`, as fast as numpy can be, for keys of one guise a species
without echoes, where everything is four products of a vector with a matrix. Written apart from the engine, from
docs/method.md, to compare speed and values. Takes the engine's readings as arrays; everything after them is worked
out here.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from reedmace.scoring.tables import Tables

Array = NDArray[np.float64]


class NumpyEngine:
    """Arrays of a key: readings[c] is guises × states, `onehot` guises × species."""

    def __init__(self, tables: Tables) -> None:
        key = tables.key
        self.tables = tables
        made = [tables.readings(character) for character in key.characters]
        self.states = max(reading.count for reading in made)
        self.readings: Array = np.zeros((len(made), len(key.guises), self.states))
        self.seeable: Array = np.zeros((len(made), len(key.guises)))
        for index, reading in enumerate(made):
            rows = np.array(reading.every_row())[reading.row_of]
            self.readings[index, :, : rows.shape[1]] = rows
            self.seeable[index] = reading.seeable
        self.visible: Array = np.array([character.visible for character in key.characters])
        self.onehot: Array = np.zeros((len(key.guises), len(key.species)))
        for guise, made_of in enumerate(key.guises):
            self.onehot[guise, made_of.species] = 1.0
        self.starts = np.flatnonzero(np.diff([guise.species for guise in key.guises], prepend=-1))
        share = np.array([guise.share for guise in key.guises])
        self.even: Array = share / len(key.species)
        self.q = tables.assumptions.echo_lapse

    def look(self, prior: Array, answers: list[tuple[int, tuple[int, ...]]]) -> tuple[Array, Array]:
        """Posterior over guises, and the expected drop in species entropy for every character."""
        key = self.tables.key
        groups: dict[Any, Array] = {}
        logs = np.zeros(len(prior))
        for character, states in answers:
            likelihood = np.log(self.readings[character][:, list(states)].sum(axis=1))
            echo = key.characters[character].echo
            if echo is None:
                logs += likelihood
            else:
                groups[echo] = groups.get(echo, 0.0) + likelihood
        own: dict[Any, Array] = {}
        lapsed: dict[Any, Array] = {}
        for echo, likelihood in groups.items():
            product = np.exp(likelihood)
            lapse = self.q * (self.even * product).sum()
            mixed = (1 - self.q) * product + lapse
            logs += np.log(mixed)
            own[echo] = (1 - self.q) * product / mixed
            lapsed[echo] = self.even * product / (self.even * product).sum()
        joint = np.log(prior) + logs
        after = np.exp(joint - joint.max())
        after /= after.sum()
        readings = self.readings.copy()
        for index, character in enumerate(key.characters):
            if character.echo is not None:
                kept = own.get(character.echo, np.full(len(prior), 1 - self.q))
                average = lapsed.get(character.echo, self.even) @ self.readings[index]
                readings[index] = kept[:, None] * self.readings[index] + (1 - kept)[:, None] * average
        weighted = after[None, :, None] * readings
        # Guises of one species stand together, so that summing them to species is one reduction.
        species = np.add.reduceat(weighted, self.starts, axis=1).transpose(0, 2, 1)
        seen = (weighted * self.seeable[:, :, None]).sum(axis=1)
        now = _entropy(after @ self.onehot)
        total = species.sum(axis=2, keepdims=True)
        safe = np.where(total > 0, total, 1.0)
        entropy = _entropy(species / safe)
        return after, self.visible * (seen * (now - entropy)).sum(axis=1)


class MatrixEngine:
    """A key of one guise a species without echoes, as one matrix: guises × (characters × states)."""

    def __init__(self, tables: Tables) -> None:
        key = tables.key
        assert len(key.guises) == len(key.species)
        assert not any(character.echo for character in key.characters)
        made = [tables.readings(character) for character in key.characters]
        self.states = max(reading.count for reading in made)
        self.readings: Array = np.zeros((len(key.guises), len(made), self.states))
        self.seeable: Array = np.zeros((len(key.guises), len(made)))
        for index, reading in enumerate(made):
            rows = np.array(reading.every_row())[reading.row_of]
            self.readings[:, index, : rows.shape[1]] = rows
            self.seeable[:, index] = reading.seeable
        self.visible: Array = np.array([character.visible for character in key.characters])
        self.flat: Array = self.readings.reshape(len(key.guises), -1)
        self.bits: Array = self.flat * np.log2(np.where(self.flat > 0, self.flat, 1.0))
        # What may be reported but not seen is little: the guises to which a character does not apply.
        self.seen: Array = (self.readings * self.seeable[:, :, None]).reshape(len(key.guises), -1)

    def look(self, prior: Array, answers: list[tuple[int, tuple[int, ...]]]) -> tuple[Array, Array]:
        """As `NumpyEngine.look`."""
        logs = np.log(prior)
        for character, states in answers:
            logs += np.log(self.readings[:, character, list(states)].sum(axis=1))
        after = np.exp(logs - logs.max())
        after /= after.sum()
        own = after * np.log2(np.where(after > 0, after, 1.0))
        total = after @ self.flat
        whole = own @ self.flat + after @ self.bits
        seen = after @ self.seen
        safe = np.where(total > 0, total, 1.0)
        drop = seen * (-own.sum() - np.log2(safe) + whole / safe)
        return after, self.visible * drop.reshape(-1, self.states).sum(axis=1)


def _entropy(weights: Array) -> Array:
    """Bits along the last axis."""
    safe = np.where(weights > 0, weights, 1.0)
    return np.asarray(-(weights * np.log2(safe)).sum(axis=-1))
