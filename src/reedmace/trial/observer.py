"""A simulated observer: looks at an insect, often errs, sometimes cannot tell.

Written from what a key says of its characters (how often a mark is missed or invented, what it is confused with)
and from what is known of people in the field; it shares nothing with the engine. Everything an observer could be
asked is drawn beforehand, so that trials of different orders of looking meet the same errors.
"""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from reedmace.keys.answers import Answer
from reedmace.keys.model import Character
from reedmace.trial.nature import Encounter, Nature, pick, without_what_needs

CENTRAL_95 = 1.96  # standard deviations in a half-width of 95 %
# Chance to get to see a mark well enough to say, by effort (practice). In the hand means for most: with no net.
SEEN = {
    "beginner": {"glance": 0.95, "look": 0.80, "close": 0.50, "hand": 0.15},
    "practised": {"glance": 0.97, "look": 0.90, "close": 0.70, "hand": 0.35},
}
# A number that is a plain slip: the wrong insect measured against, a digit swapped.
SLIP = {"beginner": 0.03, "practised": 0.01}
# An answer marked unsure: of right ones, and of wrong ones.
UNSURE_RIGHT, UNSURE_WRONG = 0.05, 0.25
MOST = 0.9  # no chance of a misread above this
SHARP = 0.5  # mm, half-width of a number that is measured


class Report(NamedTuple):
    """What came of one look: an answer ("can't tell" says nothing), and whether it is wrong.

    `wrong` is None for "can't tell" and for a number; `rate` is the chance of a misread that the key states for
    this eye, times `Plan.scale`, None where nothing was read.
    """

    answer: Answer
    wrong: bool | None
    rate: float | None


class _Chances(NamedTuple):
    """The draws that decide one look, each from 0 to 1; `error` is a standard normal."""

    see: float
    err: float
    which: float
    unsure: float
    error: float


class Observer:
    """Somebody before one insect."""

    def __init__(self, nature: Nature, encounter: Encounter, random: Random) -> None:
        self.plan = nature.plan
        self._characters = nature.key.characters
        self._true = encounter.marks
        self._before_them = list(encounter.marks)
        self._chances = [
            _Chances(random.random(), random.random(), random.random(), random.random(), random.gauss(0, 1))
            for _ in self._characters
        ]
        self._missed_last = False
        self._lapse(nature, encounter, random)
        self._before_them = without_what_needs(self._characters, self._before_them)

    def _lapse(self, nature: Nature, encounter: Encounter, random: Random) -> None:
        """Lapses of the whole person: the wrong sex or age, another insect seen for a whole echo group."""
        mistaken = random.random() < self.plan.wrong_sex
        other = nature.other_guise(encounter.guise, random)
        if mistaken and other is not None:
            for character in self._characters:
                if character.sexing:
                    self._before_them[character.index] = nature.mark(character, other, random)
        for echo in sorted({character.echo for character in self._characters if character.echo}):
            lapsed = random.random() < self.plan.echo_lapse
            stranger = nature.any_guise(random)
            if lapsed:
                for character in self._characters:
                    if character.echo == echo:
                        self._before_them[character.index] = nature.mark(character, stranger, random)

    def look(self, number: int) -> Report:
        """Look at one character, once."""
        character = self._characters[number]
        chances = self._chances[number]
        by_effort = SEEN[self.plan.eye].get(character.effort, 1.0)
        nothing = Report(Answer(number, "can't tell"), None, None)
        if chances.see >= min(by_effort, character.visible):
            return nothing
        if character.is_number:
            return self._measure(character, chances) or nothing
        return self._read(character, chances) or nothing

    def _read(self, character: Character, chances: _Chances) -> Report | None:
        there = self._before_them[character.index]
        state = None if there is None else int(there)
        absent = next((index for index, one in enumerate(character.states) if one.absent), None)
        missed, invented = character.misread[self.plan.eye]
        rate = self.plan.scale * (invented if state is None or state == absent else missed)
        errs = chances.err < self._now(rate)
        if state is None and absent is None and not errs:
            return None  # the question makes no sense here, and that is what the observer says
        right = absent if state is None else state
        if errs:
            said = pick(mistaken_for(character, right), chances.which)
        else:
            assert right is not None
            said = right
        true = self._true[character.index]
        wrong = said != (absent if true is None else true)
        self._missed_last = wrong
        unsure = chances.unsure < (UNSURE_WRONG if wrong else UNSURE_RIGHT)
        typed = character.states[said].id + ("~" if unsure else "")
        return Report(Answer(character.index, typed, (said,), unsure=unsure), wrong, rate)

    def _now(self, rate: float) -> float:
        """The chance of a misread now: the rate by the trial's factor, and by the chain after a wrong answer."""
        return min(rate * self.plan.misread * (self.plan.chain if self._missed_last else 1.0), MOST)

    def _measure(self, character: Character, chances: _Chances) -> Report | None:
        there = self._before_them[character.index]
        if there is None:
            return None
        assert character.range is not None
        low, high = character.range
        by_eye = character.by_eye.get(self.plan.eye)
        slips = chances.err < self._now(SLIP[self.plan.eye])
        self._missed_last = slips
        if slips:
            value = low + (high - low) * chances.which
        elif by_eye:
            half_width, bias = by_eye
            spread = half_width / CENTRAL_95 * chances.error
            value = there * (1.0 + (bias + spread) * self.plan.misread)
        else:
            value = there + SHARP / CENTRAL_95 * chances.error * self.plan.misread
        value = min(max(value, low), high)
        instrument = "eye" if by_eye else "measured"
        unsure = chances.unsure < UNSURE_RIGHT
        typed = f"{value:.3g}{character.unit}" + ("~" if unsure else "")
        return Report(
            Answer(character.index, typed, low=value, high=value, unsure=unsure, instrument=instrument), None, None
        )


def mistaken_for(character: Character, true: int | None) -> list[float]:
    """Weights of the states reported in error: half to those easily confused, half to all others alike.

    Easily confused are the states the key names together with the true one, and "nothing there" for a mark that
    is missed; of ordered states the nearer the likelier. With nothing named, all others alike.
    """
    count = len(character.states)
    others = [float(k != true) for k in range(count)]
    if true is None:
        return others
    if character.ordered:
        near = [0.0 if k == true else 1.0 / (k - true) ** 2 for k in range(count)]
    else:
        names = {state for pair in character.confused if true in pair for state in pair}
        near = [float(k != true and (k in names or character.states[k].absent)) for k in range(count)]
    if not any(near):
        return others
    return [0.5 * one / sum(near) + 0.5 * other / sum(others) for one, other in zip(near, others, strict=True)]
