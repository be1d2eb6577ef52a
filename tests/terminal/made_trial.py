"""A trial made by hand, so that its screen changes when the screen does and not when the engine does."""

from __future__ import annotations

from reedmace.keys.answers import Answer, read_trait
from reedmace.keys.model import Key
from reedmace.scoring.assumptions import DEFAULTS
from reedmace.tasks.keys.try_key import Trial
from reedmace.trial.asking import Run
from reedmace.trial.left_out import left_out
from reedmace.trial.observer import Report
from reedmace.trial.plan import Plan
from reedmace.trial.summary import summarise

PALE, MISTY, BASKING = "Tarnula pallida", "Tarnula nebula", "Tarnula aprica"


def number(key: Key, name: str) -> int:
    return next(species.index for species in key.species if species.name == name)


def runs(key: Key) -> list[Run]:
    """Forty runs that met every verdict; the Misty Rushlet is now and then taken for the Pale one."""
    pale, misty, basking = (number(key, name) for name in (PALE, MISTY, BASKING))
    wrong = reports(key, "wings-at-rest=closed", "collar=straight~!", "length=33mm", "eye-colour=?", "body-colour=blue")
    right = reports(key, "wings-at-rest=closed", "collar=lobed", "side-bar=?", "length=31.4mm")
    longer = right * 3
    return [
        *(made(key, n, pale, "settled", (pale,), 0.93 + n / 500, right) for n in range(24)),
        *(made(key, n, misty, "settled", (pale,), 0.96, wrong if n == 25 else wrong * 2) for n in range(24, 27)),
        *(made(key, n, misty, "narrowed", (misty, pale), 0.7, longer) for n in range(27, 36)),
        made(key, 36, basking, "narrowed", (pale, misty), 0.55, longer),
        made(key, 37, basking, "open", (), 0.42, longer, "broken off"),
        made(key, 38, basking, "open", (), 0.45, longer, "nothing left"),
        made(key, 39, basking, "outside", (), 0.35, wrong),
    ]


def made(
    key: Key,
    run: int,
    species: int,
    word: str,
    members: tuple[int, ...],
    probability: float,
    told: tuple[Report, ...],
    end: str = "verdict",
) -> Run:
    best = members[0] if members else species
    guise = key.species[species].guises[0]
    outside = 0.96 if word == "outside" else 0.01 + run / 1000
    return Run(
        run,
        species,
        guise,
        (0,),
        18,
        "tarn",
        word,
        members,
        0,
        best,
        probability,
        outside,
        None,
        end,
        told,
        2.0 * len(told),
    )


def reports(key: Key, *traits: str) -> tuple[Report, ...]:
    """Looks written as traits; a trailing `!` marks a wrong answer, `?` one that told nothing."""
    found = []
    for trait in traits:
        answer = read_trait(key, trait.removesuffix("!"))
        assert isinstance(answer, Answer)
        typed = trait.removesuffix("!").partition("=")[2]
        told = not answer.says_nothing and answer.low is None
        found.append(Report(answer._replace(typed=typed), trait.endswith("!") if told else None, 0.1 if told else None))
    return tuple(found)


def trial(key: Key) -> Trial:
    """An ordinary trial."""
    return Trial(key, Plan(runs=40), DEFAULTS, summarise(runs(key)), (), None)


def trial_left_out(key: Key) -> Trial:
    """A hard one, with two species left out."""
    plan = Plan(runs=40, misread=2, scale=1.25, chain=3, even=True, flat=True, order="random", eye="practised")
    pale, misty = number(key, PALE), number(key, MISTY)
    grandis = number(key, "Mossopa grandis")
    told = reports(key, "wings-at-rest=closed")
    foreign = [
        *(made(key, n, pale, "settled", (misty,), 0.97, told) for n in range(12)),
        *(made(key, n, pale, "outside", (), 0.5, told) for n in range(12, 20)),
        *(made(key, n, misty, "settled", (pale if n < 32 else grandis,), 0.97, told) for n in range(20, 35)),
        *(made(key, n, misty, "open", (), 0.5, told) for n in range(35, 40)),
    ]
    ordinary = runs(key)
    each = tuple(left_out(key, one, [run for run in foreign if run.species == one], ordinary) for one in (pale, misty))
    named = plan._replace(leave_out=(PALE, MISTY), shares_wrong=True)
    return Trial(key, named, DEFAULTS, summarise(ordinary), each, left_out(key, None, foreign, ordinary))
