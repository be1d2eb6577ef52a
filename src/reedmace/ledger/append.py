"""Writing entries: a whole walk, or a further entry for what is there. All of it or nothing."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Sequence

from reedmace.faults import Fault, Refused
from reedmace.ledger import current
from reedmace.ledger.entries import EntryMeta, Followed, Stamp, Written, insert
from reedmace.ledger.people import must_know
from reedmace.ledger.trouble import writing
from reedmace.records import Sighting, Visit

NewId = Callable[[], str]
Record = Sighting | Visit


def walk(
    connection: sqlite3.Connection,
    path: str,
    visit: Visit,
    sightings: Sequence[Sighting],
    stamp: Stamp,
    new_id: NewId,
    change: Stamp | None = None,
) -> Written:
    """Write a visit and its sightings, or more sightings of a visit that is there already.

    A visit that is there has to be as given, unless `change` says why it is to stand otherwise from now on.
    """
    _belong(visit, sightings)
    written: list[str] = []

    def write(record: Record) -> None:
        entry_id = new_id()
        insert(connection, entry_id, None, record, stamp)
        written.append(entry_id)

    with writing(connection, path):
        _all_known(connection, [stamp.by], [visit, *sightings])
        there = current.standing(connection, path, visit.id)
        if there is None:
            write(visit)
        elif there[0] != visit and change is not None and there[1].act != "withdrawn" and not there[1].diverged:
            written.append(_follow(connection, visit, there[1], change, new_id).entry_id)
        elif there[0] != visit or there[1].act == "withdrawn":
            raise Refused(
                Fault(
                    "visit-differs",
                    "A visit with this id is in the ledger, but not as given here.",
                    "amend the visit first, or give the new one an id of its own",
                    visit.id,
                )
            )
        for sighting in sightings:
            if _there_already(connection, sighting.id):
                raise Refused(
                    Fault(
                        "already-recorded",
                        "A sighting with this id is in the ledger already.",
                        "amend it to change it; a new sighting gets an id of its own",
                        sighting.id,
                    )
                )
            write(sighting)
    return Written(visit.id, there is None, tuple(sighting.id for sighting in sightings), tuple(written))


def amend(
    connection: sqlite3.Connection,
    path: str,
    record: Record,
    stamp: Stamp,
    new_id: NewId,
    follows: str | None,
) -> Followed:
    """Write a further entry for one visit or sighting: the whole record as it stands from now on.

    `follows` is the entry the user saw; where another has come since, the amendment is refused.
    """
    with writing(connection, path):
        return _amend(connection, path, record, stamp, new_id, follows)


def amend_all(
    connection: sqlite3.Connection, path: str, changes: Sequence[tuple[Record, str]], stamp: Stamp, new_id: NewId
) -> tuple[Followed, ...]:
    """As `amend`, for several records, each with the entry it follows: all of them or none."""
    with writing(connection, path):
        return tuple(_amend(connection, path, record, stamp, new_id, follows) for record, follows in changes)


def _amend(
    connection: sqlite3.Connection, path: str, record: Record, stamp: Stamp, new_id: NewId, follows: str | None
) -> Followed:
    before, meta = _there(connection, path, record.id)
    _all_known(connection, [stamp.by], [record])
    if type(before) is not type(record):
        raise ValueError("a visit cannot become a sighting, nor the other way round")
    if follows is not None and follows != meta.entry_id:
        raise Refused(
            Fault(
                "changed-meanwhile",
                "This was changed since you looked at it.",
                "look at it again, then make your change",
                record.id,
            )
        )
    if meta.act == "withdrawn":
        raise Refused(Fault("withdrawn", "This was withdrawn.", "reinstate it first, then make your change", record.id))
    if before == record:
        raise Refused(
            Fault(
                "nothing-changed",
                "This is how it stands already.",
                "change something, or leave it",
                record.id,
            )
        )
    if isinstance(record, Sighting) and isinstance(before, Sighting) and record.visit_id != before.visit_id:
        _visit_there(connection, path, record.visit_id)
    if isinstance(record, Visit) and record.none_seen and _still_holds(connection, record.id):
        raise Refused(_seen_all_the_same(record.id))
    return _follow(connection, record, meta, stamp, new_id)


def withdraw(
    connection: sqlite3.Connection, path: str, subjects: Iterable[str], stamp: Stamp, new_id: NewId
) -> tuple[Followed, ...]:
    """Take back sightings or visits by new entries. A visit goes only with, or after, its sightings."""
    with writing(connection, path):
        _all_known(connection, [stamp.by], [])
        done = []
        visits = []
        for subject in dict.fromkeys(subjects):
            record, meta = _there(connection, path, subject)
            if meta.act == "withdrawn":
                raise Refused(
                    Fault(
                        "withdrawn",
                        "This was withdrawn already.",
                        "leave it out; nothing was written",
                        subject,
                    )
                )
            if isinstance(record, Visit):
                visits.append(subject)
            done.append(_follow(connection, record, meta, stamp, new_id))
        for visit_id in visits:
            if _still_holds(connection, visit_id):
                raise Refused(
                    Fault(
                        "visit-holds-sightings",
                        "This visit still holds sightings.",
                        "withdraw its sightings too; nothing was written",
                        visit_id,
                    )
                )
        return tuple(done)


def reinstate(
    connection: sqlite3.Connection, path: str, subjects: Iterable[str], stamp: Stamp, new_id: NewId
) -> tuple[Followed, ...]:
    """Let what was withdrawn stand again, as it was."""
    with writing(connection, path):
        _all_known(connection, [stamp.by], [])
        done = []
        for subject in dict.fromkeys(subjects):
            record, meta = _there(connection, path, subject)
            if meta.act != "withdrawn":
                raise Refused(
                    Fault("not-withdrawn", "This still stands.", "leave it out; nothing was written", subject)
                )
            done.append(_follow(connection, record, meta, stamp, new_id))
        for subject in dict.fromkeys(subjects):
            record, _ = _there(connection, path, subject)
            if isinstance(record, Sighting):
                _visit_there(connection, path, record.visit_id)
        return tuple(done)


def _follow(connection: sqlite3.Connection, record: Record, meta: EntryMeta, stamp: Stamp, new_id: NewId) -> Followed:
    entry_id = new_id()
    # Heads that say the same as the one followed stand as one with it, so all of them end here.
    heads = "SELECT entry_id FROM head WHERE subject = ? AND kind = ? AND entry_id <> ? ORDER BY entry_id"
    others = connection.execute(heads, (record.id, meta.kind, meta.entry_id)).fetchall()
    insert(connection, entry_id, meta.entry_id, record, stamp, [other for (other,) in others])
    return Followed(record.id, entry_id)


def settle(connection: sqlite3.Connection, path: str, keep: str, stamp: Stamp, new_id: NewId) -> Followed:
    """Let one of the heads of a subject that diverged stand, by an entry that follows it and ends the others."""
    with writing(connection, path):
        _all_known(connection, [stamp.by], [])
        found = current.head(connection, path, keep)
        if found is None:
            raise Refused(
                Fault(
                    "no-such-choice",
                    "This is not one of the entries to choose between.",
                    "see  reedmace ledger settle  for what there is to decide",
                    keep,
                )
            )
        record, meta = found
        standing = current.standing(connection, path, record.id)
        if standing is None or not standing[1].diverged:
            raise Refused(
                Fault("not-diverged", "Here is nothing to decide.", "leave it; nothing was written", record.id)
            )
        mark = stamp._replace(act="withdrawn") if meta.act == "withdrawn" else stamp
        return _follow(connection, record, meta, mark, new_id)


def _there(connection: sqlite3.Connection, path: str, subject: str) -> tuple[Record, EntryMeta]:
    found = current.standing(connection, path, subject)
    if found is None:
        raise Refused(
            Fault("not-recorded", "There is nothing with this id.", "list the ledger to see the ids", subject)
        )
    if found[1].diverged:
        raise Refused(
            Fault(
                "diverged",
                "Two copies of the ledger changed this in different ways.",
                f"compare both and choose one first:  reedmace ledger settle {subject}",
                subject,
            )
        )
    return found


def _there_already(connection: sqlite3.Connection, subject: str) -> bool:
    sql = "SELECT EXISTS (SELECT 1 FROM entry WHERE subject = ?)"
    return bool(connection.execute(sql, (subject,)).fetchone()[0])


def _visit_there(connection: sqlite3.Connection, path: str, visit_id: str) -> None:
    found = current.standing(connection, path, visit_id)
    if found is None or not isinstance(found[0], Visit) or found[1].act == "withdrawn":
        raise Refused(
            Fault(
                "visit-missing",
                "The visit of this sighting does not stand in the ledger.",
                "record or reinstate the visit first",
                visit_id,
            )
        )
    if found[0].none_seen:
        raise Refused(_seen_all_the_same(visit_id))


def _seen_all_the_same(visit_id: str) -> Fault:
    said = "The visit says that none were seen, but there are sightings."
    return Fault("none-seen-but-seen", said, "leave out one or the other; nothing was written", visit_id)


def _still_holds(connection: sqlite3.Connection, visit_id: str) -> bool:
    sql = """SELECT EXISTS (SELECT 1 FROM standing
             WHERE kind = 'sighting' AND visit_id = ? AND act <> 'withdrawn')"""
    return bool(connection.execute(sql, (visit_id,)).fetchone()[0])


def _belong(visit: Visit, sightings: Sequence[Sighting]) -> None:
    strangers = [sighting.id for sighting in sightings if sighting.visit_id != visit.id]
    if strangers:
        raise Refused(
            Fault(
                "sighting-of-another-visit",
                f"{len(strangers)} of these sightings name another visit.",
                "write each visit with its own sightings",
                strangers[0],
            )
        )
    if visit.none_seen and sightings:
        raise Refused(
            Fault(
                "none-seen-but-seen",
                "The visit says that none were seen, but there are sightings.",
                "leave out one or the other",
                sightings[0].typed or None,
            )
        )


def _all_known(connection: sqlite3.Connection, people: list[str], records: Sequence[Record]) -> None:
    """Refuse entries that name a person who is not registered."""
    named = dict.fromkeys(people)
    for record in records:
        named.update(dict.fromkeys(record.observers or ()))
        if isinstance(record, Sighting) and record.determiner is not None:
            named[record.determiner] = None
    must_know(connection, named)
