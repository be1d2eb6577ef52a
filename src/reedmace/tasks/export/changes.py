"""What is new, changed or withdrawn since a recipient was last told; and a submission made again as it was.

What a recipient holds is what all submissions told, one after the other. Entries are never changed, so every record
can be told again as it stood: a submission keeps which entry of the sighting and of its visit it was made from.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from reedmace.faults import Fault, Refused
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import BLURRED, WITHDRAWN, Submission, mark
from reedmace.ledger.wanted import Wanted
from reedmace.records import Sighting, Visit
from reedmace.tasks.export.choice import Chosen, Test, order
from reedmace.tasks.export.closed import Closed
from reedmace.tasks.export.rows import Told
from reedmace.tasks.records.tell_history import Change, changes_between

_SAFE = frozenset(("date", "name", "count", "pairs", "sex", "stage", "certainty"))
Held = Mapping[str, str]
"""Sighting id → the mark of what was told of it last; a withdrawn one is not held."""


def held(submissions: Iterable[Submission]) -> dict[str, str]:
    """Give what a recipient holds after these submissions, in their order."""
    found: dict[str, str] = {}
    for submission in submissions:
        found.update(submission.sent)
    return {subject: told for subject, told in found.items() if told != WITHDRAWN}


def submissions_to(ledger: Ledger, recipient: str) -> list[Submission]:
    """Give the submissions to a recipient (a person's id), who may have another id after a merge; oldest first."""
    ids = frozenset(ledger.people.ids_of(ledger.people.name_of(recipient))) | {recipient}
    return [one for one in ledger.submissions() if one.recipient in ids]


def since(
    ledger: Ledger, before: Held, chosen: Iterable[Chosen], closed: Closed, belongs: Test | None = None
) -> Iterator[Told]:
    """Stream what a recipient who holds `before` has to be told, out of what is chosen, in the ledger's order.

    A record that they hold is told of too where it was withdrawn, or was changed so that it is no longer chosen; by
    `belongs` only one that is among what was asked for, or was as they were told of it last. Without it, any.
    One of which they were told without its place, which may be told now, is changed.
    """

    def concerns(row: Chosen) -> bool:
        if belongs is None or belongs(*row):
            return True
        then = as_it_stood(ledger, row[0].id, before[row[0].id])
        return then is not None and belongs(*then)

    passed: set[str] = set()
    # Which of the records they hold are not among those chosen is known only once all of these have been looked at.
    news = list(_among(ledger, before, chosen, passed, closed))
    gone = (
        _told(closed, row, "withdrawn", row[2].reason)
        for row in ledger.current_sightings(Wanted(status="withdrawn"))
        if row[0].id in before and concerns(row)
    )
    left = (
        _changed(ledger, before, row, closed)
        for row in (ledger.current_sightings() if before.keys() - passed else ())
        if row[0].id in before
        and row[0].id not in passed
        and _differs(before[row[0].id], row, closed)
        and concerns(row)
    )
    yield from heapq.merge(news, gone, left, key=lambda one: order(one[:3]))


def _among(ledger: Ledger, before: Held, chosen: Iterable[Chosen], passed: set[str], closed: Closed) -> Iterator[Told]:
    for row in chosen:
        was = before.get(row[0].id)
        if was is None:
            yield _told(closed, row, "new")
            continue
        passed.add(row[0].id)
        if _differs(was, row, closed):
            yield _changed(ledger, before, row, closed)


def _differs(was: str, row: Chosen, closed: Closed) -> bool:
    """Say whether a record is otherwise than it was told; a place that is told no more is no change of it."""
    return was.removesuffix(BLURRED) != _mark(row[2]) or (was.endswith(BLURRED) and not closed.holds(*row[:2]))


def _told(closed: Closed, row: Chosen, change: str, reason: str = "") -> Told:
    """Tell of a record; without the reason where its place is not told: it may name it."""
    blurred = closed.holds(*row[:2])
    return Told(*row, change, "" if blurred else reason, blurred)


def _changed(ledger: Ledger, before: Held, row: Chosen, closed: Closed) -> Told:
    blurred = closed.holds(*row[:2])
    return Told(*row, "changed", _note(ledger, before[row[0].id], row, closed, blurred), blurred)


def _mark(meta: EntryMeta) -> str:
    return mark(meta.entry_id, meta.visit_entry)


def _note(ledger: Ledger, was: str, row: Chosen, closed: Closed, blurred: bool) -> str:
    """Say what is otherwise than it was told: `name: Brown Hawker, now Common Hawker; reason: photo`.

    Where the place is not told (`blurred`), only what can hold no word that names it; elsewhere nothing that names
    another place which is not told.
    """
    sighting, visit, meta = row
    then = as_it_stood(ledger, sighting.id, was)
    if then is None:
        return ""
    changes = [*changes_between(ledger, then[0], sighting)]
    if then[1].id == visit.id:
        changes += changes_between(ledger, then[1], visit)
    if was.endswith(BLURRED) and not blurred:
        changes = [Change("place", "as a square of 10 km", "in full"), *changes]
    told = [one for one in changes if (one.field in _SAFE if blurred else one.field != "permission")]
    said = [f"{one.field}: {one.was}, now {one.now}" for one in told if not closed.tells(f"{one.was} {one.now}")]
    if blurred:
        return "; ".join(said)
    reasons = [meta.reason] if meta.entry_id != then[2].entry_id else []
    if meta.visit_entry != then[2].visit_entry:
        reasons += [one.reason for one, _ in ledger.history(visit.id) if one.entry_id == meta.visit_entry]
    why = [f"reason: {reason}" for reason in dict.fromkeys(reasons) if reason and not closed.tells(reason)]
    return "; ".join([*said, *why])


def as_it_stood(ledger: Ledger, subject: str, was: str) -> tuple[Sighting, Visit, EntryMeta] | None:
    """Give a sighting with its visit as of a mark; None where the ledger has no such entries."""
    was = was.removesuffix(BLURRED)
    seen = [(meta, one) for meta, one in ledger.history(subject) if isinstance(one, Sighting)]
    for visit_id in dict.fromkeys(one.visit_id for _, one in seen):
        for (meta, one), (at, visit) in product(seen, ledger.history(visit_id)):
            if isinstance(visit, Visit) and was == mark(meta.entry_id, at.entry_id):
                modified = max(meta.written_at, at.written_at)
                return one, visit, meta._replace(modified=modified, visit_entry=at.entry_id)
    return None


def again(ledger: Ledger, submission: Submission, before: Held | None) -> list[Told]:
    """Give what a submission told, as it stood then; `before` is what the recipient held, None where it told all.

    Raises `Refused` where the ledger does not have the entries that it was made from.
    """
    now = {
        one.id: (one, visit, meta)
        for one, visit, meta in ledger.current_sightings(Wanted(withdrawn=True))
        if one.id in submission.sent
    }
    closed = Closed(ledger)
    found = [_told_then(ledger, submission, before, subject, now.get(subject), closed) for subject in submission.sent]
    return sorted(found, key=lambda one: order(one[:3]))


def _told_then(
    ledger: Ledger, submission: Submission, before: Held | None, subject: str, now: Chosen | None, closed: Closed
) -> Told:
    was = submission.sent[subject]
    if was == WITHDRAWN:
        row = _withdrawn_then(ledger, subject, submission.made_at)
        if row is not None:
            return _told(closed, row, "withdrawn", row[2].reason)
    blurred = was.endswith(BLURRED)
    row = now if now is not None and _mark(now[2]) == was.removesuffix(BLURRED) else as_it_stood(ledger, subject, was)
    if row is None:
        said = "This ledger does not have the entries that the submission was made from."
        hint = "merge the ledger in which it was made, or make a new submission"
        raise Refused(Fault("submission-not-here", said, hint, subject))
    if before is None:
        return Told(*row, blurred=blurred)
    if subject not in before:
        return Told(*row, "new", blurred=blurred)
    return Told(*row, "changed", _note(ledger, before[subject], row, closed, blurred), blurred)


def _withdrawn_then(ledger: Ledger, subject: str, made_at: str) -> Chosen | None:
    """Give a sighting as it was when its withdrawal was told."""
    entries = [
        (meta, one)
        for meta, one in ledger.history(subject)
        if meta.act == "withdrawn" and meta.written_at <= made_at and isinstance(one, Sighting)
    ]
    if not entries:
        return None
    meta, sighting = entries[-1]
    visits = [(at, one) for at, one in ledger.history(sighting.visit_id) if isinstance(one, Visit)]
    then = [row for row in visits if row[0].written_at <= made_at] or visits[:1]
    at, visit = then[-1]
    return sighting, visit, meta._replace(modified=max(meta.written_at, at.written_at), visit_entry=at.entry_id)
