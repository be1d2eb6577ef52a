"""Two observers' tallies of one walk: probably the same insects, so the larger count and never the sum.

Nothing is decided here. Two visits of one day at one place by different people are put side by side, and in them
the sightings of one name, stage and sex. The user says whether they are the same insects.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, groupby
from typing import NamedTuple

from reedmace.ledger.notes import Note
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit

DIFFERENT = "different insects"


class SamePair(NamedTuple):
    """Two sightings, of one visit each, that are probably of the same insects; the larger one first."""

    larger: Sighting
    smaller: Sighting


class SameWalk(NamedTuple):
    """Two visits that are probably one walk, and the sightings that meet in them."""

    one: Visit
    other: Visit
    pairs: tuple[SamePair, ...]


def same_walks(ledger: Ledger, visits: Iterable[str] | None = None) -> list[SameWalk]:
    """Give the walks that were probably written down twice, but for those said to be different insects.

    With `visits`, only those in which one of these visits takes part. One day is held in memory at a time.
    """
    some = None if visits is None else frozenset(visits)
    if some is not None and not some:
        return []
    answered = {subject for subject, note in ledger.notes("query").items() if note.body.get("answer") == DIFFERENT}
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
            if subject_of(one.id, other.id) in answered or not _meet(one, other):
                continue
            pairs = _pairs(seen, also)
            if pairs:
                found.append(SameWalk(one, other, pairs))
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
    if one.start and one.end and other.start and other.end and (one.end < other.start or other.end < one.start):
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


def _pairs(seen: list[Sighting], also: list[Sighting]) -> tuple[SamePair, ...]:
    pairs = []
    left = list(also)
    for sighting in seen:
        match = next((one for one in left if _alike(sighting, one)), None)
        if match is not None:
            left.remove(match)
            larger, smaller = sorted((sighting, match), key=_size, reverse=True)
            pairs.append(SamePair(larger, smaller))
    return tuple(pairs)


def _alike(one: Sighting, other: Sighting) -> bool:
    return (
        one.taxon.scientific_name == other.taxon.scientific_name
        and one.taxon.one_of == other.taxon.one_of
        and (one.stage or "adult") == (other.stage or "adult")
        and one.sex == other.sex
        and bool(one.pairs) == bool(other.pairs)
    )


def _size(sighting: Sighting) -> tuple[int, str]:
    """A count beats none; of two alike the first minted stands, in every copy the same."""
    return (sighting.count_to or sighting.count or 0, "".join(chr(0x10FFFF - ord(sign)) for sign in sighting.id))
