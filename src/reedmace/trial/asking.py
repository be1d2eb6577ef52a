"""One run: an observer and the engine in conversation, until there is a verdict or nothing left to ask."""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.scoring.assumptions import EFFORT
from reedmace.scoring.doubt import believed
from reedmace.scoring.fit import lower_tail
from reedmace.scoring.left import left_to_ask
from reedmace.scoring.looknext import NOTHING, LookNext, gains_over_all, look_next
from reedmace.scoring.posterior import Posterior, posterior
from reedmace.scoring.prior import Circumstances, prior
from reedmace.scoring.tables import Tables
from reedmace.scoring.verdict import OUTSIDE, SETTLED, Verdict, judge, ranked
from reedmace.trial.nature import Encounter, Nature
from reedmace.trial.observer import Observer, Report
from reedmace.trial.plan import Plan

# How a run ended.
VERDICT, NOTHING_LEFT, BROKEN_OFF = "verdict", "nothing left", "broken off"


class Run(NamedTuple):
    """What came of one insect. Species and guise are numbers of the whole key, also where the engine lacked some.

    `species` is the true one, `members` those of the verdict, `best` the likeliest and `probability` what the
    engine gave it inside the key; `outside` what it gave to none of them, `fit` the lower tail of the
    answers for a usual observer (for one who is doubted, bad answers are no surprise), None while it cannot be judged.
    `effort` in glances, for every look.
    """

    number: int
    species: int
    guise: int
    regions: tuple[int, ...]
    third: int | None
    habitat: str | None
    word: str
    members: tuple[int, ...]
    others: int
    best: int
    probability: float
    outside: float
    fit: float | None
    end: str
    reports: tuple[Report, ...]
    effort: float


class Engine:
    """The engine's side of the trial: its key (perhaps without some species) and what it knows of the whole key."""

    def __init__(self, whole: Key, tables: Tables) -> None:
        self.tables = tables
        numbers = {species.name: species.index for species in whole.species}
        self.whole_number = tuple(numbers[species.name] for species in tables.key.species)


def run(engine: Engine, nature: Nature, plan: Plan, number: int) -> Run:
    """Run `number` of a plan. Its chances depend on the plan's seed and this number alone."""
    outdoors = Random(f"{plan.seed} encounter {number}")
    encounter = nature.meet(outdoors)
    observer = Observer(nature, encounter, Random(f"{plan.seed} observer {number}"))
    return converse(engine, plan, number, encounter, observer)


def converse(engine: Engine, plan: Plan, number: int, encounter: Encounter, observer: Observer) -> Run:
    """Ask and answer until there is a verdict, nothing left that could change it, or too many looks."""
    tables = engine.tables
    key = tables.key
    known = Circumstances(flat=True) if plan.flat else _told(encounter)
    before = prior(key, known, tables.assumptions)
    answers: tuple[Answer, ...] = ()
    reports: list[Report] = []
    effort = 0.0
    order = _order(plan, number, len(key.characters))
    after = posterior(tables, before, answers)
    verdict = judge(tables, before, after)
    while True:
        if verdict.word in (SETTLED, OUTSIDE):
            end = VERDICT
            break
        wanted = _next(tables, plan, order, after, verdict, answers)
        if wanted is None:
            end = NOTHING_LEFT
            break
        if len(reports) >= plan.answers:
            end = BROKEN_OFF
            break
        report = observer.look(wanted)
        reports.append(report)
        effort += EFFORT[key.characters[wanted].effort]
        answers = (*answers, report.answer)
        if not report.answer.says_nothing:
            tables, after = believed(engine.tables, before, answers)
            verdict = judge(tables, before, after)
    best = ranked(after)[0]
    return Run(
        number,
        encounter.species,
        encounter.guise,
        encounter.regions,
        encounter.third,
        encounter.habitat,
        verdict.word,
        tuple(engine.whole_number[member] for member in verdict.members),
        len(verdict.others),
        engine.whole_number[best],
        after.species[best],
        after.outside,
        lower_tail(engine.tables, posterior(engine.tables, before, answers)),
        end,
        tuple(reports),
        effort,
    )


def _told(encounter: Encounter) -> Circumstances:
    return Circumstances(encounter.regions, encounter.third, encounter.habitat)


def _order(plan: Plan, number: int, count: int) -> list[int]:
    """The order of looking, where it does not depend on the answers."""
    order = list(range(count))
    if plan.order == "random":
        Random(f"{plan.seed} order {number}").shuffle(order)
    return order


def _next(
    tables: Tables, plan: Plan, order: list[int], after: Posterior, verdict: Verdict, answers: tuple[Answer, ...]
) -> int | None:
    """The character to look at, None when nothing left can change the verdict."""
    if plan.order == "exhaustive":
        return _most_telling(tables, after, answers)
    if plan.order == "information":
        return _most_telling(tables, after, answers, if_seen=True)
    offered: LookNext = look_next(tables, after, verdict, answers)
    if offered.end == NOTHING or not offered.looks:
        return None
    if plan.order == "look-next":
        return offered.looks[0].character
    if plan.order == "greedy":
        return _most_telling(tables, after, answers)
    left = {character.index for character in left_to_ask(tables.key, answers)}
    return next((character for character in order if character in left), None)


def _most_telling(
    tables: Tables, after: Posterior, answers: tuple[Answer, ...], *, if_seen: bool = False
) -> int | None:
    """The mark expected to tell most of all species together, whatever the effort; None when none tells anything.

    `if_seen` leaves out how likely it is to be seen at all.
    """
    looks = gains_over_all(tables, after, answers)
    if if_seen:
        visible = [character.visible for character in tables.key.characters]
        looks = [look._replace(gain=look.gain / visible[look.character]) for look in looks]
    return max(looks, key=lambda look: (look.gain, -look.character)).character if looks else None
