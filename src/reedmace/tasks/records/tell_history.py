"""The story of one record: who wrote what when, what each entry changed, to whom it was sent, and what they said."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.records import PlaceRecord, Sighting, Taxon, Visit, with_names
from reedmace.tasks.records.versions import differing, told_version

# Fields that are told in words of their own, or say nothing to a reader.
_SILENT = frozenset({"id", "line_id", "typed", "naming", "date_typed", "count_kind", "count_to", "count_typed"})
_LABELS = {
    "taxon": "name",
    "visit_id": "visit",
    "place": "place",
    "determined_on": "named on",
    "determiner": "named by",
    "observers": "seen by",
    "habitat_typed": "habitat as typed",
    "exuvia_passes": "searches for cast skins",
    "permission_noted": "permission",
    "temperature_c": "temperature in °C",
    "sun_percent": "sun in %",
    "wind_force": "wind force",
    "wind_force_to": "wind force up to",
    "in_pairs": "of those counted, in pairs",
    "all_damselflies": "all damselflies noted",
    "all_dragonflies": "all dragonflies noted",
    "none_seen": "none seen",
}
_ACTS = {
    "recorded": "recorded it",
    "amended": "amended it",
    "redetermined": "named it anew",
    "withdrawn": "took it back",
    "replied": "wrote down the county recorder's reply",
    "answered": "answered a query about it",
}


class Change(NamedTuple):
    """One field that an entry changed, in words."""

    field: str
    was: str
    now: str


class Step(NamedTuple):
    """One entry of the story. `of` is "sighting", "visit", "submission" or "reply".

    `head` says that it stands, of a sighting or visit; where two copies differ, both do until that is settled.
    """

    meta: EntryMeta
    of: str
    who: str
    act: str
    said: str
    changes: tuple[Change, ...]
    head: bool


def tell_history(ledger: Ledger, subject: str) -> list[Step]:
    """The entries of one sighting or visit, oldest first; for a sighting also what became of its visit later."""
    entries = ledger.history(subject)
    steps = _steps(ledger, entries)
    if not entries or not isinstance(entries[0][1], Sighting):
        return steps
    visits = dict.fromkeys(record.visit_id for _, record in entries if isinstance(record, Sighting))
    first = entries[0][0].written_at
    for visit in visits:
        # How the visit was recorded is part of what the sighting says; only what changed later is a step.
        steps += [
            step for step in _steps(ledger, ledger.history(visit)) if step.changes and step.meta.written_at >= first
        ]
    steps += [*_sent(ledger, subject), *_replies(ledger, subject)]
    # What was sent and said comes before what was changed for it within the same second.
    ranks = {"recorded": 0, "replied": 1}
    return sorted(steps, key=lambda step: (step.meta.written_at, ranks.get(step.meta.act, 2)))


def _sent(ledger: Ledger, subject: str) -> Iterator[Step]:
    """To whom the sighting was sent, and what they said of having received it."""
    for sent in ledger.submissions():
        if subject not in sent.sent:
            continue
        to = _name(ledger, sent.recipient)
        act = "was sent it" if sent.sent[subject] else "was told that it was taken back"
        meta = EntryMeta(sent.id, None, "submission", sent.id, "recorded", "", sent.recipient, sent.made_at)
        yield Step(meta, "submission", to, act, f"in {sent.file_name}", (), head=False)
        for got in ledger.receipts(sent.id):
            said = f"{to} has loaded {got.loaded} of {got.of} rows of {sent.file_name}"
            meta = EntryMeta(got.id, None, "submission", sent.id, "replied", got.note, got.by, got.written_at)
            yield Step(meta, "submission", _name(ledger, got.by), "noted a receipt", said, (), head=False)


def _replies(ledger: Ledger, subject: str) -> Iterator[Step]:
    """What county recorders said of it, with what they would correct, and what of that was declined."""
    replies = ledger.replies_about(subject)
    declined = ledger.declined_offers() if any(reply.offers for reply in replies) else {}
    for reply in replies:
        said = reply.said
        when = f", {said.date}" if said.date else ""
        words = f"{said.about}: {said.status} ({_name(ledger, said.verifier)}{when})"
        changes = tuple(Change(f"{field} offered", "", typed) for field, typed in reply.offers.items())
        meta = EntryMeta(reply.id, None, "reply", subject, "replied", said.remark, reply.by, reply.written_at)
        yield Step(meta, "reply", _name(ledger, reply.by), _ACTS["replied"], words, changes, head=False)
        no = declined.get(reply.id)
        if no is not None:
            meta = EntryMeta(
                f"{reply.id}#declined", None, "query", subject, "answered", no.reason, no.by, no.written_at
            )
            yield Step(meta, "reply", _name(ledger, no.by), "declined what was offered", "", (), head=False)


def _steps(ledger: Ledger, entries: list[tuple[EntryMeta, Sighting | Visit]]) -> list[Step]:
    before = {meta.entry_id: (meta, record) for meta, record in entries}
    ended = ledger.ended(entries[0][0].subject) if entries else {}
    heads = _heads(ledger, entries, ended)
    steps = []
    for meta, record in entries:
        parent = before.get(meta.parent or "")
        changes = _changes(ledger, parent[1], record) if parent else ()
        act = _ACTS.get(meta.act, meta.act)
        said = "" if parent else describe(record, _visit_of(ledger, record), ledger.people.name_of)
        others = [before[one] for one in ended.get(meta.entry_id, ()) if one in before]
        if parent and parent[1] == record and any(_says(one) != _says(parent) for one in others):
            act, said = "settled it", _kept(ledger, parent, others)
        elif parent and parent[0].act == "withdrawn" and meta.act == "amended":
            act = "let it stand again"
        who = _name(ledger, meta.by)
        steps.append(Step(meta, meta.kind, who, act, said, changes, meta.entry_id in heads))
    return steps


def _says(one: tuple[EntryMeta, Sighting | Visit]) -> tuple[bool, Sighting | Visit]:
    return one[0].act == "withdrawn", one[1]


def _heads(
    ledger: Ledger, entries: list[tuple[EntryMeta, Sighting | Visit]], ended: dict[str, tuple[str, ...]]
) -> set[str]:
    """Give the entries that stand: several only while what they say differs."""
    standing = ledger.standing(entries[0][0].subject) if entries else None
    if standing is None or not standing[1].diverged:
        return {standing[1].entry_id} if standing else set()
    followed = {meta.parent for meta, _ in entries}.union(*ended.values())
    return {meta.entry_id for meta, _ in entries} - followed


def _kept(
    ledger: Ledger, kept: tuple[EntryMeta, Sighting | Visit], others: Sequence[tuple[EntryMeta, Sighting | Visit]]
) -> str:
    """Tell which of the entries that stood side by side was kept, by what they said differently."""
    every = [kept, *others]
    versions = [field_words(ledger, record) for _, record in every]
    says = differing(versions, [meta.act == "withdrawn" for meta, _ in every])
    told = [
        told_version(said, _name(ledger, meta.by), meta.written_at, meta.reason)
        for (meta, _), said in zip(every, says, strict=True)
    ]
    return f"Two copies differed. Kept: {told[0]}. Not kept: {'; '.join(told[1:])}."


def _visit_of(ledger: Ledger, record: Sighting | Visit) -> Visit | None:
    """The visit of a sighting as it was first written."""
    if isinstance(record, Visit):
        return record
    entries = ledger.history(record.visit_id)
    first = entries[0][1] if entries else None
    return first if isinstance(first, Visit) else None


def _name(ledger: Ledger, person: str) -> str:
    return ledger.people.name_of(person)


def describe(record: Sighting | Visit, visit: Visit | None, name_of: Callable[[str], str]) -> str:
    """A sighting or visit as it was first written, in one sentence."""
    at = visit
    when = (at.date if at else None) or "an unknown day"
    place = record.place or (at.place if at else PlaceRecord())
    where = place_words(place) or "an unknown place"
    if isinstance(record, Visit):
        return f"a visit on {when} at {where}" + _typed(record.typed, name_of)
    observers = record.observers or (at.observers if at else ())
    by = " and ".join(name_of(person) for person in observers) or "nobody named"
    parts = [taxon_words(record.taxon), count_words(record), record.sex or "", record.stage or "", *record.behaviour]
    doubt = {"uncertain": "name uncertain", "probable": "name probable"}.get(record.certainty or "", "")
    what = ", ".join(filter(None, (*parts, record.qualifier or doubt)))
    keyed = f"; named with the key {record.naming.key_id} {record.naming.key_version}" if record.naming else ""
    return f"{what}; on {when} at {where}, seen by {by}{keyed}" + _typed(record.typed, name_of)


def _typed(typed: str, name_of: Callable[[str], str]) -> str:
    return f'; typed: "{with_names(typed, name_of)}"' if typed else ""


def taxon_words(taxon: Taxon) -> str:
    """A name in English and scientific words."""
    english, scientific = taxon.vernacular, taxon.scientific_name
    return f"{english} ({scientific})" if english and english != scientific else scientific


def count_words(sighting: Sighting) -> str:
    """How many, in words."""
    if sighting.count is None:
        return "present, not counted"
    lead = {"estimate": "about ", "at least": "at least "}.get(sighting.count_kind, "")
    upper = f"–{sighting.count_to}" if sighting.count_to else ""
    if sighting.pairs:
        return f"{lead}{sighting.pairs} pair{'' if sighting.pairs == 1 else 's'} ({sighting.count}{upper} insects)"
    return f"{lead}{sighting.count}{upper}"


def place_words(place: PlaceRecord) -> str:
    """A place in words: square or reference, name, kind, vice-county."""
    county = f"VC {place.vice_county}" if place.vice_county else ""
    return ", ".join(filter(None, (place.square or place.typed, place.locality, place.kind or "", county)))


def _changes(ledger: Ledger, was: Any, now: Any) -> tuple[Change, ...]:
    """Every field that differs between two entries of one subject, told in words."""
    if type(was) is not type(now):
        return ()
    found = []
    if isinstance(now, Sighting) and count_words(was) != count_words(now):
        found.append(Change("count", count_words(was), count_words(now)))
    for field, before, after in zip(now._fields, was, now, strict=True):
        if before == after or field in _SILENT or (field in ("count", "pairs") and found):
            continue
        label = _LABELS.get(field, field.replace("_", " "))
        found.append(Change(label, _words(ledger, field, before), _words(ledger, field, after)))
    if not found and was != now:
        changed = [field for field, before, after in zip(now._fields, was, now, strict=True) if before != after]
        found = [Change(field.replace("_", " "), "otherwise", "as it stands now") for field in changed]
    return tuple(found)


def changes_between(ledger: Ledger, was: Sighting | Visit, now: Sighting | Visit) -> tuple[Change, ...]:
    """Every field that differs between two versions of one record, told in words."""
    return _changes(ledger, was, now)


def field_words(ledger: Ledger, record: Sighting | Visit) -> dict[str, str]:
    """Everything that one version of a record says, by field, in words; the count in one field."""
    told = {}
    if isinstance(record, Sighting):
        told["count"] = count_words(record)
    for field, value in zip(record._fields, record, strict=True):
        if field not in _SILENT and field not in ("count", "pairs"):
            told[_LABELS.get(field, field.replace("_", " "))] = _words(ledger, field, value)
    return told


def _words(ledger: Ledger, field: str, value: Any) -> str:
    if value is None or value in ("", ()):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Taxon):
        return taxon_words(value)
    if isinstance(value, PlaceRecord):
        return place_words(value) or "nothing"
    if field == "visit_id":
        standing = ledger.standing(value)
        visit = standing[0] if standing else None
        day = (visit.date if isinstance(visit, Visit) else None) or "an unknown day"
        return f"the one of {day} ({value})"
    if field == "determiner":
        return _name(ledger, value)
    if field == "observers":
        return " and ".join(_name(ledger, person) for person in value)
    if field == "photos":
        return ", ".join(photo.path for photo in value)
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    return str(value)
