"""Corrections of who saw or named something: names as `log` takes them, and who is named elsewhere on a visit."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from reedmace.faults import Fault
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit, with_names
from reedmace.tasks.shorthand.children import children_in_party, children_in_text
from reedmace.tasks.shorthand.field_words import Word, cut
from reedmace.tasks.shorthand.page_said import PageVisit
from reedmace.tasks.shorthand.people_names import names_after
from reedmace.tasks.shorthand.person_unclear import person_unclear
from reedmace.tasks.shorthand.visit_said import VisitSaid

if TYPE_CHECKING:
    from reedmace.keys.model import Key

_OWN_WORDS = ("remarks", "permission", "locality", "method", "weather")  # fields that hold whatever is typed


class Named(NamedTuple):
    """People named in place of those of a field, none to leave it empty."""

    field: str
    names: tuple[Word, ...]


class StillNamed(NamedTuple):
    """A sighting that names somebody who is no observer of its visit any more, `as_observer` or as who named it."""

    sighting: Sighting
    person: str
    as_observer: bool


def read_people(field: str, value: str) -> Named | Fault:
    """Read names with capitals or in quotes, parted by commas or "and"; a determiner is one person."""
    if not value:
        return Named(field, ())
    pieces = cut(value)
    if isinstance(pieces, Fault):
        return pieces
    names, end, *_ = names_after(pieces.words, 0, alone=True)
    if not names or end < len(pieces.words) or pieces.comment is not None:
        hint = f"""write names with capitals or in quotes:  {field}='Ada Marsh and "van Sallow"'"""
        return Fault("person-not-read", "This is no name of a person, or not only that.", hint, typed=True)
    if (unclear := person_unclear(names, "", value)) is not None:
        return unclear._replace(where=None)
    if field == "determiner" and len(names) > 1:
        hint = "name the one who named it; others who saw it are observers"
        return Fault("person-not-read", "One person names a sighting.", hint, typed=True)
    return Named(field, names)


def as_walk(record: Sighting | Visit, named: Iterable[Named], visit: Visit | None) -> tuple[PageVisit, VisitSaid, None]:
    """Give the names beside the words of the record, for the question whether one may be a child's."""
    names = tuple(name for one in named for name in one.names)
    words = [record.typed, record.remarks]
    for at in (record, visit):
        if isinstance(at, Visit):
            words += [at.typed, at.party, at.remarks]
    # People's marks are no words of the line.
    notes = tuple(with_names(text, lambda _: "somebody") for text in words if text)
    typed = ", ".join(name.text for name in names)
    return PageVisit(None, ()), VisitSaid(typed, company=names, notes=notes), None


def children_in_changes(
    record: Sighting | Visit, visit: Visit | None, changes: Sequence[str], reason: str, key: Callable[[], Key]
) -> list[Fault]:
    """Names that may be a child's in the words of a correction (`field=value`) and in its reason.

    The key, which tells the names of animals from those of people, is asked for only where a name was found.
    """
    words = dict(one.partition("=")[::2] for one in changes)
    words = {field.strip().casefold().replace("_", "-"): value for field, value in words.items()}
    beside = " ".join(f"{at.party} {at.remarks}" for at in (record, visit) if isinstance(at, Visit))

    def found(known: Collection[str]) -> list[Fault]:
        told = children_in_party(words.get("party", ""), known)
        for text in (*(words.get(field, "") for field in _OWN_WORDS), reason):
            told += children_in_text(text, known, beside=beside)
        return told

    from reedmace.keys.names import key_words

    return found(key_words(key())) if found(()) else []


def still_named(ledger: Ledger, was: Visit, now: Visit) -> list[StillNamed]:
    """Give the sightings of a visit that name somebody taken from its observers."""
    gone = [person for person in was.observers if person not in now.observers]
    if not gone:
        return []
    found = []
    for sighting, _, _ in ledger.current_sightings(Wanted(visit_id=was.id)):
        for person in gone:
            if person in (sighting.observers or ()):
                found.append(StillNamed(sighting, person, as_observer=True))
            if person == sighting.determiner:
                found.append(StillNamed(sighting, person, as_observer=False))
    return found
