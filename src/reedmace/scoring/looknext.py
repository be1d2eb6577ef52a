"""Look next: the characters worth looking at now, by expected information about the species per unit of effort.

The information is worked out in `gains`. When one name is likely but a look-alike is not yet told apart, or two
species hold nearly all, only those are weighed against each other.
"""

from collections.abc import Sequence
from math import exp, log2
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Character, Key
from reedmace.scoring.assumptions import EFFORT
from reedmace.scoring.gains import gains, weights
from reedmace.scoring.left import left_to_ask
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.reach import can_change
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import NARROWED, OPEN, SETTLED, Verdict, only_outside_bars, ranked

NEARLY_ALL = 0.9  # two species holding this much are weighed against each other alone
PROTECTED = 0.01  # a protected species above this is never to be taken in the hand
MATTERS = 1.15  # sexing first when it makes the best other look this much better

# What the list of looks ends with.
NOTHING_VISIBLE = "nothing visible"
NOTHING = "nothing"


class Look(NamedTuple):
    """One character worth a look. `gain` in bits, `effort` in glances; `between` are the species it tells apart.

    `photograph` says what to photograph instead of taking the insect in the hand.
    """

    character: int
    gain: float
    effort: float
    between: tuple[int, ...]
    photograph: str


class LookNext(NamedTuple):
    """The looks, best first, and why there are no more: `nothing visible`, `nothing`, or None."""

    looks: tuple[Look, ...]
    end: str | None


class Focus(NamedTuple):
    """What is weighed: species that count, and the guises' probabilities among them (adding up to 1)."""

    species: tuple[int, ...]
    guises: list[float]


def look_next(tables: Tables, after: Posterior, verdict: Verdict, answers: Sequence[Answer]) -> LookNext:
    """What to look at next. Characters answered, or tried without telling, are not offered again.

    Nor are those of what was said not to be there.
    """
    key = tables.key
    left = left_to_ask(key, answers)
    deciding = _deciding_others(verdict, left)
    if verdict.word == SETTLED:
        return LookNext(tuple(_sexing(tables, after, verdict, left)), None)
    focus = _focus(tables, after, verdict)
    end = None
    if len(focus.species) > 1:
        visible = [character for character in left if character.effort != "hand"]
        if not can_change(tables, after, verdict, left):
            end = NOTHING
        elif not can_change(tables, after, verdict, visible):
            end = NOTHING_VISIBLE
    elif not deciding:
        end = NOTHING
    if end == NOTHING:
        return LookNext((), end)
    if end == NOTHING_VISIBLE:
        left = [character for character in left if character.effort == "hand"]
    looks = _looks(tables, after, focus, left)
    # Rounded, so that the last digits, which hang on how it was worked out, decide nothing.
    looks.sort(key=lambda look: (-round(look.gain / look.effort, 9), look.character))
    # Nobody who has said nothing yet is sent to look closely at the end of the abdomen.
    sexing = _sexing_first(tables, after, focus, looks) if answers else []
    offered = [*sexing, *deciding, *(look for look in looks if look not in sexing)]
    unique = {look.character: look for look in reversed(offered)}
    ordered = sorted(unique.values(), key=offered.index)
    return LookNext(tuple(ordered), end)


def gains_over_all(tables: Tables, after: Posterior, answers: Sequence[Answer]) -> list[Look]:
    """Every look left, by what it is expected to tell of all species together, in the key's order.

    What an exhaustive greedy search would go by: no focus on a few, no thought of effort or of sexing first.
    """
    left = left_to_ask(tables.key, answers)
    return _looks(tables, after, Focus(tuple(range(len(tables.key.species))), after.guises), left)


def _focus(tables: Tables, after: Posterior, verdict: Verdict) -> Focus:
    key = tables.key
    ranking = ranked(after)
    best = ranking[0]
    capping = [rival.species for rival in verdict.rivals if rival.caps and rival.species is not None]
    if only_outside_bars(tables, after, verdict):
        return _against_kin(tables, after, best)
    if after.species[best] >= tables.assumptions.settle and verdict.word in (NARROWED, OPEN):
        # The name is likely and only the look-alikes stand in its way: weigh them as equals.
        chosen = (best, *capping)
        chances = [
            probability / after.species[guise.species]
            if guise.species in chosen and after.species[guise.species]
            else 0.0
            for guise, probability in zip(key.guises, after.guises, strict=True)
        ]
    elif after.species[best] + after.species[ranking[1]] >= NEARLY_ALL if len(ranking) > 1 else False:
        chosen = (best, ranking[1])
        chances = [
            probability if guise.species in chosen else 0.0
            for guise, probability in zip(key.guises, after.guises, strict=True)
        ]
    else:
        chosen = tuple(ranking)
        chances = after.guises
    total = sum(chances)
    return Focus(chosen, [chance / total for chance in chances])


def _against_kin(tables: Tables, after: Posterior, best: int) -> Focus:
    """The likeliest species, weighed as an equal against all whose kin it might be instead."""
    key = tables.key
    highest = max(after.kin, default=0.0)
    likeness = [exp(value - highest) for value in after.kin] or [1.0] * len(key.guises)
    kin = [
        0.0 if guise.species == best else share * like
        for guise, share, like in zip(key.guises, tables.of_genera, likeness, strict=True)
    ]
    total, whole = sum(kin) or 1.0, after.species[best]
    chances = [
        own / whole if guise.species == best else share / total
        for guise, own, share in zip(key.guises, after.guises, kin, strict=True)
    ]
    every = sum(chances)
    return Focus(tuple(range(len(key.species))), [chance / every for chance in chances])


def _looks(tables: Tables, after: Posterior, focus: Focus, left: Sequence[Character]) -> list[Look]:
    key = tables.key
    weighed = weights(tables, focus.guises)
    handled = any(species.protected and after.species[species.index] > PROTECTED for species in key.species)
    between = tuple(weighed.held) if len(focus.species) <= 3 else ()
    looks = []
    for character, gain in zip(left, gains(tables, after, weighed, left), strict=True):
        if gain > 1e-9:
            photograph = character.photograph if handled or character.effort == "hand" else ""
            looks.append(Look(character.index, gain, EFFORT[character.effort], between, photograph))
    return looks


def _deciding_others(verdict: Verdict, left: Sequence[Character]) -> list[Look]:
    """Marks that decide against look-alikes the key does not describe, easiest first."""
    wanted: dict[int, Look] = {}
    for rival in verdict.rivals:
        if not rival.caps or rival.species is not None or rival.entry is None or verdict.word == SETTLED:
            continue
        names = rival.entry.decided_by
        for character in left:
            if character.id in names and character.index not in wanted:
                effort = EFFORT[character.effort]
                photograph = character.photograph if character.effort == "hand" else ""
                wanted[character.index] = Look(character.index, 0.0, effort, verdict.members[:1], photograph)
    if verdict.word != NARROWED or len(verdict.members) > 1:
        return []  # first tell the described ones apart
    return sorted(wanted.values(), key=lambda look: (look.effort, look.character))


def _sexing(tables: Tables, after: Posterior, verdict: Verdict, left: Sequence[Character]) -> list[Look]:
    """Once the species is settled: marks that say its sex, while that is open."""
    key = tables.key
    sexes = {key.guises[guise].sex for guise in key.species[verdict.members[0]].guises}
    if verdict.sex is not None or len(sexes) < 2:
        return []
    share = _share_of(key, after.guises, verdict.members[0])
    looks = []
    for character in left:
        if character.sexing:
            readings = tables.readings(character)
            by_sex: dict[str | None, list[float]] = {}
            for guise, weight in share.items():
                row = readings.row(readings.row_of[guise])
                parts = by_sex.setdefault(key.guises[guise].sex, [0.0] * len(row))
                for k, value in enumerate(row):
                    parts[k] += weight * value
            gain = _information(list(by_sex.values())) * character.visible
            if gain > 0.02:
                looks.append(Look(character.index, gain, EFFORT[character.effort], verdict.members[:1], ""))
    return sorted(looks, key=lambda look: (-look.gain / look.effort, look.character))


def _share_of(key: Key, guises: Sequence[float], species: int) -> dict[int, float]:
    whole = sum(guises[guise] for guise in key.species[species].guises)
    return {guise: guises[guise] / whole for guise in key.species[species].guises}


def _information(joint: list[list[float]]) -> float:
    """Mutual information of a joint table, in bits."""
    columns = [sum(column) for column in zip(*joint, strict=True)]
    rows = [sum(row) for row in joint]
    return _entropy(rows) + _entropy(columns) - _entropy([value for row in joint for value in row])


def _entropy(masses: Sequence[float]) -> float:
    return -sum(mass * log2(mass) for mass in masses if mass > 0)


def _sexing_first(tables: Tables, after: Posterior, focus: Focus, looks: list[Look]) -> list[Look]:
    """The best sexing mark, when knowing the sex would make some other look clearly better."""
    key = tables.key
    marks = [look for look in looks if key.characters[look.character].sexing]
    others = [look for look in looks if not key.characters[look.character].sexing][:4]
    if not marks or not others:
        return []
    by_sex = {
        sex: [w if g.sex == sex else 0.0 for g, w in zip(key.guises, focus.guises, strict=True)]
        for sex in ("male", "female")
    }
    chances = {sex: sum(shares) for sex, shares in by_sex.items()}
    if min(chances.values()) < 0.1:
        return []
    characters = [key.characters[look.character] for look in others]
    foreseen = 0.0
    for sex, shares in by_sex.items():
        narrowed = Focus(focus.species, [share / chances[sex] for share in shares])
        best = max((look.gain / look.effort for look in _looks(tables, after, narrowed, characters)), default=0.0)
        foreseen += chances[sex] * best
    plain = max(look.gain / look.effort for look in others)
    return marks[:1] if foreseen > MATTERS * plain else []
