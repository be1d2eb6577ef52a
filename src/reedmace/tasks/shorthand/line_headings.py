"""Lines that could be the heading of a list: `Damselflies`, `Darters:`, `Zygoptera`, and a name with an empty colon."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.keys.names import UNIDENTIFIED, FoundName
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.line_said import Counted

_RANKS = ("idae", "ptera", "oidea")  # how the scientific names of groups above a genus end
_ADORNED = "*_=#:.-–— "


def heading_told(name: FoundName, said: Counted) -> Fault | None:
    """What is wrong with a name alone that heads a list as often as it says that some were there."""
    typed = said.typed.strip()
    if not said.left or typed[-1:].isdigit() or _says_more(said):
        return None
    if any(word.plain.strip(".:") in UNIDENTIFIED for word in said.left):
        return None
    bare = typed.strip(_ADORNED)
    ending = typed.endswith(":")
    several = name.group is not None or len(name.species) > 1
    latin = name.group is not None and (name.group.scientific or "").casefold() == bare.casefold()
    plural = several and "/" not in bare and (bare.casefold().endswith(_RANKS) or (bare[-1:] in "sS" and not latin))
    if not (ending or plural):
        return None
    hint = "leave a heading out; for what was seen write a number, or  present"
    if name.group is not None:
        hint = f"leave a heading out; for what was seen and not named further write  {bare} sp."
    return slip("heading-or-sighting", f'"{bare}" could be a heading, or what was seen.', hint, said.typed)


def _says_more(said: Counted) -> bool:
    counted = any(tally.typed or tally.sex or tally.stage or tally.behaviour or tally.pairs for tally in said.tallies)
    told = said.certainty or said.remarks or said.evidence or said.time or said.place or said.observers or said.company
    words = len([word for word in said.left if any(sign.isalnum() for sign in word.plain)])
    typed = len([word for word in said.typed.split() if any(sign.isalnum() for sign in word)])
    return bool(counted or told or said.determiner) or typed > words
