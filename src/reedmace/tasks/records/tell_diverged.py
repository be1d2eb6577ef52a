"""What two copies of a ledger say differently of one record or site, told so that somebody can choose."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.ledger.settling import Rival
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, Site, Visit, from_body
from reedmace.tasks.records.tell_history import field_words, place_words, taxon_words
from reedmace.tasks.records.versions import differing, told_version

_MOST = 200  # signs of a value that is told as it is kept


class Choice(NamedTuple):
    """One of the entries to choose between: what it says where they differ, in words; `stands` until it is decided."""

    entry: str
    act: str
    who: str
    written_at: str
    reason: str
    says: tuple[tuple[str, str], ...]
    stands: bool


class Diverged(NamedTuple):
    """One subject with the entries to choose between; `title` names it for a person."""

    kind: str
    subject: str
    title: str
    choices: tuple[Choice, ...]


def tell_diverged(ledger: Ledger) -> list[Diverged]:
    """Give everything that two copies said differently, by id."""
    return [_told(ledger, subject, ledger.rivals(subject, heads[0].kind)) for subject, heads in ledger.diverged()]


def choose_subject(waiting: Iterable[Diverged], typed: str) -> list[Diverged]:
    """Give what is meant by an id, the end of one, or the name of a site."""
    waiting = list(waiting)
    plain = " ".join(typed.strip().removeprefix("…").casefold().split())
    exact = [one for one in waiting if plain in (one.subject.casefold(), " ".join(one.title.casefold().split()))]
    return exact or [one for one in waiting if plain and one.subject.casefold().endswith(plain)]


def of_its_visit(ledger: Ledger, waiting: Iterable[Diverged], sighting: str) -> Diverged | None:
    """Give the visit of a sighting where it is the visit that has diverged; None where nothing has."""
    standing = ledger.standing(sighting)
    if standing is None or not isinstance(standing[0], Sighting):
        return None
    return next((one for one in waiting if one.subject == standing[0].visit_id), None)


def told_choice(choice: Choice) -> str:
    """What one of the entries says, who wrote it and when, in one line."""
    says = None if choice.act == "withdrawn" else choice.says
    return told_version(says, choice.who, choice.written_at, choice.reason)


def choose_entry(of: Diverged, typed: str) -> Choice:
    """Give the entry that is meant by its id or the end of it; raises `Refused` for none, or several."""
    plain = typed.strip().removeprefix("…").casefold()
    found = [choice for choice in of.choices if plain and choice.entry.casefold().endswith(plain)]
    if len(found) != 1:
        hint = f"one of: {', '.join(short(of, choice) for choice in of.choices)}"
        raise Refused(Fault("no-such-choice", "This is none of the entries.", hint, typed, typed=True))
    return found[0]


def short(of: Diverged, choice: Choice) -> str:
    """Give the last signs of an entry's id, as many as tell it from the others, at least twelve."""
    ids = [one.entry for one in of.choices]
    length = next(
        (length for length in range(12, 36) if sum(one.endswith(choice.entry[-length:]) for one in ids) == 1), 36
    )
    return choice.entry[-length:]


def _told(ledger: Ledger, subject: str, rivals: tuple[Rival, ...]) -> Diverged:
    kind = rivals[0].meta.kind
    read = {"sighting": Sighting, "visit": Visit, "site": Site}.get(kind)
    records: list[Any] = [from_body(read, rival.body) if read else rival.body for rival in rivals]
    told = [_site(one) if isinstance(one, Site) else _fields(ledger, one) for one in records]
    says = differing(told, [rival.meta.act == "withdrawn" for rival in rivals])
    choices = tuple(
        Choice(
            rival.meta.entry_id,
            rival.meta.act,
            ledger.people.name_of(rival.meta.by),
            rival.meta.written_at,
            rival.meta.reason,
            said or (),
            number == 0,
        )
        for number, (rival, said) in enumerate(zip(rivals, says, strict=True))
    )
    return Diverged(kind, subject, _title(ledger, records[0], subject), choices)


def _title(ledger: Ledger, record: Any, subject: str) -> str:
    if isinstance(record, Site):
        return record.name
    if isinstance(record, Visit):
        return ", ".join(filter(None, (record.date or "no date", place_words(record.place))))
    if isinstance(record, Sighting):
        standing = ledger.standing(record.visit_id)
        visit = standing[0] if standing else None
        at = visit if isinstance(visit, Visit) else None
        where = record.place or (at.place if at else None)
        parts = (taxon_words(record.taxon), (at.date if at else "") or "no date", place_words(where) if where else "")
        return ", ".join(filter(None, parts))
    return subject


def _site(site: Site) -> dict[str, str]:
    return {
        "name": site.name,
        "also called": ", ".join(site.also),
        "place": place_words(site.place._replace(locality="")),
        "habitat": site.habitat,
        "who may see it": site.may_see,
        "remarks": site.remarks,
    }


def _fields(ledger: Ledger, record: Sighting | Visit | Mapping[str, Any]) -> dict[str, str]:
    if isinstance(record, Sighting | Visit):
        return field_words(ledger, record)
    return {name: json.dumps(value, ensure_ascii=False)[:_MOST] for name, value in record.items()}
