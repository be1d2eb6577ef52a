"""What must be handled with care: protected species, sensitive places, children's names."""

from __future__ import annotations

import re
from collections.abc import Iterator

from reedmace.checks.complete import metres
from reedmace.checks.query import Grounds, Query, Record, first_of_visit, query
from reedmace.keys.care import care_on


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
            remedy = (
                f"publish nothing finer than {metres(local.blur_m)}, photographs and remarks of that visit included"
            )
            yield query(record, "sensitive", "note", reason, remedy)


def withheld_site(grounds: Grounds, record: Record) -> Iterator[Query]:
    """A site of which the register says that not everybody may see where it is."""
    site = grounds.site_of(record)
    if site is None or site.may_see == "everybody":
        return
    who = "only the county recorder" if site.may_see == "county recorder" else "nobody else"
    reason = f"By the register of sites {who} may see where {site.name} is."
    yield query(
        record, "site-withheld", "note", reason, "leave it out of what is published, or blur it with all its visits"
    )


def child_named(grounds: Grounds, record: Record) -> Iterator[Query]:
    """Words that speak of a child: names of children go into nothing."""
    visit = record.visit
    # A party that only says how many names nobody.
    party = visit.party if re.search(r"\s[^\W\d_]*[A-Z]", visit.party) else ""
    own, whole = record.sighting.remarks, f"{visit.remarks} {party}"
    if not own and whole.isspace():
        return
    pattern, note = grounds.once("child", _child_words)
    if pattern is None:
        return
    found = pattern.search(own)
    if found is None and (found := pattern.search(whole)) and not first_of_visit(grounds, record, "child-named"):
        return
    if found:
        reason = f'The record says "{found[0]}". {note}'
        yield query(
            record, "child-named", "note", reason, "take a name out, if there is one; count children in the party"
        )


def _child_words() -> tuple[re.Pattern[str] | None, str]:
    notes = [note for note in care_on("child") if note.words]
    words = "|".join(re.escape(word) for note in notes for word in note.words)
    return (re.compile(rf"\b(?:{words})\b", re.IGNORECASE), notes[0].text) if words else (None, "")
