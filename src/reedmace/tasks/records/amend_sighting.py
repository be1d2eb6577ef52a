"""Corrections of a sighting: count, sex, stage, behaviour, evidence, photographs, read as `log` reads them."""

from __future__ import annotations

import re
from typing import Any, get_args

from reedmace.faults import Fault, did_you_mean
from reedmace.records import Photo, Sighting
from reedmace.records.sighting import Certainty, Evidence, Sex, Stage
from reedmace.tasks.records import amend_values as values
from reedmace.tasks.records.amend_values import Around, Change, Reader
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, CERTAINTIES, PAIRS, REST, SEXES, STAGES, cut
from reedmace.tasks.shorthand.line import read_tallies

# What only a flying insect does: no larva and no cast skin was ever seen at it.
_FLYING = frozenset({*PAIRS.values(), "ovipositing", "territorial", "patrolling"})
_NOT_FLYING = ("larva", "exuvia")


def _count(value: str, record: Sighting, _around: Around) -> Change | Fault:
    if not value or value.casefold() == "present":
        return {"count": None, "count_to": None, "count_kind": "present", "count_typed": value, "pairs": None}
    read = read_tallies(value)
    if isinstance(read, Fault) and read.code == "zero-count":
        gone = f'reedmace ledger withdraw {record.id[-12:]} --reason "not there"'
        return read._replace(hint=f"it was there, and not counted:  count=present  ; it was not there:  {gone}")
    if isinstance(read, Fault):
        return read
    if read.time or read.place or read.observers or read.company or read.determiner or read.photos:
        hint = "correct each by its own field, such as  count=12 time=12:00"
        return Fault("count-not-read", "There is more than a count here.", hint, value, typed=True)
    if len(read.tallies) != 1:
        hint = "one sighting has one count: log the other with  reedmace log"
        return Fault("two-counts", "This counts more than one kind of insect.", hint, typed=True)
    tally = read.tallies[0]
    if record.pairs and tally.count and not (tally.pairs or tally.sex or _single(value)):
        return _pairs_or_insects(value)
    change: Change = {"count": tally.count, "count_to": tally.to, "count_kind": tally.kind, "count_typed": value}
    change["pairs"] = tally.pairs
    if tally.pairs:
        # "2 pairs" says how many, and nothing new of what they did where it is known already that they were pairs.
        words = re.findall(r"[a-z]+", value.casefold())
        known = any(act in PAIRS.values() for act in record.behaviour)
        plain = known and not any(word in PAIRS for word in words)
        acts = record.behaviour if plain else (*tally.behaviour, *record.behaviour)
        return change | {"sex": None, "behaviour": tuple(dict.fromkeys(acts))}
    if record.pairs:
        # They are no pairs any more, so what says that they were goes too.
        change["behaviour"] = tuple(act for act in record.behaviour if act not in PAIRS.values())
    return change | ({"sex": tally.sex} if tally.sex else {})


def _single(value: str) -> bool:
    return any(word in REST for word in re.findall(r"[a-z]+", value.casefold()))


def _pairs_or_insects(value: str) -> Fault:
    return Fault(
        "pairs-or-insects",
        f"This counts pairs, and {value} could be so many pairs, or so many insects that were none.",
        f'write  count="{value} pairs"  or  count="{value} singles"',
        typed=True,
    )


def _stage(value: str, record: Sighting, around: Around) -> Change | Fault:
    """A stage; what no longer is a cast skin no longer rests on one."""
    change = _STAGE(value, record, around)
    if isinstance(change, dict) and change["stage"] != "exuvia" == record.evidence:
        return change | {"evidence": None}
    return change


def _behaviour(value: str, record: Sighting, _around: Around) -> Change | Fault:
    known = {**BEHAVIOURS, **PAIRS}
    acts = []
    for typed in filter(None, (act.strip() for act in value.split(","))):
        act = known.get(typed.casefold(), typed)
        if act not in known.values() and act not in record.behaviour:
            words = tuple(dict.fromkeys(known.values()))
            hint = did_you_mean(typed.casefold(), known, f"one of: {', '.join(words)}; anything else into the remarks")
            return Fault("unknown-word", f'"{typed}" is no behaviour.', hint, typed=True)
        acts.append(act)
    return {"behaviour": tuple(dict.fromkeys(acts))}


def _named(value: str, _record: Any, around: Around) -> Change | Fault:
    read = read_date(value, around.today) if value else None
    return read if isinstance(read, Fault) else {"determined_on": read.iso if read else None}


def _photos(value: str, record: Sighting, around: Around) -> Change | Fault:
    """Paths as on a line of `log`: `+` before one adds it, `-` takes it out, neither says which there are."""
    pieces = cut(value)
    if isinstance(pieces, Fault):
        return pieces
    signs: set[str] = set()
    there = {photo.path: photo for photo in record.photos}
    kept = dict(there)
    named: dict[str, Photo] = {}
    sign = ""
    for word in pieces.words:
        if not word.quoted and word.text in ("+", "-"):
            sign = word.text  # stands before quotes
            continue
        sign = sign or (word.text[:1] if word.text[:1] in ("+", "-") and not word.quoted else "")
        path = word.text.removeprefix(sign) if not word.quoted else word.text
        signs.add(sign)
        if sign == "-":
            if path not in there:
                names = ", ".join(there) or "none"
                return Fault(
                    "no-such-photo", f'No photograph "{path}" is named here.', f"named are: {names}", typed=True
                )
            kept.pop(path, None)
        else:
            before = there.get(path)
            named[path] = before if before and before.sha256 else around.photo(path)
        sign = ""
    if "" in signs and len(signs) > 1:
        hint = (
            'write  photos="+one.jpg -two.jpg"  to add and take out, or  photos="one.jpg three.jpg"  for all there are'
        )
        return Fault("photos-unclear", "Some of these have + or - before them, and some have not.", hint, typed=True)
    photos = tuple((named if signs <= {""} else {**kept, **named}).values())
    change: Change = {"photos": photos}
    if photos and not record.photos and record.evidence is None:
        change["evidence"] = "photo"
    return change


def contradiction(was: Sighting, now: Sighting) -> Fault | None:
    """What no insect of this stage does, or what makes no pair, where the corrections brought it in."""
    if _as_no_larva(now) and not _as_no_larva(was):
        done = _as_no_larva(now)
        hint = "correct the stage too, such as  stage=adult ; or leave the behaviour out"
        article = "An" if str(now.stage)[0] in "aeio" else "A"
        return Fault("stage-and-behaviour", f"{article} {now.stage} is not seen {' or '.join(done)}.", hint, typed=True)
    if _laying_male(now) and not _laying_male(was):
        hint = "correct the sex too, such as  sex=female ; or leave the behaviour out"
        return Fault("sex-and-behaviour", "Males lay no eggs.", hint, typed=True)
    paired = [act for act in now.behaviour if act in PAIRS.values()]
    so_before = not was.pairs and was.count is not None and set(paired) <= set(was.behaviour)
    if paired and not now.pairs and now.count is not None and not so_before:
        short = "cop" if paired == ["copulating"] else "tandem"
        said = f"Insects that were {' or '.join(paired)} are pairs, but single ones were counted."
        return Fault(
            "behaviour-without-pairs",
            said,
            f'say how many pairs:  count="3 {short}"  ; or that they were none:  behaviour=',
            typed=True,
        )
    return None


def _laying_male(sighting: Sighting) -> bool:
    return sighting.sex == "male" and not sighting.pairs and "ovipositing" in sighting.behaviour


def _as_no_larva(sighting: Sighting) -> tuple[str, ...]:
    if sighting.stage not in _NOT_FLYING:
        return ()
    return tuple(act for act in sighting.behaviour if act in _FLYING)


_STAGE = values.word("stage", get_args(Stage), STAGES)
FIELDS: dict[str, Reader] = {
    "count": _count,
    "sex": values.word("sex", get_args(Sex), SEXES),
    "stage": _stage,
    "behaviour": _behaviour,
    "evidence": values.word("evidence", get_args(Evidence)),
    "certainty": values.word("certainty", get_args(Certainty), CERTAINTIES),
    "named": _named,
    "time": values.clock("time"),
    "place": values.place,
    "locality": values.locality,
    "photos": _photos,
    "remarks": values.text("remarks"),
}
