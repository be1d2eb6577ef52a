"""Two observers' tallies of one walk: probably the same insects, so the larger count and never the sum.

Nothing is decided here. Two visits of one day at one place by different people are put side by side, and in them
what each wrote of one name: one may have parted males from females where the other counted them together, so it is
the whole of a name that is compared, and one of the two is taken as a whole. The user says whether they are the same
insects.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, groupby
from typing import NamedTuple

from reedmace.ledger.notes import Note
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit, apart_in_time

DIFFERENT = "different insects"


class SameName(NamedTuple):
    """What two visits wrote of one name, adults apart from larvae and cast skins; the larger total first."""

    larger: tuple[Sighting, ...]
    smaller: tuple[Sighting, ...]


class SameWalk(NamedTuple):
    """Two visits that are probably one walk, and the names that both have."""

    one: Visit
    other: Visit
    names: tuple[SameName, ...]


def same_walks(ledger: Ledger, visits: Iterable[str] | None = None) -> list[SameWalk]:
    """Give the walks that were probably written down twice, but for those said to be different insects.

    With `visits`, only those in which one of these visits takes part. One day is held in memory at a time.
    """
    some = None if visits is None else frozenset(visits)
    if some is not None and not some:
        return []
    answered = _answered(ledger)
    return [walk for walk in _walks(ledger, some) if subject_of(walk.one.id, walk.other.id) not in answered]


def same_walk(ledger: Ledger, one: str, other: str) -> SameWalk | None:
    """Give what two visits have in common, whatever was said of them before; None where it is nothing."""
    found = _walks(ledger, frozenset((one,)))
    return next((walk for walk in found if {walk.one.id, walk.other.id} == {one, other}), None)


def said_different(ledger: Ledger, one: str, other: str) -> bool:
    """Say whether two visits were said to have seen different insects."""
    return subject_of(one, other) in _answered(ledger)


def total(sightings: Iterable[Sighting]) -> int:
    """Give how many insects were counted together, of a range the upper end; 0 where nothing was counted."""
    return sum(sighting.count_to or sighting.count or 0 for sighting in sightings)


def _answered(ledger: Ledger) -> set[str]:
    return {subject for subject, note in ledger.notes("query").items() if note.body.get("answer") == DIFFERENT}


def _walks(ledger: Ledger, some: frozenset[str] | None) -> list[SameWalk]:
    found = []
    days = groupby(ledger.current_sightings(_wanted(ledger, some)), lambda row: row[1].date)
    for day, rows in days:
        if day is None or len(day) != 10:
            continue  # only an exact day says that it was the same walk
        walks: dict[str, tuple[Visit, list[Sighting]]] = {}
        for sighting, visit, _ in rows:
            walks.setdefault(visit.id, (visit, []))[1].append(sighting)
        for (one, seen), (other, also) in combinations(walks.values(), 2):
            if some is not None and one.id not in some and other.id not in some:
                continue
            if _meet(one, other) and (names := _names(seen, also)):
                found.append(SameWalk(one, other, names))
    return found


def _wanted(ledger: Ledger, some: frozenset[str] | None) -> Wanted:
    """Only the days in question, where they are known."""
    if some is None:
        return Wanted()
    days = [standing[0].date for one in some if (standing := ledger.standing(one)) and isinstance(standing[0], Visit)]
    exact = [day for day in days if day is not None and len(day) == 10]
    return Wanted(since=min(exact), until=max(exact)) if exact else Wanted(visit_id="")


def subject_of(one: str, other: str) -> str:
    """Give the id under which the answer for two visits is kept: the same in whatever order."""
    first, second = sorted((one, other))
    return f"same:{first}:{second}"


def different(one: str, other: str) -> Note:
    """Give the note that says that two visits saw different insects."""
    return Note("query", subject_of(one, other), {"answer": DIFFERENT, "visits": sorted((one, other))}, DIFFERENT)


def _meet(one: Visit, other: Visit) -> bool:
    """Two visits meet where different people were at one place, and not at times that exclude each other."""
    if set(one.observers) == set(other.observers):
        return False
    if apart_in_time(one, other):
        return False
    if one.place.site is not None and one.place.site == other.place.site:
        return True
    squares = [place.square for place in (one.place, other.place)]
    if all(squares):
        return _same_square(str(squares[0]), str(squares[1]))
    names = [" ".join(place.locality.casefold().split()) for place in (one.place, other.place)]
    return bool(names[0]) and names[0] == names[1]


def _same_square(one: str, other: str) -> bool:
    """One square is the other, or holds it: the digits of the coarser begin both halves of the finer."""
    (letters, digits), (others, more) = _cut(one), _cut(other)
    if letters != others or len(digits) % 2 or len(more) % 2:
        return one == other
    short = min(len(digits), len(more)) // 2
    halves = [(text[: len(text) // 2][:short], text[len(text) // 2 :][:short]) for text in (digits, more)]
    return halves[0] == halves[1]


def _cut(square: str) -> tuple[str, str]:
    letters = square.rstrip("0123456789")
    return letters, square[len(letters) :]


def _names(seen: list[Sighting], also: list[Sighting]) -> tuple[SameName, ...]:
    ours, theirs = _by_name(seen), _by_name(also)
    names = []
    for name in ours.keys() & theirs.keys():
        larger, smaller = sorted((ours[name], theirs[name]), key=_size, reverse=True)
        names.append(SameName(larger, smaller))
    return tuple(sorted(names, key=lambda one: [sighting.id for sighting in one.larger]))


def _by_name(sightings: list[Sighting]) -> dict[tuple[object, ...], tuple[Sighting, ...]]:
    """What one visit wrote of each name. What flies is one, however old: larvae and skins are other insects."""
    found: dict[tuple[object, ...], tuple[Sighting, ...]] = {}
    for sighting in sightings:
        stage = sighting.stage if sighting.stage in ("larva", "exuvia") else "adult"
        name = (sighting.taxon.scientific_name, sighting.taxon.one_of, stage)
        found[name] = (*found.get(name, ()), sighting)
    return found


def _size(sightings: tuple[Sighting, ...]) -> tuple[int, int, str]:
    """A count beats none; of two alike what says more of sex and pairs, then what was first minted, in every copy."""
    said = sum(sighting.sex is not None or sighting.pairs is not None for sighting in sightings)
    first = min(sighting.id for sighting in sightings)
    return total(sightings), said, "".join(chr(0x10FFFF - ord(sign)) for sign in first)
