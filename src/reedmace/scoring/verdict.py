"""The verdict: settled, narrowed, open or outside, and the name that goes with it.

It climbs instead of hedging: from one species to "A or B (or C)", to the smallest group the key names that holds
the best, every look-alike not yet told apart and 95 % of the probability.
"""

from typing import NamedTuple

from reedmace.keys.matching import either_or
from reedmace.keys.model import Key
from reedmace.scoring.fit import lower_tail, oddest
from reedmace.scoring.lookalikes import Rival, rivals
from reedmace.scoring.posterior import Posterior
from reedmace.scoring.prior import Prior
from reedmace.scoring.tables import Tables

SETTLED, NARROWED, OPEN, OUTSIDE = "settled", "narrowed", "open", "outside"


FEW = 3  # so many are named one by one: "A, B or C"
LISTED = 5  # … and up to so many, where the smallest group with a name …
WIDE = 2  # … holds more than this times as many: four blue ones say more than a whole family


class Verdict(NamedTuple):
    """`members` are species numbers, best first, `others` look-alikes the key does not describe.

    `name` is scientific where there is one, `vernacular` always plain English; `guise` says as much of sex, age
    and form as the answers bear, or None. `probability` is that of `members` together, inside the key.
    """

    word: str
    name: str
    vernacular: str
    rank: str
    members: tuple[int, ...]
    others: tuple[int, ...]
    guise: str | None
    sex: str | None
    age: str | None
    probability: float
    rivals: tuple[Rival, ...]

    def same_name(self, other: "Verdict") -> bool:
        """True when two verdicts say the same word and the same name."""
        return (self.word, self.name, self.others) == (other.word, other.name, other.others)


def judge(tables: Tables, before: Prior, after: Posterior) -> Verdict:
    """The verdict on what has been answered so far."""
    key, assumptions = tables.key, tables.assumptions
    ranking = ranked(after)
    best = ranking[0]
    if not after.clues:
        return _open(key, ())
    if _is_outside(tables, after):
        return Verdict(OUTSIDE, "", "none of the species in this key", "", (), (), None, None, None, after.outside, ())
    look_alikes = rivals(tables, before, after, best)
    capping = [rival for rival in look_alikes if rival.caps]
    if after.species[best] >= assumptions.settle and not capping and not outside_bars(tables, after):
        return _settled(key, after, best, look_alikes, assumptions.settle)
    return _narrowed(key, after, ranking, look_alikes, assumptions.settle)


def outside_bars(tables: Tables, after: Posterior) -> bool:
    """True when no name may be settled: none of this key is rather likely, and some answer was not to be expected.

    Where none of this key is likelier than any, that all answers were to be expected does not help.
    """
    assumptions = tables.assumptions
    if after.outside <= assumptions.settle_outside:
        return False
    return after.outside > assumptions.misfit_outside or not as_expected(tables, after)


def as_expected(tables: Tables, after: Posterior) -> bool:
    """True when every answer is much what one would expect of the insect that fits best."""
    return oddest(tables, after) >= tables.assumptions.as_expected


def only_outside_bars(tables: Tables, after: Posterior, verdict: Verdict) -> bool:
    """True when nothing but that stands in the way of a settled name."""
    certain = max(after.species) >= tables.assumptions.settle and not any(rival.caps for rival in verdict.rivals)
    return certain and verdict.word == NARROWED and outside_bars(tables, after)


def ranked(after: Posterior) -> list[int]:
    """Species numbers, most probable first; equals in the key's order."""
    return sorted(range(len(after.species)), key=lambda species: -after.species[species])


def _is_outside(tables: Tables, after: Posterior) -> bool:
    assumptions = tables.assumptions
    if after.outside > assumptions.outside:
        # What fits in everything is described here, however little it was to be expected: a stray, not a stranger.
        return not as_expected(tables, after)
    if after.outside <= assumptions.misfit_outside:
        return False
    tail = lower_tail(tables, after)
    return tail is not None and tail < assumptions.misfit_tail


def _settled(key: Key, after: Posterior, best: int, look_alikes: tuple[Rival, ...], settle: float) -> Verdict:
    species = key.species[best]
    guise, sex, age = guise_said(key, after, best, settle)
    return Verdict(
        SETTLED,
        species.name,
        species.english,
        "species",
        (best,),
        (),
        guise,
        sex,
        age,
        after.species[best],
        look_alikes,
    )


def guise_said(key: Key, after: Posterior, species: int, settle: float) -> tuple[str | None, str | None, str | None]:
    """What may be said of guise, sex and age: each only when it holds `settle` of the species' probability."""
    guises = key.species[species].guises
    whole = sum(after.guises[guise] for guise in guises)
    if whole <= 0:
        return None, None, None

    def holding(attribute: str) -> str | None:
        shares: dict[str, float] = {}
        for guise in guises:
            value = getattr(key.guises[guise], attribute)
            if value is not None:
                shares[value] = shares.get(value, 0.0) + after.guises[guise] / whole
        found = max(shares, key=lambda value: shares[value], default=None)
        return found if found is not None and shares[found] >= settle else None

    sex, age = holding("sex"), holding("age")
    return holding("title") or sex, sex, age


def _narrowed(key: Key, after: Posterior, ranking: list[int], look_alikes: tuple[Rival, ...], settle: float) -> Verdict:
    best = ranking[0]
    capping = [rival for rival in look_alikes if rival.caps]
    must = {best, *(rival.species for rival in capping if rival.species is not None)}
    others = tuple(rival.undescribed for rival in capping if rival.undescribed is not None)
    held, likely = 0.0, set[int]()
    for species in ranking:
        likely.add(species)
        held += after.species[species]
        if held >= settle:
            break
    few = tuple(species for species in ranking if species in must or species in likely)
    if len(few) > 1 and len(few) + len(others) <= FEW:
        few = _of_one_kind(key, after, ranking, few, must, settle)
    count = len(few) + len(others)
    if count <= FEW:
        return _either(key, after, few, others, look_alikes)
    for group in key.groups:
        held = sum(after.species[species] for species in group.members)
        if must <= group.members and held >= settle and group.rank != "order":
            if count <= LISTED and len(group.members) > WIDE * count:
                return _either(key, after, few, others, look_alikes)
            members = tuple(species for species in ranking if species in group.members)
            return Verdict(
                NARROWED,
                group.scientific or group.title,
                group.title,
                group.rank,
                members,
                others,
                None,
                None,
                None,
                held,
                look_alikes,
            )
    return _open(key, look_alikes)


def _of_one_kind(
    key: Key, after: Posterior, ranking: list[int], few: tuple[int, ...], must: set[int], settle: float
) -> tuple[int, ...]:
    """The few, or as many of one group that do as well: two hawkers are a record, a hawker or a damselfly is none."""
    groups = [group.members for group in key.groups if group.rank != "order" and must <= group.members]
    if any(set(few) <= members for members in groups):
        return few
    for members in groups:
        held, kin = 0.0, set(must)
        for species in ranking:
            if species in members and (species in must or held < settle):
                kin.add(species)
                held += after.species[species]
        if held >= settle and len(kin) <= len(few):
            return tuple(species for species in ranking if species in kin)
    return few


def _either(
    key: Key, after: Posterior, few: tuple[int, ...], others: tuple[int, ...], look_alikes: tuple[Rival, ...]
) -> Verdict:
    names = [key.species[species].name for species in few] + [key.undescribed[other].name for other in others]
    english = [key.species[species].english for species in few] + [key.undescribed[other].english for other in others]
    sexes = {guise_said(key, after, species, 0.95)[1] for species in few}
    sex = sexes.pop() if len(sexes) == 1 else None
    rank = "pair" if len(names) == 2 else "aggregate" if len(names) > 2 else "species"
    return Verdict(
        NARROWED,
        either_or(names),
        either_or(_shortened(english)),
        rank,
        few,
        others,
        sex,
        sex,
        None,
        sum(after.species[species] for species in few),
        look_alikes,
    )


def _open(key: Key, look_alikes: tuple[Rival, ...]) -> Verdict:
    order, title = key.classification["order"], key.classification["title"]
    return Verdict(OPEN, order, title, "order", (), (), None, None, None, 1.0, look_alikes)


def _shortened(names: list[str]) -> list[str]:
    """`Azure Damselfly`, `Variable Damselfly` → `Azure`, `Variable Damselfly`: a shared last word is said once."""
    last = {name.rpartition(" ")[2] for name in names}
    if len(names) < 2 or len(last) > 1:
        return names
    return [*(name.rpartition(" ")[0] or name for name in names[:-1]), names[-1]]
