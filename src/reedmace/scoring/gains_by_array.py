"""The sums of `gains` with numpy, for keys of thousands of species: the same figures, many times as fast.

numpy is an optional extra (`reedmace[numpy]`): only `gains` imports this module, and only when a key is big.
Guises are taken in an order of their own, those of one species together.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from reedmace.keys.model import Character, Key
from reedmace.scoring.channel import Readings
from reedmace.scoring.gains import Weights, echoes
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.tables import Tables

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]


class Order(NamedTuple):
    """The guises of the key, species by species: `starts` is where each species begins in `guises`."""

    guises: Numbers
    starts: Numbers


class Sheet(NamedTuple):
    """A character as arrays. `table` is reports × readings, the last reading where the character does not apply.

    `bits` is r log₂ r of it. `row_of` is the reading of each guise, `alike` that of each species; a species whose
    guises differ has none there (the number of readings), but its guises in `mixed`, each species from `starts` on.
    """

    table: Floats
    bits: Floats
    row_of: Numbers
    alike: Numbers
    mixed: Numbers
    starts: Numbers


class Sums(NamedTuple):
    """For each report: what is seen of the joint, all of it, and Σ j log₂ j."""

    seen: Floats
    total: Floats
    bits: Floats


class Lapse(NamedTuple):
    """An echo group as arrays: see `gains.Echo`."""

    answered: bool
    own: Floats
    lapsed: Floats


def gains(tables: Tables, after: Posterior, weighed: Weights, characters: Sequence[Character]) -> list[float]:
    """The gain of each character, in bits (see `gains.gains`)."""
    if tables.arrays is None:
        tables.arrays = (_order(tables.key), {})
    order: Order
    sheets: dict[int, Sheet]
    order, sheets = tables.arrays
    groups = {
        name: Lapse(bool(echo.answers), np.array(echo.own)[order.guises], np.array(echo.lapsed)[order.guises])
        for name, echo in echoes(tables, after).items()
    }
    guises = np.array(weighed.guises)[order.guises]
    species, bits = np.array(weighed.species), np.array(weighed.bits)
    found = []
    for character in characters:
        sheet = sheets.get(character.index)
        if sheet is None:
            sheet = sheets[character.index] = _sheet(tables.readings(character), order)
        lapse = groups.get(character.echo)
        if lapse is None:
            sums = _sums(sheet, guises, species, bits)
        elif lapse.answered:
            sums = _sums_with_echo(sheet, lapse, guises, order.starts)
        else:
            sums = _sums(_lapsing(sheet, lapse), guises, species, bits)
        total = np.where(sums.seen > 0, sums.total, 1.0)
        drop = sums.seen @ (weighed.now - np.log2(total) + sums.bits / total)
        found.append(character.visible * float(drop))
    return found


def _order(key: Key) -> Order:
    species = np.fromiter((guise.species for guise in key.guises), np.intp, len(key.guises))
    guises = np.argsort(species, kind="stable")
    return Order(guises, np.searchsorted(species[guises], np.arange(len(key.species))))


def _sheet(readings: Readings, order: Order) -> Sheet:
    nothing = np.array([readings.not_applicable])
    rows = [nothing]
    if readings.cells:
        cells = np.array(readings.cells)
        rows.insert(0, cells if readings.matrix is None else cells @ np.array(readings.matrix))
    table = np.ascontiguousarray(np.vstack(rows).T)
    row_of = np.array(readings.row_of, np.intp)[order.guises]
    lowest, highest = np.minimum.reduceat(row_of, order.starts), np.maximum.reduceat(row_of, order.starts)
    differing = lowest != highest
    alike = np.where(differing, table.shape[1], lowest)
    counts = np.diff(order.starts, append=len(row_of))
    mixed = np.flatnonzero(np.repeat(differing, counts))
    starts = np.cumsum(counts[differing]) - counts[differing]
    return Sheet(table, _x_log_x(table), row_of, alike, mixed, starts)


def _lapsing(sheet: Sheet, lapse: Lapse) -> Sheet:
    """What is read where an echo group says nothing yet: partly the row's own, partly the key's average."""
    own = lapse.own[0]
    table = own * sheet.table + (1 - own) * _average(sheet, lapse)[:, None]
    return sheet._replace(table=table, bits=_x_log_x(table))


def _average(sheet: Sheet, lapse: Lapse) -> Floats:
    return np.asarray(sheet.table @ np.bincount(sheet.row_of, lapse.lapsed, sheet.table.shape[1]))


def _sums(sheet: Sheet, guises: Floats, species: Floats, bits: Floats) -> Sums:
    count = sheet.table.shape[1]
    plain = np.bincount(sheet.alike, species, count + 1)[:count]
    own = np.bincount(sheet.alike, bits, count + 1)[:count]
    seen = sheet.table[:, :-1] @ plain[:-1]
    total = seen + sheet.table[:, -1] * plain[-1]
    whole = sheet.table @ own + sheet.bits @ plain
    if len(sheet.mixed):
        rows = sheet.row_of[sheet.mixed]
        more = _joined(guises[sheet.mixed] * sheet.table[:, rows], rows < count - 1, sheet.starts)
        return Sums(seen + more.seen, total + more.total, whole + more.bits)
    return Sums(seen, total, whole)


def _sums_with_echo(sheet: Sheet, lapse: Lapse, guises: Floats, starts: Numbers) -> Sums:
    """As `_sums` where an echo was answered: every guise reads in its own way."""
    joint = (guises * lapse.own) * sheet.table[:, sheet.row_of]
    joint += (guises * (1 - lapse.own)) * _average(sheet, lapse)[:, None]
    return _joined(joint, sheet.row_of < sheet.table.shape[1] - 1, starts)


def _joined(joint: Floats, seeable: NDArray[np.bool_], starts: Numbers) -> Sums:
    """Sums over guises (reports × guises), those of one species together from `starts` on."""
    of_species = joint if len(starts) == joint.shape[1] else np.add.reduceat(joint, starts, axis=1)
    return Sums(joint @ seeable, of_species.sum(axis=1), _x_log_x(of_species).sum(axis=1))


def _x_log_x(values: Floats) -> Floats:
    return np.asarray(values * np.log2(np.where(values > 0, values, 1.0)))
