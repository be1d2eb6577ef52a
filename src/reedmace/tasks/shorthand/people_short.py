"""A name that may be short for another: "Ben" or "B. Sallow" where Ben Sallow is named or known. It is asked about.

Nobody is registered twice without a word. What stands in quotes is a name of its own, and so is one that is known.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from reedmace.faults import Fault
from reedmace.ledger.people import name_key
from reedmace.records import Visit
from reedmace.tasks.shorthand.field_words import Word
from reedmace.tasks.shorthand.page_said import PageVisit
from reedmace.tasks.shorthand.visit_said import VisitSaid

_Walk = tuple[PageVisit, VisitSaid, Visit | None]


def shortened(walks: Iterable[_Walk], register: Collection[str]) -> list[Fault]:
    """Every name without quotes that may be short for one of the page or of the register, each told once."""
    named = [(typed, name) for walk in walks for typed, names in _named(walk) for name in names]
    known = {_plain(name): name for name in register}
    full = {_plain(name.text): name.text for _, name in named} | known
    told: dict[str, Fault] = {}
    for typed, name in named:
        plain = _plain(name.text)
        if name.quoted or plain in known or plain in told:
            continue
        if longer := longer_names(name.text, full.values()):
            told[plain] = _may_be(name.text, longer, typed)
    return list(told.values())


def longer_names(name: str, known: Iterable[str]) -> list[str]:
    """The known names that a name may be short for."""
    plain = _plain(name)
    return [other for other in known if _plain(other) != plain and _short_for(plain, _plain(other))]


def _named(walk: _Walk) -> Iterable[tuple[str, tuple[Word, ...]]]:
    page, said, _ = walk
    yield said.typed, said.people
    for seen in page.lines:
        yield seen.line.typed, seen.line.said.people


def _plain(name: str) -> str:
    return " ".join(name_key(name).replace(".", " ").split())


def _short_for(short: str, full: str) -> bool:
    """Whether a name may be a part of another, or have initials where that has names: `ben`, `b sallow`, `bs`."""
    some, words = short.split(), full.split()
    if not some or len(words) < 2 or min(len(word) for word in (words[0], words[-1])) < 2:
        return False  # initials themselves
    if len(some) == 1:
        return short in (words[0], words[-1], "".join(word[0] for word in words))
    if some[-1] != words[-1] and len(some[-1]) > 1:
        return False
    firsts = some[:-1] if len(some[0]) > 1 else [*some[0], *some[1:-1]]
    ahead = words[0].startswith(firsts[0]) and (len(firsts[0]) == 1 or firsts[0] == words[0])
    return ahead and words[-1].startswith(some[-1]) and len(some) <= len(words) and short != full


def _may_be(name: str, longer: list[str], typed: str) -> Fault:
    either = " or ".join(longer)
    return Fault(
        "person-unclear",
        f'"{name}" could be {either}, or somebody else.',
        f'write the whole name,  {longer[0]}  ; of somebody else the name in quotes:  "{name}"',
        typed.strip() or name,
        typed=True,
    )
