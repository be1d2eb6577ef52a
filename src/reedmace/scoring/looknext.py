"""Look next: the characters worth looking at now, by expected information about the species per unit of effort.

gain = Σ_k P(seen and reported k) · (H(species) − H(species | k)), in bits: the expected drop in species entropy,
where a mark that cannot be seen on a guise answers "can't tell" and changes nothing. When one name is likely but a
look-alike is not yet told apart, or two species hold nearly all, only those are weighed against each other.
"""

from collections.abc import Iterable, Sequence
from math import exp, inf, log, log2
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Character, Key
from reedmace.scoring.assumptions import EFFORT
from reedmace.scoring.lookalikes import DECIBANS, best_guise
from reedmace.scoring.posterior import Posterior, log_sum
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import NARROWED, OPEN, SETTLED, Verdict, ranked

NEARLY_ALL = 0.9  # two species holding this much are weighed against each other alone
PROTECTED = 0.01  # a protected species above this is never to be taken in the hand
LIVE = 1e-7  # guises below this share of the likeliest add nothing that shows
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
    """What to look at next. Characters answered, or tried without telling, are not offered again."""
    key = tables.key
    done = {answer.character for answer in answers}
    left = [character for character in key.characters if character.index not in done]
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
    looks = _gains(tables, after, focus, left)
    looks.sort(key=lambda look: (-look.gain / look.effort, look.character))
    sexing = _sexing_first(tables, after, focus, looks)
    offered = [*sexing, *deciding, *(look for look in looks if look not in sexing)]
    unique = {look.character: look for look in reversed(offered)}
    ordered = sorted(unique.values(), key=offered.index)
    return LookNext(tuple(ordered), end)


def gains_over_all(tables: Tables, after: Posterior, answers: Sequence[Answer]) -> list[Look]:
    """Every look left, by what it is expected to tell of all species together, in the key's order.

    What an exhaustive greedy search would go by: no focus on a few, no thought of effort or of sexing first.
    """
    done = {answer.character for answer in answers}
    left = [character for character in tables.key.characters if character.index not in done]
    return _gains(tables, after, Focus(tuple(range(len(tables.key.species))), after.guises), left)


def _focus(tables: Tables, after: Posterior, verdict: Verdict) -> Focus:
    key = tables.key
    ranking = ranked(after)
    best = ranking[0]
    capping = [rival.species for rival in verdict.rivals if rival.caps and rival.species is not None]
    if after.species[best] >= tables.assumptions.settle and verdict.word in (NARROWED, OPEN):
        # The name is likely and only the look-alikes stand in its way: weigh them as equals.
        chosen = (best, *capping)
        weights = [
            probability / after.species[guise.species]
            if guise.species in chosen and after.species[guise.species]
            else 0.0
            for guise, probability in zip(key.guises, after.guises, strict=True)
        ]
    elif after.species[best] + after.species[ranking[1]] >= NEARLY_ALL if len(ranking) > 1 else False:
        chosen = (best, ranking[1])
        weights = [
            probability if guise.species in chosen else 0.0
            for guise, probability in zip(key.guises, after.guises, strict=True)
        ]
    else:
        chosen = tuple(ranking)
        weights = after.guises
    total = sum(weights)
    return Focus(chosen, [weight / total for weight in weights])


def _gains(tables: Tables, after: Posterior, focus: Focus, left: Iterable[Character]) -> list[Look]:
    key = tables.key
    least = max(focus.guises) * LIVE
    live = [(index, weight) for index, weight in enumerate(focus.guises) if weight > least]
    species = [0.0] * len(key.species)
    for index, weight in live:
        species[key.guises[index].species] += weight
    held = sorted((s for s, weight in enumerate(species) if weight > 0), key=lambda s: -species[s])
    now = _entropy([species[s] for s in held])
    echoes = _echoes(tables, after)
    handled = any(key.species[s].protected and after.species[s] > PROTECTED for s in range(len(key.species)))
    looks = []
    for character in left:
        gain = character.visible * _gain(tables, character, live, now, echoes.get(character.echo))
        if gain > 1e-9:
            photograph = character.photograph if handled or character.effort == "hand" else ""
            between = tuple(held) if len(focus.species) <= 3 else ()
            looks.append(Look(character.index, gain, EFFORT[character.effort], between, photograph))
    return looks


class _Echo(NamedTuple):
    """For an echo group with answers: how much each guise's reading is its own, and where a lapse reads from."""

    own: list[float]
    lapsed: list[float]


def _echoes(tables: Tables, after: Posterior) -> dict[str | None, _Echo]:
    """Every echo group of the key, with the share of a further answer that would not be an echo."""
    key = tables.key
    q = tables.assumptions.echo_lapse
    if q <= 0:
        return {}
    even = [guise.share / len(key.species) for guise in key.guises]
    found: dict[str | None, _Echo] = {
        character.echo: _Echo([1 - q] * len(even), even) for character in key.characters if character.echo
    }
    for clue in after.clues:
        if clue.lapse is None:
            continue
        kept = log(1 - q)
        own = [exp(kept + value - log_sum(kept + value, clue.lapse)) for value in clue.own]
        best = max(clue.own)
        weights = [share * exp(value - best) for share, value in zip(even, clue.own, strict=True)]
        total = sum(weights)
        found[key.characters[clue.answers[0].character].echo] = _Echo(own, [weight / total for weight in weights])
    return found


def _gain(tables: Tables, character: Character, live: list[tuple[int, float]], now: float, echo: _Echo | None) -> float:
    """Expected drop in species entropy if the mark is looked for and seen where it applies, in bits."""
    readings = tables.readings(character)
    guises = tables.key.guises
    # Guises of one species with the same row weigh together.
    together: dict[tuple[int, int, bool], float] = {}
    lapsing: dict[tuple[int, bool], float] = {}
    for index, weight in live:
        at = (guises[index].species, readings.row_of[index], readings.seeable[index])
        if echo is None:
            together[at] = together.get(at, 0.0) + weight
        else:
            own = echo.own[index]
            together[at] = together.get(at, 0.0) + weight * own
            side = (at[0], at[2])
            lapsing[side] = lapsing.get(side, 0.0) + weight * (1 - own)
    count = readings.count
    average = readings.average(echo.lapsed) if echo else [0.0] * count
    rows = {row: readings.row(row) for _, row, _ in together}
    drop = 0.0
    for k in range(count):
        joint: dict[int, float] = {}
        seen = 0.0
        for (species, row, seeable), weight in together.items():
            part = weight * rows[row][k]
            joint[species] = joint.get(species, 0.0) + part
            if seeable:
                seen += part
        for (species, seeable), weight in lapsing.items():
            part = weight * average[k]
            joint[species] += part
            if seeable:
                seen += part
        total = sum(joint.values())
        if seen <= 0:
            continue
        entropy = -sum(value * log2(value) for value in joint.values() if value > 0) / total + log2(total)
        drop += seen * (now - entropy)
    return drop


def _entropy(weights: Sequence[float]) -> float:
    return -sum(weight * log2(weight) for weight in weights if weight > 0)


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
    chances = {sex: sum(weights) for sex, weights in by_sex.items()}
    if min(chances.values()) < 0.1:
        return []
    characters = [key.characters[look.character] for look in others]
    foreseen = 0.0
    for sex, weights in by_sex.items():
        narrowed = Focus(focus.species, [weight / chances[sex] for weight in weights])
        gains = _gains(tables, after, narrowed, characters)
        foreseen += chances[sex] * max((look.gain / look.effort for look in gains), default=0.0)
    plain = max(look.gain / look.effort for look in others)
    return marks[:1] if foreseen > MATTERS * plain else []


def can_change(tables: Tables, after: Posterior, verdict: Verdict, left: Sequence[Character]) -> bool:
    """True while answers still open could change the verdict: for some rival, the largest possible weights reach.

    Two weak marks may settle together, so it is their sum that counts, not the best one's.
    """
    key = tables.key
    ranking = ranked(after)
    best = ranking[0]
    settle = tables.assumptions.settle
    wanted = log(settle / (1 - settle)) * DECIBANS
    others = [species for species in ranking[1:] if after.species[species] > (1 - settle) / len(ranking)]
    others += [rival.species for rival in verdict.rivals if rival.caps and rival.species is not None]
    for other in dict.fromkeys(others):
        mine, theirs = best_guise(key, after, best), best_guise(key, after, other)
        odds = (log(after.species[best]) - log(max(after.species[other], 1e-300))) * DECIBANS
        evidence = (after.logs[mine] - after.logs[theirs]) * DECIBANS
        forward = max(wanted - odds, tables.assumptions.separation - evidence)
        backward = max(wanted + odds, tables.assumptions.separation + evidence)
        towards, against = _largest(tables, left, mine, theirs)
        if towards >= forward or against >= backward:
            return True
    return False


def _largest(tables: Tables, left: Iterable[Character], mine: int, theirs: int) -> tuple[float, float]:
    """The sum of the largest weights that open answers could give for one guise, and for the other, in decibans."""
    towards = against = 0.0
    for character in left:
        readings = tables.readings(character)
        one, other = readings.row(readings.row_of[mine]), readings.row(readings.row_of[theirs])
        if one is other or not (readings.seeable[mine] or readings.seeable[theirs]):
            continue
        ratios = [_weight(a, b) for a, b in zip(one, other, strict=True) if a > 0 or b > 0]
        towards += max(0.0, *ratios)
        against += max(0.0, *(-ratio for ratio in ratios))
    return towards, against


def _weight(one: float, other: float) -> float:
    """Decibans for `one`: infinitely many where the other cannot be, as in a key that allows no errors."""
    if one <= 0 or other <= 0:
        return inf if one > 0 else -inf
    return log(one / other) * DECIBANS
