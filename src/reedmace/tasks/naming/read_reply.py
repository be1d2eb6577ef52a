"""A reply to a question put: numbers or words, several, unsure, "can't tell", or a measurement."""

from __future__ import annotations

import re

from reedmace.faults import Fault
from reedmace.keys.answers import CANNOT_TELL, INSTRUMENTS, Answer, read_value
from reedmace.keys.model import Character

_SIZE = r"[0-9]+(?:\.[0-9]+)?"
# A length by eye is about so long anyway.
_ABOUT = re.compile(r"(?:about|around|roughly|some|approximately|circa|ca?\.?)\s+(?=[0-9])|\s*-?ish$|\s+or so$")
_IN_SHORT = {"y": "yes", "yep": "yes", "yeah": "yes", "n": "no", "nope": "no"}


def read_reply(character: Character, text: str) -> Answer | Fault:
    """A reply to a question put: state numbers or words, several, unsure, "can't tell", or a number."""
    plain = text.strip().casefold().replace("’", "'")
    unsure = False
    for mark in ("~", "unsure", "not sure", "maybe", "perhaps"):
        if plain.endswith(mark) or plain.startswith(f"{mark} "):
            unsure = True
            plain = plain.removesuffix(mark).removeprefix(f"{mark} ").strip(" ,")
    joined = plain.replace("'", "").replace(" ", "-")
    if plain in CANNOT_TELL or joined in CANNOT_TELL or (unsure and not plain):
        return Answer(character.index, text)
    tail = "~" if unsure else ""
    if character.is_number:
        plain = _ABOUT.sub("", plain)
        # The question names the unit, so here a bare number has one; how it was got may follow.
        bare = re.fullmatch(rf"({_SIZE}(?:\s*(?:-|–|to)\s*{_SIZE})?)(\s+[a-z]+)?", plain, re.ASCII)
        how = (bare[2] or "").strip() if bare else ""
        if bare and how in ("", "finger", *INSTRUMENTS):
            plain = f"{bare[1]}{character.unit}{':' * bool(how)}{how}"
        return read_value(character, f"{plain}{tail}")
    plain = _IN_SHORT.get(plain, plain)
    # Of numbers alone several are any of them, however they are put together.
    several = re.fullmatch(r"[0-9]{1,2}(?:(?:\s|&|\+|\band\b)+[0-9]{1,2})+", plain, re.ASCII)
    parts = re.findall("[0-9]+", plain) if several else re.split(r"\s*(?:/|,|\bor\b)\s*", plain)
    words = []
    for part in parts:
        if re.fullmatch(r"[0-9]{1,2}", part, re.ASCII):
            if not 1 <= int(part) <= len(character.states):
                hint = f"the answers are numbered 1 to {len(character.states)}"
                return Fault("no-such-number", f"There is no answer number {part}.", hint, text, typed=True)
            words.append(character.states[int(part) - 1].id)
        else:
            words.append(part)
    return read_value(character, "/".join(words) + tail)
