"""One sentence of why it is this and not the other, from the weights of evidence; and the weights as plain values."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reedmace.keys.answers import Answer
from reedmace.keys.model import Key
from reedmace.scoring.explain import Why, why
from reedmace.tasks.naming.answer_words import in_brackets, trait_text
from reedmace.tasks.naming.expect_here import far_down
from reedmace.tasks.naming.name_insect import Named

TELLS = 0.8  # decibans (a fifth likelier) from which an answer speaks for one of two
MATTERS = 3.0  # decibans (twice likelier) from which place and season, or a contrary mark, are worth a word
BESIDE = 0.4  # a second mark is named when it weighs this much of the first


def closest_rival(named: Named) -> int | None:
    """The species that the first should be held against: its likeliest look-alike once settled, else the second."""
    found = named.assessment
    others = [one.species for one in found.candidates[1:]]
    if not others:
        return None
    alike = {rival.species for rival in found.verdict.rivals} - {None}
    if found.verdict.word == "settled":
        return next((species for species in others if species in alike), others[0])
    return others[0]


def weigh(named: Named, other: int) -> Why:
    """The first candidate against another species, answer by answer."""
    found = named.assessment
    return why(named.tables, found.before, found.after, found.candidates[0].species, other)


def sentence(key: Key, one: int, other: int, weights: Why, *, expected: bool = True) -> str:
    """Why it is `one` rather than `other`, in plain words; `expected` is whether `one` is, here and now."""
    this, that = short_names([key.species[one].english, key.species[other].english])
    ranked = sorted(weights.answers, key=lambda item: -item[1])
    speaking = [(answer, weight) for answer, weight in ranked if weight >= TELLS]
    named = [answer for answer, weight in speaking[:2] if weight >= BESIDE * speaking[0][1]]
    if named:
        marks = " and ".join(_mark(key, answer) for answer in named)
        said = f"{this} rather than {that} because of {marks}"
    else:
        said = f"Nothing that was seen speaks for {this} against {that}"
    contrary = ranked[-1] if ranked and ranked[-1][1] <= -MATTERS else None
    if contrary:
        said += f", although {_mark(key, contrary[0])} would fit {that} better"
    here = weights.when_and_where
    if here <= -MATTERS:
        said += f"; what is likely here and now speaks for {that} all the same"
    elif here >= MATTERS and not expected:
        said += f"; neither is to be expected here and now, {that} even less"
    elif here >= MATTERS and here > weights.seen:
        said += "; but what is likely here and now counts for more than all that was seen"
    elif here >= MATTERS:
        said += "; what is likely here and now says the same"
    return f"{said}."


def _mark(key: Key, answer: Answer) -> str:
    character = key.characters[answer.character]
    return f"{character.title.lower()} {in_brackets(character, answer)}"


def short_names(names: Sequence[str]) -> list[str]:
    """Names without the last word where all share it: `Azure`, `Variable`."""
    last = {name.rpartition(" ")[2] for name in names}
    if len(last) == 1 and all(" " in name for name in names):
        return [name.rpartition(" ")[0] for name in names]
    return list(names)


def as_json(named: Named, other: int) -> dict[str, Any]:
    """One JSON-able object; weights in decibans, positive for the first candidate."""
    key, one, weights = named.key, named.assessment.candidates[0].species, weigh(named, other)
    return {
        "for": key.species[one].name,
        "against": key.species[other].name,
        "answers": [{"trait": trait_text(key, answer), "weight": weight} for answer, weight in weights.answers],
        "when_and_where": weights.when_and_where,
        "which_form": weights.which_form,
        "total": weights.total,
        "sentence": sentence(key, one, other, weights, expected=not far_down(key, named.setting, one)),
    }
