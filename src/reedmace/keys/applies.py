"""Which guises a character is asked of."""

from __future__ import annotations

from reedmace.keys.authoring import GuiseEntry, SpeciesFile
from reedmace.keys.authoring_characters import CharacterEntry


def applies_to(entry: CharacterEntry, content: SpeciesFile, guise: GuiseEntry, suborders: dict[str, str]) -> bool:
    """True where the question makes sense for a guise; `suborders` are those of the families."""
    taxa = {content.genus, content.family, suborders.get(content.family, "")}
    applies = entry.applies
    return (
        (not applies.groups or bool(taxa & set(applies.groups)))
        and (not applies.sexes or guise.sex is None or guise.sex in applies.sexes)
        and (not applies.ages or guise.age in applies.ages)
    )
