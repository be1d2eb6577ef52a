"""Names of children in words that are kept with a record, whatever way they came: looked for as in a line of `log`.

What a sheet, a correction or a county recorder says of a child is kept for ever as much as what was typed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from reedmace.faults import Fault
from reedmace.records import Sighting, Visit
from reedmace.tasks.shorthand.children import children_in_text
from reedmace.tasks.shorthand.names_with_ages import AGES, GROUPS, child_words

if TYPE_CHECKING:
    from reedmace.keys.model import Key


def children_in_words(texts: Iterable[str], key: Callable[[], Key], *, beside: str = "") -> list[Fault]:
    """Every name in these texts that may be a child's, such as those of a remark or a reason; [] where there is none.

    `beside` are further words that may speak of children. The key, which tells the names of animals from those of
    people, is asked for only where a name was found.
    """
    some = [text for text in texts if text.strip()]
    if not any(_found(text, beside) for text in some):
        return []
    from reedmace.keys.names import key_words

    known = key_words(key())
    return _once(fault for text in some for fault in children_in_text(text, known, beside=beside))


def children_of_sighting(
    sighting: Sighting, visit: Visit, key: Callable[[], Key], names: Callable[[], Iterable[str]] = tuple
) -> list[Fault]:
    """Every name in the words of a sighting itself that may be a child's.

    `names` gives the names of those who saw it: whoever is known in full is meant by a first name alone.
    """
    return _in_words(_of_sighting(sighting), _beside(visit), key, names)


def children_of_visit(visit: Visit, key: Callable[[], Key], names: Callable[[], Iterable[str]] = tuple) -> list[Fault]:
    """Every name in the words of a visit that may be a child's; see `children_of_sighting`."""
    return _in_words(_of_visit(visit), _beside(visit), key, names)


def may_name_children(visit: Visit, sighting: Sighting | None = None) -> bool:
    """Whether it is worth looking for names of children in a visit or a record: without knowing any animal or adult."""
    beside = _beside(visit)
    texts = (*(_of_sighting(sighting) if sighting is not None else ()), *_of_visit(visit))
    return any(text and _found(text, beside) for text in texts)


def may_be_childs(text: str, visit: Visit) -> bool:
    """Whether it is worth looking for a name in words of a sighting of this visit."""
    return _found(text, _beside(visit))


def _of_sighting(sighting: Sighting) -> tuple[str, ...]:
    return sighting.remarks, "; ".join(sighting.behaviour), _note(sighting.typed)


def _of_visit(visit: Visit) -> tuple[str, ...]:
    words = (visit.remarks, visit.party, visit.method, visit.weather, visit.habitat, visit.permission_noted)
    return *words, _note(visit.typed)


def _beside(visit: Visit) -> str:
    return f"{visit.party} {visit.remarks}"


def _in_words(
    texts: Iterable[str], beside: str, key: Callable[[], Key], names: Callable[[], Iterable[str]]
) -> list[Fault]:
    some = [text for text in texts if text and _found(text, beside)]
    if not some:  # nearly always
        return []
    from reedmace.keys.names import key_words

    known = key_words(key())
    adults = {name.split()[0].casefold() for name in names() if " " in name.strip()}
    return _once(
        fault._replace(typed=False)
        for text in some
        for fault in children_in_text(text, known, beside=beside, adults=adults)
    )


@lru_cache(5000)
def _found(text: str, beside: str) -> bool:
    """Say whether there may be a name, whatever animals are called: rows and visits repeat their words."""
    return _speaking().search(f"{beside} {text}") is not None and bool(children_in_text(text, beside=beside))


@cache
def _speaking() -> re.Pattern[str]:
    """Whatever tells of ages or children, without which no name is looked for: most of a hundred thousand remarks."""
    words = (*child_words()[0], *child_words()[1], *GROUPS, "she", "he", "reception")
    ages = rf"\bage|\baged|old|\by/?o|y/o|yrs?\b|years?\b|\byr|\by1?[0-9]|[,(]\s*(?:[0-9]|(?:{'|'.join(AGES)})\b)"
    parents = r"\b(?:mum|dad|mother|father|parent|gran)"
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, words))})\b|{parents}|{ages}", re.IGNORECASE)


def _note(typed: str) -> str:
    """The part of a line as typed that says what nobody reads: names of people are marks in the other."""
    return typed.partition("#")[2]


def _once(faults: Iterable[Fault]) -> list[Fault]:
    """Each name once."""
    return list({fault.message.partition(" may be ")[0]: fault for fault in faults}.values())


def name_told(fault: Fault) -> str:
    """The name that a fault of this kind is about."""
    return fault.message.partition(" may be ")[0].strip('"')
