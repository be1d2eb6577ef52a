"""What must be handled with care: protected species, sensitive places, children's names."""

from __future__ import annotations

from collections.abc import Iterator

from reedmace.checks.complete import metres
from reedmace.checks.query import Grounds, Query, Record, query


def protected(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A protected species: a word of care, not a doubt."""
    for species in record.species:
        if species.protected:
            for note in species.more.protection:
                remedy = "send it to the county recorder; do not publish the exact place"
                yield query(record, "protected", "note", f"{species.english}: {note['text']}", remedy)


def sensitive(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A species of which the county recorder does not want exact places to be published."""
    county = grounds.county_of(record)
    if county is None:
        return
    for species in record.species:
        local = county.species.get(species.name)
        if local and local.blur_m:
            note = f" {local.note}" if local.note else ""
            reason = f"{species.english} is sensitive here, by the {county.cited}.{note}"
            remedy = f"publish nothing finer than {metres(local.blur_m)}, photographs and remarks of that visit included"
            yield query(record, "sensitive", "note", reason, remedy)
