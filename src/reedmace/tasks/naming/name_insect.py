"""Name an insect from traits given at once, and put the engine's answer into plain values for other programs."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from reedmace.keys.answers import Answer, read_traits
from reedmace.keys.model import Key
from reedmace.scoring.assessment import Assessment, assess, hinge_of
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.answer_words import trait_text
from reedmace.tasks.naming.expect_here import far_down
from reedmace.tasks.shared.setting import Setting


class Named(NamedTuple):
    """A look, its setting and what the engine says of it."""

    tables: Tables
    setting: Setting
    assessment: Assessment
    hinge: Answer | None

    @property
    def key(self) -> Key:
        """The key used."""
        return self.tables.key


def name_insect(tables: Tables, setting: Setting, traits: Sequence[str]) -> Named:
    """Read the traits and assess them. Raises Refused with every fault in them."""
    return name_answers(tables, setting, read_traits(tables.key, traits))


def name_answers(tables: Tables, setting: Setting, answers: Sequence[Answer]) -> Named:
    """Assess answers already read."""
    circumstances = setting.circumstances(tables.key)
    assessment = assess(tables, circumstances, answers)
    weighed = tables.doubting if assessment.doubting else tables
    return Named(weighed, setting, assessment, hinge_of(tables, assessment))


def as_json(named: Named) -> dict[str, Any]:
    """One JSON-able object, as the command contract names it."""
    key, found = named.key, named.assessment
    verdict = found.verdict
    return {
        "verdict": {
            "word": verdict.word,
            "name": verdict.name,
            "vernacular": verdict.vernacular,
            "rank": verdict.rank,
            "set": species_named(key, found),
            "guise": verdict.guise,
            "probability": verdict.probability,
        },
        "candidates": [
            {
                "name": key.species[one.species].name,
                "vernacular": key.species[one.species].english,
                "guise": key.guises[one.guise].title,
                "probability": one.probability,
                "evidence": one.evidence,
                "far_down": list(far_down(key, named.setting, one.species)),
            }
            for one in found.candidates
        ],
        "outside": found.after.outside,
        "fit": found.fit,
        "expected": expected(key, found),
        "look_next": [
            {
                "character": key.characters[look.character].id,
                "gain": look.gain,
                "effort": look.effort,
                "question": key.characters[look.character].question,
                "photograph": look.photograph or None,
            }
            for look in found.looks.looks
        ],
        "look_next_end": found.looks.end,
        "hinge": trait_text(key, named.hinge) if named.hinge else None,
        "rule_out": [
            {
                "name": rival.name,
                "mark": rival.entry.mark if rival.entry else None,
                "told_apart": rival.separated,
            }
            for rival in verdict.rivals
        ],
        "caution": key.caution or None,
        "key": {"id": key.id, "version": key.version, "digest": key.digest},
    }


def species_named(key: Key, found: Assessment) -> list[str]:
    """Scientific names of every species that the verdict leaves possible."""
    verdict = found.verdict
    return [key.species[one].name for one in verdict.members] + [key.undescribed[one].name for one in verdict.others]


def expected(key: Key, found: Assessment, least: float = 0.001) -> list[dict[str, Any]]:
    """What place, date and habitat alone make likely, most likely first."""
    order = sorted(range(len(key.species)), key=lambda species: -found.before.species[species])
    return [
        {
            "name": key.species[species].name,
            "vernacular": key.species[species].english,
            "probability": found.before.species[species],
        }
        for species in order
        if found.before.species[species] >= least
    ]
