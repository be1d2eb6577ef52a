"""Typed answers → answers judged against a key: `wings-at-rest=closed`, `spur=absent~`, `length=30-35mm`.

A trait is `character=state`; `a/b` means either, a trailing `~` unsure. What both sides may be called is in
`matching`.
"""

import re
from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.lengths import IN_MM, in_figures, in_mm
from reedmace.keys.matching import find_character, find_states, fold
from reedmace.keys.model import Character, Key

CANNOT_TELL = (
    "cant-tell",
    "can't-tell",
    "cannot-tell",
    "can't tell",
    "cant tell",
    "?",
    "unknown",
    "dont-know",
    "i-dont-know",
    "cannot-say",
    "cant-say",
    "no-idea",
    "dunno",
)
CIRCUMSTANCES = {
    **dict.fromkeys(("date", "day", "month", "season", "when"), "--date 2026-07-12"),
    **dict.fromkeys(("place", "where", "location", "gridref", "region", "site"), '--place "SU 43 11"'),
    **dict.fromkeys(("habitat", "water"), "--habitat pond"),
}
MOST_WORDS = 48  # of a look in somebody's own words; whoever says more is asked one thing after the other
LONGEST = 1000  # signs of anything that is typed about an insect
_NOT_THERE = ("none", "no", "nothing", "absent", "missing")
_SHOWN = 40  # signs of what is longer, to know it by
# How a number was got: by eye, against a finger or ruler held near, or measured.
INSTRUMENTS = ("eye", "ruler", "measured")


class Answer(NamedTuple):
    """One answer. `states` are the state numbers it allows; a number has `low` and `high` instead.

    `low == high` for a single value; an answer of "can't tell" has neither, and weighs nothing.
    """

    character: int
    typed: str
    states: tuple[int, ...] = ()
    low: float | None = None
    high: float | None = None
    unsure: bool = False
    instrument: str = "eye"

    @property
    def says_nothing(self) -> bool:
        """True for "can't tell"."""
        return not self.states and self.low is None


def read_traits(key: Key, traits: Iterable[str]) -> tuple[Answer, ...]:
    """All traits of one look. Raises Refused with every fault at once; a character answered twice is a fault."""
    answers: dict[int, Answer] = {}
    faults: list[Fault] = []
    for trait in _looks(traits):
        read = read_trait(key, trait)
        if isinstance(read, Fault):
            faults.append(read)
        elif read.character in answers:
            title = key.characters[read.character].id
            faults.append(
                Fault(
                    "answered-twice",
                    f'"{title}" is answered twice.',
                    "either of two is written  a/b",
                    trait,
                    typed=True,
                )
            )
        else:
            answers[read.character] = read
    if faults:
        raise Refused(*faults)
    return tuple(answers.values())


def _looks(traits: Iterable[str]) -> list[str]:
    """Traits as they are; words without `=` side by side are one look, which the shell has taken apart."""
    looks: list[str] = []
    for bare, group in groupby(traits, lambda trait: "=" not in trait):
        said = list(group)
        looks += [(", " if any(" " in one.strip() for one in said) else " ").join(said)] if bare else said
    return looks


def too_long(text: str) -> Fault | None:
    """What is wrong with a line that was pasted: gone through word by word it would take minutes."""
    words = len(text.split())
    if len(text) <= LONGEST and ("=" in text or words <= MOST_WORDS):
        return None
    message = f"A line of {words} words and {len(text)} signs is too long to be gone through at once."
    hint = f"say it in parts: up to {MOST_WORDS} words on a line"
    return Fault("look-too-long", message, hint, f"{text[:_SHOWN].rstrip()} …", typed=True)


def read_trait(key: Key, trait: str) -> Answer | Fault:
    """One `character=state` → an answer, or what is wrong with it."""
    name, equals, value = trait.partition("=")
    if not equals:
        if long := too_long(trait):
            return long
        from reedmace.keys.hints import bare_word  # only those who slip pay for it

        return Fault(
            "no-equals",
            "A trait is written  character=state.",
            bare_word(key, trait),
            trait,
            typed=True,
        )
    circumstance = CIRCUMSTANCES.get(name.strip().casefold())
    if circumstance:
        return Fault(
            "circumstance-as-trait",
            f'"{name.strip()}" is not something seen on the insect: it says when and where.',
            f"give it as an option:  {circumstance}",
            trait,
            typed=True,
        )
    character = find_character(key, name)
    if isinstance(character, Fault):
        from reedmace.keys.hints import other_stage

        hint = other_stage(key, name) or other_stage(key, value) or character.hint
        return character._replace(said=trait, hint=hint)
    answer = read_value(character, value)
    if not isinstance(answer, Fault):
        return answer._replace(typed=trait)
    from reedmace.keys.hints import elsewhere

    return elsewhere(key, character, answer, value)._replace(said=trait)


def read_value(character: Character, text: str) -> Answer | Fault:
    """The value of one character: states, a number with its unit, or "can't tell"; a trailing `~` means unsure."""
    value = text.strip()
    unsure = value.endswith("~")
    value = value.removesuffix("~").strip()
    if value.casefold() in CANNOT_TELL or fold(value) in CANNOT_TELL:
        return Answer(character.index, text)
    if character.is_number:
        read = read_number(character, value)
        return read if isinstance(read, Fault) else read._replace(unsure=unsure, typed=text)
    plain, doubtful = split_doubt(value)
    if doubtful and isinstance(find_states(character, value), Fault):
        if not plain:
            message = f'"{value}" is no state of {character.id} ({character.title.lower()}).'
            hint = f"an answer that is not sure ends in a tilde:  {character.states[0].id}~ ; or leave it out"
            return Fault("unknown-state", message, hint, text, typed=True)
        if not isinstance(read_value(character, plain), Fault):
            return Fault("question-mark", "An unsure answer ends in a tilde.", f"write  {plain}~", text, typed=True)
    states: list[int] = []
    whole = find_states(character, value)
    if character.needs is not None and isinstance(whole, Fault) and fold(value) in _NOT_THERE:
        return Answer(character.index, text)  # of what is not there nothing can be told
    for part in [value] if not isinstance(whole, Fault) else value.split("/"):
        found = find_states(character, part)
        if isinstance(found, Fault):
            from reedmace.keys.spoken_value import states_said  # only what is no plain state pays for it

            left = states_said(character, value)
            return Answer(character.index, text, left, unsure=unsure) if left else found
        states += found
    return Answer(character.index, text, tuple(sorted(set(states))), unsure=unsure)


_DOUBT = ("?", "unsure", "not sure", "not-sure", "maybe", "perhaps", "possibly", "probably")


def split_doubt(typed: str) -> tuple[str, bool]:
    """The words without what says that they are not sure, and whether anything does."""
    plain, unsure = typed.strip(), False
    for mark in ("~", *_DOUBT):
        ends = plain.casefold().endswith(mark)
        if ends or plain.casefold().startswith(f"{mark} "):
            plain = (plain[: -len(mark)] if ends else plain[len(mark) :]).strip(" ,")
            unsure = True
    return plain, unsure


_NUMBER = r"([+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))"
_RANGE = rf"{_NUMBER}(?:\s*(?:-|–|to)\s*{_NUMBER})?\s*([a-z\"]*)(?:\s*[:,]?\s*(eye|ruler|finger|measured))?"


def read_number(character: Character, value: str) -> Answer | Fault:
    """`33mm`, `30-35mm`, `33mm:ruler` → an answer. The unit is asked for, so that no inch slips in as a millimetre.

    Centimetres and inches are rough, and read as the range that they are good to.
    """
    unit = character.unit

    def fault(code: str, message: str, hint: str) -> Fault:
        return Fault(code, message, hint, value, typed=True)

    text = value.casefold().strip()
    if re.search(r"[0-9],[0-9]", text):
        return fault("decimal-comma", "A comma could mean two things in a number.", f"write  {text.replace(',', '.')}")
    text = in_figures(text) if unit == "mm" else text
    match = re.fullmatch(_RANGE, text, re.ASCII)
    if not match:
        return fault("not-a-number", f'"{value}" is not a length.', f"write  33{unit}  or  30-35{unit}")
    low, high = float(match[1]), float(match[2] or match[1])
    if high == 0 and not match[3]:
        return _absurd(character, value)
    if low < 0 or high < 0 or match[1].startswith("+"):
        return fault("negative-number", "A length has no sign.", f"write  {abs(low):g}{match[3] or unit}")
    if low > high:
        hint = f"write  {high:g}-{low:g}{match[3] or unit}"
        return fault("range-order", "A range goes from smaller to larger.", hint)
    read = _in_unit(low, high, match[3], character, value)
    if isinstance(read, Fault):
        return read
    low, high = read
    assert character.range is not None
    if not (character.range[0] * 0.5 <= low and high <= character.range[1] * 1.5):
        return _absurd(character, value)
    instrument = {"finger": "ruler", None: "eye"}.get(match[4], match[4])
    return Answer(character.index, value, low=low, high=high, instrument=instrument or "eye")


def _in_unit(low: float, high: float, given: str, character: Character, value: str) -> tuple[float, float] | Fault:
    """A length in the unit that is asked for, or what is wrong with the unit that was given."""
    unit = character.unit
    both = f"{low:g}-{high:g}" if high != low else f"{low:g}"
    if given == unit:
        return low, high
    if not given:
        return Fault("missing-unit", "The number has no unit.", f"write  {both}{unit}", value, typed=True)
    if unit == "mm" and given in IN_MM:
        return in_mm(low, high, given)
    if unit == "mm" and given == "m":
        changed = f"{low * 1000:g}-{high * 1000:g}" if high != low else f"{low * 1000:g}"
        return Fault("wrong-unit", f"This is asked in {unit}.", f"write  {changed}{unit}", value, typed=True)
    message, hint = f'"{given}" is not a unit known here.', f"write it in {unit}:  {both}{unit}"
    return Fault("unknown-unit", message, hint, value, typed=True)


def _absurd(character: Character, value: str) -> Fault:
    assert character.range is not None
    least, most = character.range
    hint = f"they are {least:g} to {most:g} {character.unit}; was it another unit, or a slip?"
    return Fault("absurd-number", f"Nothing in this key is {value.strip()} long.", hint, value, typed=True)
