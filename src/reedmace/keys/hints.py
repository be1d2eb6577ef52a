"""Words that are no trait yet → the traits that they could be, offered to be typed and never taken unasked."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from reedmace.faults import Fault
from reedmace.keys.matching import character_names, find_character, find_states, fold, state_names
from reedmace.keys.model import EFFORTS, Character, Key, Named
from reedmace.keys.regions import regions_called, without_article
from reedmace.keys.seasons import MONTHS, bare_day
from reedmace.keys.shipped import shipped_for

if TYPE_CHECKING:
    from reedmace.keys.answers import Answer

SEXES = ("male", "female")
MOST = 5  # traits offered at a time
EACH = 2  # of one word among several
QUESTIONS = "all questions:  reedmace key , then  questions"
STAGES = {
    "adult": ("adult", "imago"),
    "exuvia": ("exuvia", "exuviae", "exuvium", "cast skin", "castskin", "cast", "skin", "shed skin", "larval skin"),
    "larva": ("larva", "larvae", "nymph"),
}
SAID = {"adult": "adults", "exuvia": "cast skins (exuviae)", "larva": "larvae"}
SHARED = {"the", "and", "a", "of", "at", "on", "in", "is", "to", "or", "by", "colour", "color"}  # of no one character


def bare_word(key: Key, typed: str) -> str:
    """A hint for words without `=`: the traits they could be (all of a character named), or an example."""
    character = find_character(key, typed)
    named = isinstance(character, Character) and fold(typed) in character_names(character)
    if not named and (other := other_stage(key, typed)):
        return other
    from reedmace.keys.remarks import remarked

    aside = remarked(key, typed)
    if aside.told:
        rest = aside.rest if aside.rest and _in_own_words(key, aside.rest, when_where(key, aside.rest)) else ""
        more = f" What else it could be:  {bare_word(key._replace(remarks=()), rest)}" if rest else ""
        return f"{' '.join(aside.told)}{more}"
    plain = " ".join(typed.casefold().split())
    options = when_where(key, typed)
    apart = f"when and where are options:  {' '.join(options.values())}"
    if plain in options:
        return apart
    if plain in SEXES and (marks := sexing(key)):
        states = " or ".join(f"{marks[0].id}={state.id}" for state in marks[0].states)
        return f"male or female is read off its marks:  {states}"
    traits = [] if named else _traits_of(key, typed) or traits_meant(key, typed)
    if isinstance(character, Character) and not traits:
        values = [state.id for state in character.states] or ["30-35mm"]
        traits = [f"{character.id}={value}" for value in values[:MOST]]
    traits = traits or _in_own_words(key, typed, options)
    if not traits and options:
        return apart
    if not traits:
        from reedmace.keys.names import named as name_of

        lead = "a name is no mark: say what you saw of it, " if name_of(key, typed) else ""
        return f"{lead}for example  {example_trait(key)}; {QUESTIONS}"
    return f"{typed.strip()}: {', '.join((*traits, *options.values()))}; {QUESTIONS}"


def sexing(key: Key) -> tuple[Character, ...]:
    """The characters that tell the sex."""
    return tuple(one for one in key.characters if one.sexing and one.states)


def _traits_of(key: Key, typed: str) -> list[str]:
    """The traits that words by themselves are, or could be; a size where one thing only is measured."""
    from reedmace.keys.answers import read_value
    from reedmace.keys.bare_words import words_meant

    measured = [one for one in key.characters if one.is_number]
    if len(measured) == 1 and typed.strip()[:1].isdecimal() and not isinstance(read_value(measured[0], typed), Fault):
        return [f"{measured[0].id}={''.join(typed.split())}"]
    meant = words_meant(key, typed)
    return [] if meant.loose else [_said(key, answer) for answer in meant.answers[:MOST]]


def example_trait(key: Key, *, short: bool = False) -> str:
    """A trait of this key, as an example; `short` with the everyday name of its question, where it has one."""
    character = next((one for one in key.characters if one.states), None)
    if character is None:
        return "length=30-35mm"
    return f"{next(iter(character.aliases), character.id) if short else character.id}={character.states[0].id}"


def _in_own_words(key: Key, typed: str, options: dict[str, str]) -> list[str]:
    """The traits that a whole look in somebody's own words speaks of."""
    from reedmace.keys.spoken import heard

    aside = frozenset(word for part in options for word in part.split())
    look = heard(key, typed, aside)
    found = [_said(key, answer) for answer in look.answers]
    return [*found, *_by_themselves(key, look.parts, found)]


def _by_themselves(key: Key, parts: tuple[str, ...], found: list[str]) -> list[str]:
    """What words could be that were taken to belong to others, "blue" to the wings: seen most easily first."""
    from reedmace.keys.bare_words import words_meant

    more: list[str] = []
    words = [word for part in parts if " " in part for word in re.findall(r"[^\W\d_]{3,}", part.casefold())]
    for word in dict.fromkeys(words):
        meant = words_meant(key, word)
        traits = [_said(key, answer) for answer in meant.answers[: meant.exact]]
        said = any(word in re.split("[=/~]", trait)[1:] for trait in found)
        if traits and traits[0] not in found and not said:
            more += [trait for trait in traits[:EACH] if trait not in (*found, *more)]
    return more


def _said(key: Key, answer: Answer) -> str:
    character = key.characters[answer.character]
    states = "/".join(character.states[state].id for state in answer.states)
    return f"{character.id}={states}{'~' if answer.unsure else ''}"


def when_where(key: Key, typed: str) -> dict[str, str]:
    """The months, the waters and the regions that words speak of, each with the option that says it."""
    words = re.split(r"[\s,;]+", typed.casefold().strip(" .!?"))
    said: dict[str, str] = {}
    for length in (3, 2, 1):
        for at in range(len(words) - length + 1):
            part = " ".join(words[at : at + length])
            if any(f" {part} " in f" {longer} " for longer in said):
                continue
            if habitat := habitat_called(key, part):
                said[part] = f"--habitat {habitat.id}"
            elif regions_called(key, part):
                named = re.sub(r" (Of|And) ", lambda small: small[0].lower(), without_article(part).title())
                said[part] = f'--place "{named}"' if " " in named else f"--place {named}"
            elif (day := bare_day(part)) and 1 <= int(day[0]) <= 31:
                said[part] = f'--date "{int(day[0])} {day[1].capitalize()}"'
            elif month := _month(part, alone=len(words) == 1):
                said[part] = f"--date {month.capitalize()}"
    return said


def _month(word: str, *, alone: bool) -> str:
    """The month that a word is, or is short for; "may" and "mar" are more often something else."""
    if word in ("may", "mar") and not alone:
        return ""
    short = word in ("sept", *(month[:3] for month in MONTHS))
    return next((month for month in MONTHS if word == month or (short and month.startswith(word[:3]))), "")


def habitat_called(key: Key, name: str) -> Named | None:
    """The habitat that is called so in full: the beginning of a word could be that of a mark."""
    for habitat in key.habitats:
        if fold(name) in map(fold, (habitat.id, habitat.title, *habitat.words)):
            return habitat
    return None


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
    """The words by which a question can be known, in the singular, without those that many share.

    What stands behind a comma in its title says of whom it is asked, and names nothing: "Mark on segment 2, hawkers".
    """
    names = (character.id, character.title.partition(",")[0], *character.aliases)
    return {singular(word) for name in map(fold, names) for word in name.split("-")} - SHARED


def singular(word: str) -> str:
    """A word without the ending of many."""
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") else word
