"""Does the name stand on enough?"""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.county import County
from reedmace.checks.query import Grounds, Query, Record, query
from reedmace.keys.model import Guise, Key

CLOSE = 0.10  # a runner-up in the key's ranking from which it is worth saying so
_EASE = ("sight", "photo", "hand", "panel")
_WANTED = {
    "sight": "no more than a good look",
    "photo": "a photograph",
    "hand": "the hand, or a photograph of that very part",
    "panel": "a photograph and a description for a panel",
}
_ENOUGH = ("photo", "in hand", "exuvia")


def evidence_wanting(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A form for which county recorders ask more than a sight record; without a sex, what each form needs."""
    seen = record.sighting
    if len(record.species) != 1 or seen.evidence in _ENOUGH or seen.photos or seen.stage == "exuvia":
        return  # a cast skin is its own evidence
    county = grounds.county_of(record)
    local = county and county.species.get(record.species[0].name)
    if county and local and local.photo:
        yield from _by_county(record, county, local.photo)
        return
    sighting = record.sighting
    forms = (
        _forms(grounds.key, record)
        if sighting.naming
        else grounds.once(
            ("forms", record.species[0].index, sighting.sex, sighting.stage), lambda: _forms(grounds.key, record)
        )
    )
    if not forms or min(_EASE.index(one.evidence) for one in forms) == 0:
        return
    remedy = "add what there is, or send it as the pair or the genus"
    if sighting.stage == "larva" != grounds.key.stage:
        reason = f"This key names no larvae, and of grown {record.name} it asks more than a look."
        yield query(record, "evidence-wanted", "doubt", reason, f"say how it was named; {remedy}")
        return
    needs = list(dict.fromkeys((one.title, _need(one)) for one in forms))
    if len({need for _, need in needs}) == 1 and len(needs) > 1:
        reason = f"{record.name} needs {needs[0][1]}, whatever its form."
    elif len(needs) == 1:
        reason = f"{record.name}, {needs[0][0]}, needs {needs[0][1]}."
    else:
        told = "; ".join(f"{title}: {need}" for title, need in needs)
        reason = f"{record.name} needs more than a look, by form: {told}."
        remedy = f"say which form it was; {remedy}"
    yield query(record, "evidence-wanted", "doubt", reason, remedy)


def _need(form: Guise) -> str:
    return f"{_WANTED[form.evidence]}{f' ({form.photograph})' if form.photograph else ''}"


def _forms(key: Key, record: Record) -> list[Guise]:
    """The forms it may have been: the one it was named in with the key, else those that fit its sex and stage."""
    sighting = record.sighting
    guises = [key.guises[index] for index in record.species[0].guises]
    naming = sighting.naming
    if naming and naming.ranking and naming.ranking[0].name == record.species[0].name:
        keyed = [one for one in guises if one.id == naming.ranking[0].guise and sighting.sex in (None, one.sex)]
        if keyed:
            return keyed
    fitting = [
        one for one in guises if sighting.sex in (None, one.sex or sighting.sex) and age_fits(one.age, sighting.stage)
    ]
    return fitting or guises


def age_fits(age: str, stage: str | None) -> bool:
    """Whether a form of this age can be in this stage."""
    return {"adult": age == "mature", "immature": age != "mature", "teneral": age != "mature"}.get(stage or "", True)


def _by_county(record: Record, county: County, photo: str) -> Iterator[Query]:
    sex = record.sighting.sex
    asked = {
        "always": True,
        "never": False,
        "males": sex != "female",
        "females": sex != "male",
        "unsexed": sex is None,
    }[photo]
    if asked:
        which = {"always": "every", "males": "a male", "females": "a female", "unsexed": "an unsexed"}[photo]
        reason = f"The {county.cited} asks for a photograph of {which} {record.name}."
        remedy = "add what there is, or send it as the pair or the genus"
        yield query(record, "evidence-wanted", "doubt", reason, remedy)


def not_what_the_key_said(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Named with the key: a name other than its first, or one that was never settled."""
    naming, taxon = record.sighting.naming, record.sighting.taxon
    if naming is None or not naming.ranking or taxon.one_of or taxon.rank != "species":
        return
    first = naming.ranking[0]
    if first.name != taxon.scientific_name:
        reason = f"The key put {first.name} first ({first.probability:.0%})."
        yield query(record, "key-disagrees", "doubt", reason, "say in the remarks what decided for this name")
    elif naming.verdict != "settled":
        reason = f"The key had not settled on one name ({naming.verdict})."
        yield query(record, "never-settled", "doubt", reason, "send the pair or the group, or say what decided")
    runner = naming.ranking[1] if len(naming.ranking) > 1 else None
    if runner and first.name == taxon.scientific_name and runner.probability >= CLOSE:
        reason = f"{runner.name} was close behind ({runner.probability:.0%})."
        yield query(record, "close-runner-up", "doubt", reason, "look at the mark that splits them:  reedmace key")


def lookalike_open(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Named with the key, not settled, and of a look-alike nobody looked at the mark that decides."""
    naming = record.sighting.naming
    if naming is None or not naming.answers or naming.verdict == "settled" or len(record.species) != 1:
        return
    species = record.species[0]
    if naming.key_id != grounds.key.id or (naming.ranking[:1] and naming.ranking[0].name != species.name):
        return
    looked = {answer.character for answer in naming.answers if not answer.typed.startswith(("?", "unknown"))}
    left = [one for one in species.lookalikes if one.decided_by and not looked & set(one.decided_by)]
    if left:
        told = "; ".join(f"{one.name} ({one.mark})" for one in left[:3])
        more = f"; and {len(left) - 3} more" if len(left) > 3 else ""
        reason = f"Not ruled out, for the mark that decides was not looked at: {told}{more}."
        yield query(
            record,
            "look-alike-open",
            "doubt",
            reason,
            f"reedmace apart {species.english.lower()!r} says what to look at",
        )
