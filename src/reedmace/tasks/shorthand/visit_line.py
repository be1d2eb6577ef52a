"""The line of a visit → what its sightings share: `visit 2026-07-12 10:30 @ SU 431 118 "Sallow Farm" 21C F2 all`.

The parts come in any order. A line that begins with `@` is a place within the visit. What is not understood is a
fault with its column; text in quotes is the name of the place, then remarks. The grammar: docs/shorthand.md.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.records import Site
from reedmace.tasks.shorthand import (
    visit_how,
    visit_party,
    visit_slips,
    visit_times,
    visit_unsigned,
    visit_weather,
    visit_when_where,
)
from reedmace.tasks.shorthand.field_words import slip
from reedmace.tasks.shorthand.visit_said import Reader, VisitSaid
from reedmace.tasks.shorthand.visit_words import cut_visit

_REMARK = "to keep it as a remark, write it after  #"
_ARE = "are not understood on the line of a visit."
# Tried in this order at every word.
_READERS: tuple[Callable[[Reader, int], int | None], ...] = (
    visit_when_where.place,
    visit_how.duration,
    visit_times.times,
    visit_slips.weekday,
    visit_weather.temperature,
    visit_weather.sun,
    visit_weather.wind,
    visit_how.passes,
    visit_when_where.day,
    visit_slips.year_missing,
    visit_weather.sky,
    visit_how.completeness,
    visit_party.people,
    visit_when_where.county,
    visit_how.permission,
    visit_how.named_value,
    visit_when_where.kind,
    visit_when_where.habitat,
    visit_how.method,
    visit_when_where.county_named,
    visit_times.whole_hours,
    visit_slips.about_year,
    visit_slips.day_unsaid,
    visit_unsigned.reference,
    visit_unsigned.name_behind,
    visit_how.joining,
)


def read_visit_line(
    key: Key, typed: str, *, today: date, now: str = "", sites: Sequence[Site] = ()
) -> tuple[VisitSaid, tuple[Fault, ...]]:
    """Understand the line of a visit, or of a place within one; every fault of it at once.

    `now` is the local time `HH:MM` that the word "now" means.
    """
    pieces = cut_visit(typed)
    if isinstance(pieces, Fault):
        return VisitSaid(typed), (pieces,)
    reader = Reader(key, typed, pieces.words, today, now, sites)
    at = 1 if pieces.words and pieces.words[0].plain.rstrip(":.") in ("visit", "walk") else 0
    while at < len(pieces.words):
        at = _step(reader, at)
    said = reader.said._replace(weather=", ".join(reader.weather), notes=tuple(reader.notes))
    if said.wind is None and len(reader.breezes) == 1:  # a figure counts before a word
        said = said._replace(wind=(min(reader.breezes), max(reader.breezes)))
    if pieces.comment:
        said = said._replace(notes=(*said.notes, pieces.comment))
    return said, _as_one(reader.faults, typed)


def _as_one(faults: Sequence[Fault], typed: str) -> tuple[Fault, ...]:
    """The faults, with words in a row that are not understood told of together."""
    found: list[Fault] = []
    for fault in faults:
        before = found[-1] if found else None
        if before is not None and before.where and fault.where and before.where.column and fault.where.column:
            start, end = before.where.column - 1, fault.where.column - 1 + fault.where.width
            gap = typed[start + before.where.width : fault.where.column - 1]
            alike = (before.code, before.hint) == (fault.code, fault.hint) == ("visit-word-not-read", _REMARK)
            if alike and gap.isspace():
                found[-1] = slip(fault.code, f'"{typed[start:end]}" {_ARE}', _REMARK, typed, start, end)
                continue
        found.append(fault)
    return tuple(found)


def _step(reader: Reader, at: int) -> int:
    word = reader.words[at]
    if word.quoted:
        reader.quoted(word)
        return at + 1
    for read in _READERS:
        end = read(reader, at)
        if end is not None:
            return end
    hint = _REMARK
    if word.text[:1].isupper():
        hint = "a person goes behind  by  or  with ; a remark after  #"
    reader.fault("visit-word-not-read", f'"{word.text}" is not understood on the line of a visit.', hint, word)
    return at + 1
