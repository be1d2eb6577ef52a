"""Words that are no trait yet → the traits that they could be, offered to be typed and never taken unasked."""

from __future__ import annotations

from reedmace.faults import Fault
from reedmace.keys.matching import character_names, find_character, find_states, fold, state_names
from reedmace.keys.model import EFFORTS, Character, Key
from reedmace.keys.shipped import shipped_for

MOST = 5  # traits offered at a time
QUESTIONS = "all questions:  reedmace key , then  questions"
EXAMPLE = "wings-at-rest=closed"
STAGES = {
    "adult": ("adult", "imago"),
    "exuvia": ("exuvia", "exuviae", "exuvium", "cast skin", "castskin", "cast", "skin", "shed skin", "larval skin"),
    "larva": ("larva", "larvae", "nymph"),
}
SAID = {"adult": "adults", "exuvia": "cast skins (exuviae)", "larva": "larvae"}
_SMALL = {"the", "and", "a", "of", "at", "on", "in", "is", "to", "or", "by", "colour", "color"}  # of no one character


def bare_word(key: Key, typed: str) -> str:
    """A hint for words without `=`: the traits they could be (all of a character named), or an example."""
    if other := other_stage(key, typed):
        return other
    character = find_character(key, typed)
    named = isinstance(character, Character) and fold(typed) in character_names(character)
    traits = [] if named else traits_meant(key, typed)
    if isinstance(character, Character) and not traits:
        values = [state.id for state in character.states] or ["30-35mm"]
        traits = [f"{character.id}={value}" for value in values[:MOST]]
    return f"{typed.strip()}: {', '.join(traits)}; {QUESTIONS}" if traits else f"for example  {EXAMPLE}; {QUESTIONS}"


def other_stage(key: Key, typed: str) -> str:
    """The hint for words of a stage that the key does not name: which key does; empty for all other words."""
    word = singular(typed.strip().casefold().replace("-", " "))
    stage = next((stage for stage, words in STAGES.items() if word in words and stage != key.stage), None)
    if stage is None:
        return ""
    found = shipped_for(stage)
    if found:
        return f"{SAID[stage]} have a key of their own:  reedmace key --key {found}"
    skins = shipped_for("exuvia") if stage == "larva" and key.stage != "exuvia" else None
    also = f"; cast skins have one:  reedmace key --key {skins}" if skins else ""
    return f"this key names {SAID[key.stage]}, and no key here names {SAID[stage]}{also}"


def elsewhere(key: Key, character: Character, fault: Fault, value: str) -> Fault:
    """The fault of a value that is no state of a character, with others' that share a word with it: `eyes=blue`."""
    words = words_of(character)
    akin = [other for other in _said_of(key, value) if other is not character and words & words_of(other)]
    if fault.code not in ("unknown-state", "not-a-number") or not akin:
        return fault
    number = f"; or {fault.hint}" if character.is_number else ""  # `size=big` is a matter of build
    return fault._replace(hint=f"perhaps  {' or '.join(_trait(other, value) for other in akin[:MOST])}{number}")


def or_traits(key: Key, fault: Fault, typed: str) -> Fault:
    """The fault of a line that is neither question nor answer, with the traits that it could be."""
    traits = traits_meant(key, typed)
    return fault._replace(hint=f"{typed.strip()}: {', '.join(traits)}; or type  questions") if traits else fault


def traits_meant(key: Key, typed: str) -> list[str]:
    """The traits that words could be, at most `MOST`: a state alone, or a character's word beside a state's."""
    words = [word for word in fold(typed).split("-") if word]
    if not words:
        return []
    traits = [_trait(character, typed) for character in _said_of(key, typed)]
    for cut in range(1, len(words)):
        for part, value in ((words[:cut], words[cut:]), (words[cut:], words[:cut])):
            wanted = {singular(word) for word in part}
            said = _said_of(key, " ".join(value))
            traits += [_trait(one, " ".join(value)) for one in said if wanted <= words_of(one)]
    return list(dict.fromkeys(traits))[:MOST]


def _said_of(key: Key, value: str) -> list[Character]:
    """The characters of which a value is a state, or a word inside one: plain states first, then the easily seen."""
    wanted = fold(value)
    if len(wanted) < 3 or wanted == "yes":
        return []
    found = []
    for character in key.characters:
        if character.is_number or not any(
            f"-{wanted}-" in f"-{name}-" for state in character.states for name in state_names(state)
        ):
            continue
        plain = any(wanted in (fold(state.id), fold(state.title)) for state in character.states)
        found.append((not plain, EFFORTS.index(character.effort), character.index, character))
    return [row[-1] for row in sorted(found)]


def _trait(character: Character, value: str) -> str:
    """The trait to type: as the word was typed where it reads, else with every state it is a part of."""
    states = find_states(character, value)
    if not isinstance(states, Fault):
        return f"{character.id}={fold(value) if len(states) > 1 else character.states[states[0]].id}"
    wanted = fold(value)
    ids = [one.id for one in character.states if any(f"-{wanted}-" in f"-{name}-" for name in state_names(one))]
    return f"{character.id}={'/'.join(ids)}"


def words_of(character: Character) -> set[str]:
    """The words by which a question can be known, in the singular, without those that many share."""
    return {singular(word) for name in character_names(character) for word in name.split("-")} - _SMALL


def singular(word: str) -> str:
    """A word without the ending of many."""
    return word[:-1] if len(word) > 3 and word.endswith("s") else word
