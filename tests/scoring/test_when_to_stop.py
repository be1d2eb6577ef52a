"""When nothing more is asked, hardly any answer could have changed the verdict: counted out, answer by answer.

In small made keys every way the open marks could still be answered is gone through, each with the chance the engine
itself gives it, and the verdict that would come of it is worked out; in the key of adults, where there are too many,
ways are drawn by these chances. Nothing of the rule under test is used.
"""

from __future__ import annotations

import json
from itertools import product
from random import Random

from reedmace.keys.answers import Answer, read_traits
from reedmace.keys.model import Guise, Key
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.scoring.doubt import believed
from reedmace.scoring.looknext import NOTHING, look_next
from reedmace.scoring.posterior import Posterior, posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import Verdict, judge
from reedmace.trial.asking import NOTHING_LEFT, Engine, Run, run
from reedmace.trial.nature import Nature
from reedmace.trial.plan import Plan
from scoring.tables_made import NOTHING_MORE, answer, key_of, states

MARKS = 6
KNOWN = Circumstances(flat=True)
# What a single bar or a normal distribution may be off by in sums of so few marks; the rule itself allows 1 in 50.
HARDLY = 0.08


def small_key(random: Random) -> Key:
    """Five species in two genera, two guises each, six marks of two states; the first two look alike."""
    guises = [
        Guise(species, sex, sex, sex, "mature", "", 0.5, (), "sight", "")
        for species in range(5)
        for sex in ("male", "female")
    ]
    cells = [(1.0, 0.0), (0.0, 1.0), (0.8, 0.2)]
    marks = []
    for index in range(MARKS):
        of_species = [random.randrange(3) for _ in range(5)]
        column = [
            random.randrange(3) if index < 2 and random.random() < 0.5 else of_species[one.species] for one in guises
        ]
        error, seen = random.choice((0.02, 0.05, 0.15)), random.choice((1.0, 0.6))
        marks.append(states(index, f"m{index}", 2, cells, column, error=error, visible=seen))
    key = key_of(marks, ["Genus a", "Genus b", "Genus c", "Other d", "Other e"], guises=guises)
    alike = {"name": "Genus b", "species": 1, "undescribed": None, "guises": [], "mark": "", "decided_by": {}}
    more = json.loads(NOTHING_MORE) | {"lookalikes": [alike | {"unseen": ""}]}
    first = key.species[0]._replace(text=json.dumps(more))
    second = key.species[1]._replace(named_by=(0,))
    return key._replace(species=(first, second, *key.species[2:]))


def now(tables: Tables, answers: tuple[Answer, ...]) -> tuple[Tables, Posterior, Verdict]:
    """Where an observer stands."""
    before = prior(tables.key, KNOWN, tables.assumptions)
    if not answers:
        after = posterior(tables, before, answers)
        return tables, after, judge(tables, before, after)
    told, after = believed(tables, before, answers)
    return told, after, judge(told, before, after)


def better(verdict: Verdict, then: Verdict) -> bool:
    """Another name, fewer of them, or more than a narrowing: nobody looks on only to hear more names."""
    if (then.word, set(then.members)) == (verdict.word, set(verdict.members)):
        return False
    wider = then.word == "open" or (then.word == "narrowed" and set(then.members) >= set(verdict.members))
    return verdict.word == "open" or not wider


def chance_of_a_better_verdict(
    tables: Tables, answers: tuple[Answer, ...], after: Posterior, verdict: Verdict
) -> float:
    """Over everything the open marks may show, or not show, were one of the key's guises there."""
    key = tables.key
    left = [mark for mark in key.characters if mark.index not in {one.character for one in answers}]
    whole = 0.0
    for said in product((None, 0, 1), repeat=len(left)):
        weight = 0.0
        for guise, share in enumerate(after.guises):
            for mark, state in zip(left, said, strict=True):
                row = tables.readings(mark).row(tables.readings(mark).row_of[guise])
                share *= 1 - mark.visible if state is None else mark.visible * row[state]
            weight += share
        if weight == 0:
            continue
        more = [answer(mark.index, state) for mark, state in zip(left, said, strict=True) if state is not None]
        then = now(tables, (*answers, *more))[2]
        if better(verdict, then):
            whole += weight
    return whole


def stops(seeds: range) -> list[float]:
    """For every time that nothing more is asked: the chance of a better verdict that is passed by."""
    found = []
    for seed in seeds:
        random = Random(seed)
        key = small_key(random)
        tables = Tables(key, "beginner", DEFAULTS)
        for _ in range(6):
            seen = random.sample(range(MARKS), random.randint(2, 4))
            answers = tuple(answer(mark, random.randrange(2)) for mark in seen)
            told, after, verdict = now(tables, answers)
            if verdict.word in ("narrowed", "open") and look_next(told, after, verdict, answers).end == NOTHING:
                found.append(chance_of_a_better_verdict(tables, answers, after, verdict))
    return found


def test_where_nothing_more_is_asked_hardly_anything_would_have_changed_the_verdict() -> None:
    found = stops(range(40))
    assert found
    assert max(found) < HARDLY


def test_over_many_keys_little_is_passed_by() -> None:
    """The rule takes each bar by itself and a normal distribution, so it errs now and then: in one stop of thirty."""
    found = stops(range(400))
    assert len(found) > 40
    assert sum(found) / len(found) < 0.02
    assert sum(chance >= HARDLY for chance in found) < 0.05 * len(found)


def test_on_the_key_of_adults_little_is_passed_by(key: Key) -> None:
    """As often as an observer of a trial hears that nothing more is worth a look: ways to go on are drawn each time."""
    plan = Plan(runs=80, seed=77)
    tables = Tables(key, many=True)
    engine, nature = Engine(key, tables), Nature(key, plan)
    found = [
        chance_drawn(tables, ended, Random(f"ways {ended.number}"), 16)
        for ended in (run(engine, nature, plan, number) for number in range(plan.runs))
        if ended.end == NOTHING_LEFT
    ]
    assert len(found) > 8
    assert sum(found) / len(found) < 0.08, "the standard error is about .03"


def chance_drawn(tables: Tables, ended: Run, random: Random, ways: int) -> float:
    """The chance of a better verdict where a run ended, by ways to go on that are drawn."""
    key = tables.key
    answers = tuple(report.answer for report in ended.reports)
    before = prior(key, Circumstances(ended.regions, ended.third, ended.habitat), tables.assumptions)
    told, after = believed(tables, before, answers)
    verdict = judge(told, before, after)
    left = [mark for mark in key.characters if mark.index not in {one.character for one in answers}]
    better_ones = 0
    for _ in range(ways):
        [guise] = random.choices(range(len(key.guises)), after.guises)
        more = []
        for mark in left:
            read = told.readings(mark)
            if not mark.is_number and read.seeable[guise] and random.random() < mark.visible:
                [state] = random.choices(range(read.count), read.row(read.row_of[guise]))
                more.append(answer(mark.index, state))
        then = believed(tables, before, (*answers, *more))
        better_ones += better(verdict, judge(then.tables, before, then.after))
        tables.forget()
    return (1 - after.outside) * better_ones / ways


def test_while_kin_of_another_species_bars_a_name_the_looking_goes_on(key: Key) -> None:
    """A Common Darter of whom three marks were misread might be kin of a hawker: nearly any further mark rules it out.

    The chance that it is kin of a Common Darter itself hardly fades, but is too small by itself to bar the name.
    """
    tables = Tables(key)
    look = (
        "abdomen-colour=plain-green build=slight top-pattern=pale-dashes shoulder-stripe-colour=green length=41.9mm "
        "shoulder-stripe-form=entire wings-at-rest=flat~ thorax-side=two-broad"
    )
    answers = read_traits(key, look.split())
    before = prior(key, Circumstances((0, 1), 25, "fen"), tables.assumptions)
    told, after = believed(tables, before, answers)
    verdict = judge(told, before, after)
    assert (verdict.word, verdict.vernacular) == ("narrowed", "Common Darter")
    looks = look_next(told, after, verdict, answers)
    assert looks.end is None
    assert len(looks.looks) > 10
