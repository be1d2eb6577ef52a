"""Words for sex, stage and what insects did, in whatever column they stand: `ad f`, `imm`, `Emperor larva`."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from reedmace.faults import Fault, did_you_mean
from reedmace.tasks.sheets.values import MORE_STAGES, NO_SEX
from reedmace.tasks.shorthand.field_words import BEHAVIOURS, PAIRS, PLAIN_PAIRS, SEXES, STAGES

_STAGES = STAGES | MORE_STAGES
_ACTS = BEHAVIOURS | PAIRS | PLAIN_PAIRS
_SIGNS = ".,;:()[]&+|/"
_HINT = "write words for one sex and one stage, such as  ad f ; what else there is goes into the remarks"

_NUMBERS = "numbers go into the column of the count, such as  1m 2f ; here stands one sex, or one stage"


class Kind(NamedTuple):
    """What insects were, as far as it was said."""

    sex: str | None = None
    stage: str | None = None
    behaviour: tuple[str, ...] = ()

    def into(self, what: Mapping[str, Any], cell: str) -> dict[str, Any] | Fault:
        """Join this to what other cells said of a sighting, in its fields; a fault where they contradict each other."""
        joined = dict(what)
        for field, said in (("sex", self.sex), ("stage", self.stage)):
            if said is not None and joined.setdefault(field, said) not in (None, said):
                why = f'One cell of this row says "{said}", and another "{joined[field]}".'
                return Fault("cells-differ", why, "correct one of them", cell)
        if self.behaviour:
            joined["behaviour"] = tuple(dict.fromkeys((*joined.get("behaviour", ()), *self.behaviour)))
        return joined


def read_kind(text: str) -> Kind | Fault:
    """Read a cell that holds nothing but such words, in any order; both sexes are no sex."""
    words = [word for word in re.split(r"[\s,;:()\[\]&+|/]+", text.casefold()) if word.strip(".")]
    if text.strip().casefold() in NO_SEX:
        return Kind()
    sexes, stages, acts = set[str](), set[str](), dict[str, None]()
    for word in words:
        plain = word.strip(".")
        if plain in SEXES:
            sexes.add(SEXES[plain])
        elif plain in _STAGES:
            stages.add(_STAGES[plain])
        elif plain in _ACTS:
            acts[_ACTS[plain]] = None
        elif plain not in ("and", *NO_SEX):
            hint = _NUMBERS if any(map(str.isdigit, plain)) else did_you_mean(plain, {**SEXES, **_STAGES}, _HINT)
            return Fault("unknown-word", f'"{plain}" is no sex, and no stage of life.', hint, text)
    # An immature one is an adult too.
    stages -= {"adult"} if len(stages) > 1 else set()
    if len(stages) > 1:
        return Fault("cells-differ", f"This cell says {' and '.join(sorted(stages))}.", "write a row for each", text)
    return Kind(sexes.pop() if len(sexes) == 1 else None, stages.pop() if stages else None, tuple(acts))


def stage_alone(text: str) -> str:
    """Give the stage that is all a cell says; blank where it says something else, or more."""
    plain = " ".join(re.findall(r"[^\W\d_]+", text.casefold()))
    plain = re.sub(r"\b(?:only|all|just|found|seen)\b", "", plain).strip()
    return _STAGES.get(plain, "") if not any(map(str.isdigit, text)) else ""


def apart(name: str, known: Callable[[str], bool]) -> tuple[str, Kind] | None:
    """Part a name from such words before and behind it, where what is left is a name that is `known`; else None."""
    words = name.split()
    first, last = 0, len(words)
    while first < last and _says(words[first]):
        first += 1
    while last > first and _says(words[last - 1]):
        last -= 1
    left = " ".join(words[first:last]).rstrip(_SIGNS)
    kind = read_kind(" ".join((*words[:first], *words[last:])))
    if not left or len(words) == last - first or isinstance(kind, Fault) or not known(left):
        return None
    return left, kind


def _says(word: str) -> bool:
    plain = word.casefold().strip(_SIGNS)
    if len(plain) == 1 and plain.isalpha():
        return False  # behind a name it may be who gave it
    return not plain or plain in SEXES or plain in _STAGES or plain in _ACTS
