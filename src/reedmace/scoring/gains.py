"""What a look promises: the expected drop in species entropy, in bits, if a mark is looked for and seen.

gain = v · Σ_k P(seen and reported k) · (H(species) − H(species | k)), v being how often the mark is seen at all. Where
it cannot apply nothing is learnt. With joint j(s, k) = Σ_g p(g) r(k | g) over the guises of s, H(species | k) is
log₂ J − Σ_s j log₂ j / J with J = Σ_s j(s, k). A species of weight w whose guises all read alike adds
r · w log₂ w + w · r log₂ r to the sum: so species that read alike are added up first, and only those whose guises
differ in this character are gone through one by one. That is what makes a key of ten thousand species bearable.

`gains_by_array` does the same sums with numpy, where it is installed and the key is big.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Hashable, Iterable, Sequence
from functools import cache
from itertools import accumulate
from math import exp, log, log2
from operator import itemgetter, mul
from typing import NamedTuple, TypeVar

from reedmace.keys.answers import Answer
from reedmace.keys.model import NOT_KNOWN, Character
from reedmace.scoring.channel import Readings
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.tables import Tables

LIVE = 1e-7  # guises below this share of the likeliest add nothing that shows
BIG = 100_000  # species in the running × characters from which numpy is worth its import
MANY = 400  # species up to which laying out all of them once pays, where thousands of answers follow
SPARSE = 8  # with fewer than one species in so many in the running, only those are gone through


class Weights(NamedTuple):
    """What is weighed: `guises` with those that do not show at 0, `species` likewise, `bits` w log₂ w of each species.

    `held` are the species above 0; `now` is their entropy.
    """

    guises: list[float]
    species: list[float]
    bits: list[float]
    held: list[int]
    now: float


class Echo(NamedTuple):
    """An echo group: how much of each guise's reading is its own, and where a lapse reads from.

    While nothing of the group was answered (no `answers`) every guise's share is the same.
    """

    answers: tuple[Answer, ...]
    own: list[float]
    lapsed: list[float]


Row = list[float]


class Part(NamedTuple):
    """Some guises of one species that read alike."""

    guises: tuple[int, ...]
    row: Row
    seeable: bool


class Alike(NamedTuple):
    """Species sorted by what is read of them: `pick` takes theirs from a list, one span of it for each reading.

    `columns[k]` and `bits[k]` hold r and r log₂ r of report k, reading by reading.
    """

    pick: Callable[[Sequence[float]], Sequence[float]]
    spans: list[tuple[int, int]]
    columns: list[Sequence[float]]
    bits: list[Sequence[float]]

    def sums(self, values: Sequence[float]) -> Sequence[float]:
        """The values of the species added up for each reading."""
        picked = self.pick(values)
        if len(picked) == len(self.spans):
            return picked
        return [sum(picked[start:end]) for start, end in self.spans]


class Layout(NamedTuple):
    """A character sorted by what is read of it: where it applies, where not, and the species whose guises differ."""

    seen: Alike
    hidden: Alike
    mixed: list[tuple[int, list[Part]]]


def weights(tables: Tables, guises: Sequence[float]) -> Weights:
    """Probabilities of guises, made ready; those that would not show are left out."""
    key = tables.key
    least = max(guises) * LIVE
    shown = [weight if weight > least else 0.0 for weight in guises]
    species = [0.0] * len(key.species)
    for guise, weight in zip(key.guises, shown, strict=True):
        species[guise.species] += weight
    bits = [weight * log2(weight) if weight > 0 else 0.0 for weight in species]
    held = sorted((s for s, weight in enumerate(species) if weight > 0), key=lambda s: -species[s])
    return Weights(shown, species, bits, held, -sum(bits))


def gains(tables: Tables, after: Posterior, weighed: Weights, characters: Sequence[Character]) -> list[float]:
    """The gain of each character, in bits, given what was answered."""
    if (tables.many or len(weighed.held) * len(characters) >= BIG) and _numpy_is_there():
        from reedmace.scoring.gains_by_array import gains as by_array

        return by_array(tables, after, weighed, characters)
    return plain_gains(tables, after, weighed, characters)


@cache
def _numpy_is_there() -> bool:
    from importlib.util import find_spec

    return find_spec("numpy") is not None


def plain_gains(tables: Tables, after: Posterior, weighed: Weights, characters: Sequence[Character]) -> list[float]:
    """As `gains`, always in plain Python."""
    groups = echoes(tables, after)
    count = len(weighed.species)
    sparse = (count > MANY or not tables.many) and len(weighed.held) * SPARSE < count
    found = []
    shown = [guise for one in weighed.held for guise in tables.key.species[one].guises if weighed.guises[guise] > 0]
    for character in characters:
        echo = groups.get(character.echo)
        if sparse:
            if _tells_nothing(character, echo, shown):
                found.append(0.0)
                continue
            layout = _laid_out(tables, character, echo, weighed.held)
        else:
            # The layout of all species depends on nothing but the answers of the character's own echo group.
            answers = echo.answers if echo is not None else ()
            kept = tables.layouts.get(character.index)
            if kept is None or kept[0] != answers:
                kept = tables.layouts[character.index] = (
                    answers,
                    _laid_out(tables, character, echo, range(count)),
                )
            layout = kept[1]
        found.append(character.visible * _gain(layout, weighed))
    return found


def _tells_nothing(character: Character, echo: Echo | None, guises: Sequence[int]) -> bool:
    """True where all these guises read alike, which for a few of them is the common case and quickly seen."""
    cell = character.column[guises[0]]
    if cell == NOT_KNOWN or any(character.column[guise] != cell for guise in guises):
        return False
    return echo is None or not echo.answers or len({echo.own[guise] for guise in guises}) == 1


def _laid_out(tables: Tables, character: Character, echo: Echo | None, species: Iterable[int]) -> Layout:
    if echo is not None and echo.answers:
        return _answered(tables, character, echo, species)
    return _unanswered(tables, character, echo, species)


def echoes(tables: Tables, after: Posterior) -> dict[str | None, Echo]:
    """Every echo group of the key, with the share of a further answer that would not be an echo."""
    key = tables.key
    q = tables.assumptions.echo_lapse
    named = {character.echo for character in key.characters if character.echo}
    if q <= 0 or not named:
        return {}
    even = [guise.share / len(key.species) for guise in key.guises]
    unanswered = Echo((), [1 - q] * len(even), even)
    found: dict[str | None, Echo] = dict.fromkeys(named, unanswered)
    for clue in after.clues:
        if clue.lapse is None:
            continue
        kept = log(1 - q)
        own = [exp(kept + value - whole) for value, whole in zip(clue.own, clue.logs, strict=True)]
        best = max(clue.own)
        read = [share * exp(value - best) for share, value in zip(even, clue.own, strict=True)]
        total = sum(read)
        found[key.characters[clue.answers[0].character].echo] = Echo(
            clue.answers, own, [value / total for value in read]
        )
    return found


def _unanswered(tables: Tables, character: Character, echo: Echo | None, species: Iterable[int]) -> Layout:
    """The layout of a character whose echo group, if any, says nothing yet: what is read depends on the row alone."""
    readings = tables.readings(character)
    if echo is None:
        return _lay_out(tables, readings, species, readings.row_of, readings.row)
    average = readings.average(echo.lapsed)
    own = echo.own[0]
    return _lay_out(
        tables, readings, species, readings.row_of, lambda number: _lapsing(readings.row(number), own, average)
    )


def _answered(tables: Tables, character: Character, echo: Echo, species: Iterable[int]) -> Layout:
    """The layout where echoes were answered: guises read alike if they have the same row and fit the answers alike."""
    readings = tables.readings(character)
    average = readings.average(echo.lapsed)
    read = list(zip(readings.row_of, echo.own, strict=True))
    return _lay_out(tables, readings, species, read, lambda one: _lapsing(readings.row(one[0]), one[1], average))


def _lapsing(row: Row, own: float, average: Row) -> Row:
    return [own * value + (1 - own) * lapsed for value, lapsed in zip(row, average, strict=True)]


Read = TypeVar("Read", bound=Hashable)


def _lay_out(
    tables: Tables, readings: Readings, species: Iterable[int], read: Sequence[Read], row: Callable[[Read], Row]
) -> Layout:
    """Sort species by what is read of each guise (`read`); `row` gives the probabilities of the reports for it."""
    key = tables.key
    seen: dict[Read, list[int]] = {}
    hidden: dict[Read, list[int]] = {}
    mixed = []
    for one in species:
        guises = key.species[one].guises
        first = read[guises[0]]
        if len(guises) > 1 and any(read[guise] != first for guise in guises):
            parts: dict[Read, list[int]] = {}
            for guise in guises:
                parts.setdefault(read[guise], []).append(guise)
            mixed.append(
                (one, [Part(tuple(same), row(what), readings.seeable[same[0]]) for what, same in parts.items()])
            )
        elif readings.seeable[guises[0]]:
            seen.setdefault(first, []).append(one)
        else:
            hidden.setdefault(first, []).append(one)
    return Layout(_alike(readings.count, seen, row), _alike(readings.count, hidden, row), mixed)


def _alike(count: int, sorted_species: dict[Read, list[int]], row: Callable[[Read], Row]) -> Alike:
    order = [species for same in sorted_species.values() for species in same]
    ends = list(accumulate(map(len, sorted_species.values())))
    rows = [row(what) for what in sorted_species]
    columns: list[Sequence[float]] = [array("d", [one[k] for one in rows]) for k in range(count)]
    bits: list[Sequence[float]] = [
        array("d", [value * log2(value) if value > 0 else 0.0 for value in column]) for column in columns
    ]
    return Alike(_picking(order), list(zip([0, *ends], ends, strict=False)), columns, bits)


def _picking(order: list[int]) -> Callable[[Sequence[float]], Sequence[float]]:
    """Take the values at these places: `itemgetter`, which has a meaning of its own for fewer than two."""
    if len(order) > 1:
        return itemgetter(*order)
    return lambda values: [values[one] for one in order]


def _gain(layout: Layout, weighed: Weights) -> float:
    """Expected drop in species entropy if the mark is looked for and seen where it applies, in bits."""
    seen, hidden = layout.seen, layout.hidden
    plain, own = seen.sums(weighed.species), seen.sums(weighed.bits)
    unseen, unseen_own = hidden.sums(weighed.species), hidden.sums(weighed.bits)
    mixed = _mixed(layout.mixed, weighed.species, weighed.guises, len(seen.columns))
    drop = 0.0
    for k, (more_seen, more, more_bits) in enumerate(mixed):
        visible = _dot(plain, seen.columns[k]) + more_seen
        if visible <= 0:
            continue
        total = visible + _dot(unseen, hidden.columns[k]) + more
        bits = _dot(own, seen.columns[k]) + _dot(plain, seen.bits[k]) + more_bits
        bits += _dot(unseen_own, hidden.columns[k]) + _dot(unseen, hidden.bits[k])
        drop += visible * (weighed.now - log2(total) + bits / total)
    return drop


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return float(sum(map(mul, one, other)))


def _mixed(
    mixed: list[tuple[int, list[Part]]], shares: Sequence[float], guises: Sequence[float], count: int
) -> list[tuple[float, float, float]]:
    """For each report what species with differing guises add: to what is seen, to what is not, and to Σ j log₂ j."""
    seen, unseen, bits = [0.0] * count, [0.0] * count, [0.0] * count
    for species, parts in mixed:
        if not shares[species]:
            continue
        joint = [0.0] * count
        for part in parts:
            weight = sum([guises[guise] for guise in part.guises])
            if weight:
                to = seen if part.seeable else unseen
                for k, value in enumerate(part.row):
                    chance = weight * value
                    to[k] += chance
                    joint[k] += chance
        for k, chance in enumerate(joint):
            if chance > 0:
                bits[k] += chance * log2(chance)
    return list(zip(seen, unseen, bits, strict=True))
