"""Do sex, stage, behaviour and numbers go together?"""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.evidence import age_fits
from reedmace.checks.query import Grounds, Query, Record, query

_PAIRED = ("tandem", "copulating")
_NOT_ADULT = ("larva", "exuvia", "emerging")
# What only a flying insect does. A teneral may be seized, so tandem is only asked about.
_ADULT_DOINGS = frozenset({"tandem", "copulating", "ovipositing", "territorial"})


def impossible_sex(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A male that lays eggs, a sex for a pair, or another sex than the form that the key was answered for."""
    sighting = record.sighting
    sex, doing = sighting.sex, sighting.behaviour
    if sex == "male" and "ovipositing" in doing and not set(doing) & set(_PAIRED):
        reason = "A male by itself does not lay eggs."
        yield query(record, "sex-impossible", "doubt", reason, "write female, or tandem where he held her")
    naming = sighting.naming
    if sex is None or naming is None or not naming.ranking or len(record.species) != 1:
        return
    first = naming.ranking[0]
    if first.name != record.species[0].name or not first.guise:
        return
    form = next(
        (one for one in map(grounds.key.guises.__getitem__, record.species[0].guises) if one.id == first.guise), None
    )
    if form and form.sex and form.sex != sex and naming.verdict == "settled":
        reason = f"The answers were those of {form.title}, but the record says {sex}."
        yield query(record, "sex-impossible", "doubt", reason, "check the sex: the bump under segment 2, the claspers")


def impossible_stage(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A larva that flies, a cast skin that was only an adult, a form that the key does not have at that age."""
    sighting = record.sighting
    stage, doing = sighting.stage, sighting.behaviour
    if stage in _NOT_ADULT and doing:
        done = [one for one in doing if one in _ADULT_DOINGS]
        if done:
            reason = f"{'An' if stage[0] in 'ae' else 'A'} {stage} is not seen {' or '.join(done)}."
            yield query(record, "stage-impossible", "doubt", reason, "write adult, or leave the behaviour out")
    if stage == "teneral" and "ovipositing" in doing:
        reason = "A newly emerged insect does not lay eggs yet."
        yield query(record, "stage-impossible", "doubt", reason, "write adult, or leave the behaviour out")
    if sighting.evidence == "exuvia" and stage not in ("exuvia", "emerging", "teneral", None):
        reason = f"The evidence is a cast skin, but the stage is {stage}."
        yield query(record, "stage-impossible", "doubt", reason, "write exuvia as the stage, or say what else was seen")
    if stage == "adult" and sighting.sex and len(record.species) == 1:
        which = ("adult", record.species[0].index, sighting.sex)
        if not grounds.once(which, lambda: _has_adult(grounds, record)):
            reason = f"The key has no adult {sighting.sex} of {record.name}."
            yield query(record, "stage-impossible", "note", reason, "check sex and stage")


def _has_adult(grounds: Grounds, record: Record) -> bool:
    """Whether a form of this sex is an adult's; a key without forms of this sex does not say."""
    forms = [grounds.key.guises[index] for index in record.species[0].guises]
    of_sex = [one for one in forms if one.sex in (record.sighting.sex, None)]
    return not of_sex or any(age_fits(one.age, "adult") for one in of_sex)


def pair_arithmetic(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Pairs are two insects each, a male and a female."""
    sighting = record.sighting
    if not sighting.behaviour or not set(sighting.behaviour) & set(_PAIRED):
        return
    count = sighting.count
    if sighting.pairs is not None and count != 2 * sighting.pairs:
        reason = f"{sighting.pairs} pairs are {2 * sighting.pairs} insects, but the count is {count}."
        yield query(record, "pair-arithmetic", "doubt", reason, "count two for each pair")
    elif (
        sighting.pairs is None
        and sighting.sex is None
        and count is not None
        and count % 2
        and sighting.count_kind == "exact"
    ):
        reason = f"{count} insects cannot all be {' or '.join(one for one in sighting.behaviour if one in _PAIRED)}."
        yield query(record, "pair-arithmetic", "doubt", reason, "count two for each pair, and single insects apart")
    elif sighting.sex is not None and sighting.pairs is not None:
        reason = f"A pair is a male and a female, but the record says {sighting.sex}."
        yield query(record, "pair-arithmetic", "doubt", reason, "leave the sex out")
