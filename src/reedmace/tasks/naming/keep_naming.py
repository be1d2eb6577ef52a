"""What the key said, as the plain copy that is kept beside a record."""

from __future__ import annotations

from reedmace import __version__
from reedmace.records import Answer as KeptAnswer
from reedmace.records import Circumstances as KeptCircumstances
from reedmace.records import Naming, Ranked
from reedmace.scoring.verdict import OUTSIDE
from reedmace.tasks.naming.answer_words import trait_text
from reedmace.tasks.naming.name_insect import Named

RANKED_KEPT = 10  # candidates kept with a record


def as_naming(named: Named) -> Naming:
    """The plain copy that is kept beside a record."""
    key, found, setting = named.key, named.assessment, named.setting
    verdict = found.verdict
    eye = "practised" if named.tables.eye == "practised" else "beginner"
    word = verdict.word
    assert word in ("settled", "narrowed", "open", "outside")
    return Naming(
        key.id,
        key.version,
        key.digest,
        eye,  # type: ignore[arg-type]  # one of the two words, checked above
        tuple(
            KeptAnswer(key.characters[answer.character].id, trait_text(key, answer).partition("=")[2])
            for answer in found.answers
        ),
        KeptCircumstances(
            setting.date.typed if setting.date else "",
            setting.place.typed if setting.place else setting.area,
            setting.habitat.id if setting.habitat else "",
            setting.flat,
        ),
        word,  # type: ignore[arg-type]
        verdict.name if word != OUTSIDE else "",
        tuple(
            Ranked(key.species[one.species].name, key.guises[one.guise].title, one.probability)
            for one in found.candidates[:RANKED_KEPT]
        ),
        __version__,
    )
