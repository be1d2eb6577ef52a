"""Whether a record as it once stood is among what is wanted: as finding.py asks of those that stand now."""

from __future__ import annotations

import string
from fnmatch import fnmatchcase

from reedmace.ledger.wanted import Wanted, inside
from reedmace.records import PlaceRecord, Sighting, Visit, span

# SQLite folds the case of ASCII letters only.
_FOLD = str.maketrans(string.ascii_uppercase, string.ascii_lowercase)


def meets(wanted: Wanted, sighting: Sighting, visit: Visit) -> bool:
    """Say whether a record meets a choice by days, `taxa`, square and locality; a choice by anything else is not read.

    Raises ValueError for such a choice.
    """
    asked = Wanted(wanted.year, wanted.since, wanted.until, taxa=wanted.taxa, square=wanted.square)
    if wanted._replace(locality=None, status=None) != asked:
        raise ValueError("only days, taxa, squares and places can be looked at in a record by itself")
    place = of_place(sighting, visit)
    return (
        _on_days(wanted, visit)
        and (not wanted.taxa or _fold(sighting.taxon.scientific_name) in {_fold(name) for name in wanted.taxa})
        and (wanted.square is None or any(fnmatchcase(place.square or "", one) for one in inside(wanted.square)))
        and (wanted.locality is None or _named(wanted.locality, place, visit))
    )


def of_place(sighting: Sighting, visit: Visit) -> PlaceRecord:
    """A sighting's own place, where it has one that can be looked for, stands instead of the visit's."""
    own = sighting.place
    return own if own is not None and (own.square or own.site or own.locality) else visit.place


def _on_days(wanted: Wanted, visit: Visit) -> bool:
    days = span(visit.date) if visit.date else None
    if days is None:
        return wanted.year is None and wanted.since is None and wanted.until is None
    return (
        (wanted.year is None or days.year == wanted.year)
        and (wanted.since is None or days.last >= wanted.since)
        and (wanted.until is None or days.first <= wanted.until)
    )


def _named(part: str, place: PlaceRecord, visit: Visit) -> bool:
    return any(_fold(part) in _fold(name) for name in (place.locality, visit.place.locality) if name)


def _fold(text: str) -> str:
    return text.translate(_FOLD)
