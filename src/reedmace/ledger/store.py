"""The ledger as other rooms use it: open it, write to it, ask it.

Every method raises `Refused` with a remedy where the file cannot be used; nothing is ever half written.
A `Ledger` belongs to one thread.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager
from os import PathLike
from types import TracebackType
from typing import TYPE_CHECKING, Self

from reedmace.ledger import append, current, sites
from reedmace.ledger.append import NewId, Record
from reedmace.ledger.entries import EntryMeta, Followed, Written, stamp
from reedmace.ledger.opening import connect
from reedmace.ledger.people import People
from reedmace.ledger.trouble import told, writing
from reedmace.records import Sighting, Site, Visit

if TYPE_CHECKING:
    # Needed by one command each: imported where it is used.
    from reedmace.ledger.answers import Answer
    from reedmace.ledger.audit import Finding, Photo
    from reedmace.ledger.bulk import Bulk
    from reedmace.ledger.forget import Forgotten
    from reedmace.ledger.merge import Merged
    from reedmace.ledger.notes import Note
    from reedmace.ledger.people import Person
    from reedmace.ledger.replies import Reply
    from reedmace.ledger.settling import Rival
    from reedmace.ledger.streams import Body
    from reedmace.ledger.submissions import Receipt, Submission
    from reedmace.ledger.wanted import Wanted
    from reedmace.records.verification import Verification


def open_ledger(path: str | PathLike[str], create: bool = True, patience_s: float = 30.0) -> Ledger:
    """Open the ledger at `path`; with `create`, begin one where there is none. Use it in a `with`.

    `patience_s` is how long to wait, in seconds, for another process that is writing.
    """
    place = os.fspath(path)
    return Ledger(connect(place, create, patience_s), place)


class Ledger:
    """One open ledger. `by` is always a registered person's id, `written_at` UTC `YYYY-MM-DDTHH:MM:SSZ`."""

    __slots__ = ("_connection", "path", "people")

    def __init__(self, connection: sqlite3.Connection, path: str) -> None:
        self._connection = connection
        self.path = path
        self.people = People(connection, path)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Bring what was written into the main file, as far as nobody else is in the way, and close it."""
        try:
            # Everything acknowledged is safe without this; it only keeps the -wal file from lying about.
            self._connection.execute("PRAGMA busy_timeout = 0")
            self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        except sqlite3.Error:
            pass
        finally:
            self._connection.close()

    def is_new(self) -> bool:
        """Say whether nothing was ever written in it, but names of people."""
        with told(self.path):
            return bool(self._connection.execute("SELECT NOT EXISTS (SELECT 1 FROM entry)").fetchone()[0])

    def record_walk(
        self,
        visit: Visit,
        sightings: Sequence[Sighting],
        by: str,
        written_at: str,
        new_id: NewId,
        change: str = "",
    ) -> Written:
        """Write a visit with its sightings, all or nothing; on return it is on the disk.

        A visit that is there already, exactly as given, gets the sightings added. With `change`, the reason, it
        may differ from what is there and is amended in the same step.
        """
        mark = stamp("recorded", "", by, written_at)
        amended = stamp("amended", change, by, written_at) if change else None
        return append.walk(self._connection, self.path, visit, sightings, mark, new_id, amended)

    def put_site(
        self, site: Site, reason: str, by: str, written_at: str, new_id: NewId, same: Sequence[str] = ()
    ) -> str:
        """Register a site (without a reason), or change one (with the reason why); `same` are withdrawn for it."""
        mark = stamp("amended" if reason else "recorded", reason, by, written_at)
        return sites.put(self._connection, self.path, site, mark, new_id, same)

    def sites(self) -> list[Site]:
        """Give the registered sites as they stand, by name."""
        return sites.standing(self._connection, self.path)

    def amend(
        self,
        record: Record,
        reason: str,
        by: str,
        written_at: str,
        new_id: NewId,
        act: str = "amended",
        follows: str | None = None,
    ) -> Followed:
        """Let a visit or sighting stand as given from now on; `act` may be `redetermined` or `replied`.

        With `follows`, the entry id that was looked at, a change made meanwhile by somebody else is refused.
        """
        if act not in ("amended", "redetermined", "replied"):
            raise ValueError(f"{act!r} is no way to amend")
        mark = stamp(act, reason, by, written_at)
        return append.amend(self._connection, self.path, record, mark, new_id, follows)

    def amend_all(
        self,
        changes: Sequence[tuple[Record, str]],
        reason: str,
        by: str,
        written_at: str,
        new_id: NewId,
        act: str = "amended",
    ) -> tuple[Followed, ...]:
        """As `amend`, for several at once, all or nothing: each record with the entry id that was looked at."""
        if act not in ("amended", "redetermined", "replied"):
            raise ValueError(f"{act!r} is no way to amend")
        mark = stamp(act, reason, by, written_at)
        return append.amend_all(self._connection, self.path, changes, mark, new_id)

    def withdraw(
        self, subject_ids: Iterable[str], reason: str, by: str, written_at: str, new_id: NewId
    ) -> tuple[Followed, ...]:
        """Take back sightings (or visits with all their sightings); they stay in the history."""
        mark = stamp("withdrawn", reason, by, written_at)
        return append.withdraw(self._connection, self.path, tuple(subject_ids), mark, new_id)

    def reinstate(
        self, subject_ids: Iterable[str], reason: str, by: str, written_at: str, new_id: NewId
    ) -> tuple[Followed, ...]:
        """Let what was withdrawn stand again."""
        mark = stamp("amended", reason, by, written_at)
        return append.reinstate(self._connection, self.path, tuple(subject_ids), mark, new_id)

    def settle(self, keep: str, reason: str, by: str, written_at: str, new_id: NewId) -> Followed:
        """Where copies diverged, let the current entry `keep` stand and end the others, by a new entry."""
        from reedmace.ledger import settling  # needed by one command only

        mark = stamp("amended", reason, by, written_at)
        return settling.settle(self._connection, self.path, keep, mark, new_id)

    def rivals(self, subject: str, kind: str) -> tuple[Rival, ...]:
        """Give the current entries of a subject with their bodies; the first stands until somebody decides."""
        from reedmace.ledger import settling

        return settling.rivals(self._connection, self.path, subject, kind)

    def ended(self, subject: str) -> dict[str, tuple[str, ...]]:
        """Give the entries of a subject that end further heads beside their parents, each with those heads."""
        from reedmace.ledger import settling

        return settling.ended(self._connection, self.path, subject)

    def current_sightings(
        self, wanted: Wanted | None = None, most: int | None = None
    ) -> Iterator[tuple[Sighting, Visit, EntryMeta]]:
        """Stream sightings as they stand, with their visits, by date, visit, name and id; at most so many."""
        from reedmace.ledger import streams  # logging asks for nothing

        return streams.sightings(self._connection, self.path, wanted, most)

    def current_bodies(self, wanted: Wanted) -> Iterator[tuple[Body, Visit]]:
        """As `current_sightings`, each as the text of its body."""
        from reedmace.ledger import streams  # logging asks for nothing

        return streams.bodies(self._connection, self.path, wanted)

    def without_visit(self) -> int:
        """Count the sightings that stand but are listed nowhere, for their visit is not there."""
        return current.without_visit(self._connection, self.path)

    def numbers_of_visits(self) -> dict[str, int]:
        """Count the sightings that stand, by visit; a visit without any is left out."""
        return current.numbers_of_visits(self._connection, self.path)

    def current_visits(self, year: int | None = None, withdrawn: bool = False) -> Iterator[tuple[Visit, EntryMeta]]:
        """Stream visits as they stand, by date and id."""
        return current.visits(self._connection, self.path, year, withdrawn)

    def visits_of_date(self, date: str | None) -> Iterator[Visit]:
        """Stream the visits that stand and have this very date, vague or not."""
        return current.visits_of_date(self._connection, self.path, date)

    def standing(self, subject: str) -> tuple[Sighting | Visit, EntryMeta] | None:
        """Give what stands for one visit or sighting, withdrawn or not; None where there is nothing."""
        return current.standing(self._connection, self.path, subject)

    def id_kept(self, typed: str) -> str:
        """Give the id under which a record stands here, however it is spelt; its one reading where there is none."""
        return current.kept_as(self._connection, self.path, typed)

    def subjects_ending(self, ending: str, most: int = 5) -> tuple[str, ...]:
        """Give the ids of visits and sightings that are, or else end in, this text; at most so many."""
        return current.subjects_ending(self._connection, self.path, ending, most)

    def taxa_called(self, name: str) -> tuple[str, ...]:
        """Give the scientific names listed that are called so: itself, a genus's species, that of an English name."""
        from reedmace.ledger import streams  # logging asks for nothing

        return streams.taxa_called(self._connection, self.path, name)

    def taxa_with_words(self, text: str) -> tuple[str, ...]:
        """Give the scientific names in the ledger with words that begin so, there or in their English name."""
        from reedmace.ledger import streams  # logging asks for nothing

        return streams.taxa_with_words(self._connection, self.path, text)

    def history(self, subject: str) -> list[tuple[EntryMeta, Sighting | Visit]]:
        """Give every entry of one visit or sighting, oldest first; empty where there is nothing."""
        return current.history(self._connection, self.path, subject)

    def diverged(self) -> list[tuple[str, tuple[EntryMeta, ...]]]:
        """Give what two copies of the ledger changed in different ways: subject and its current entries."""
        return current.diverged(self._connection, self.path)

    def last_line(self, by: str | None = None) -> tuple[str, ...]:
        """Give the ids of the sightings of the last typed line that still stand, for undoing it."""
        return current.last_line(self._connection, self.path, by)

    def last_act(self, by: str) -> tuple[str, str] | None:
        """Give act and subject of the last entry that a person wrote about a sighting or a visit."""
        return current.last_act(self._connection, self.path, by)

    def answer_query(
        self, sighting: str, code: str, digest: str, reason: str, by: str, written_at: str, new_id: NewId
    ) -> str:
        """Keep the answer to a query about a sighting, whose digest says what it was about; gives the entry's id."""
        from reedmace.ledger import answers  # needed by one command only

        mark = stamp("answered", reason, by, written_at)
        return answers.put(self._connection, self.path, sighting, code, digest, mark, new_id)

    def answered_queries(self) -> list[Answer]:
        """Give every answer to a query as it stands, the oldest first."""
        from reedmace.ledger import answers

        return answers.standing(self._connection, self.path)

    def decline_offer(self, sighting: str, reply: str, reason: str, by: str, written_at: str, new_id: NewId) -> str:
        """Keep that what a county recorder's answer (an entry's id) offers is not taken; gives the new entry's id."""
        from reedmace.ledger import answers

        return self.answer_query(sighting, answers.of_offer(reply), reply, reason, by, written_at, new_id)

    def declined_offers(self) -> dict[str, Answer]:
        """Give who declined what was offered, and why, by the entry id of the county recorder's answer."""
        from reedmace.ledger import answers

        return answers.declined(self._connection, self.path)

    def backup(self, to: str | PathLike[str]) -> None:
        """Copy the ledger, as it stands at this moment, to a new file."""
        from reedmace.ledger import backup  # needed by one command only

        backup.copy(self._connection, os.fspath(to))

    def merge(self, other: str | PathLike[str], progress: Callable[[int], None]) -> Merged:
        """Take over what another ledger holds, all or nothing; the other is only read."""
        from reedmace.ledger.merge import merge

        return merge(self._connection, self.path, os.fspath(other), progress)

    def together(self, *, keep: bool = True) -> AbstractContextManager[None]:
        """Write all that is written within, by any method, or nothing of it; others wait meanwhile.

        What is not to `keep` is taken back at the end.
        """
        return writing(self._connection, self.path, keep=keep)

    def dump(self, contacts: bool = False) -> Generator[str, None, None]:
        """Give the whole ledger as lines of text, in an order that is the same in every copy."""
        from reedmace.ledger.dump import lines

        return lines(self._connection, self.path, contacts=contacts)

    def restore(self, dump: Iterable[str], name: str, progress: Callable[[int], None]) -> int:
        """Read a dump, whose file is called `name`, into this ledger; gives the number of entries."""
        from reedmace.ledger.dump import restore

        return restore(self._connection, self.path, dump, name, progress)

    def audit(self, progress: Callable[[int], None]) -> Iterator[Finding]:
        """Give everything in the file that is not as it should be."""
        from reedmace.ledger.audit import audit

        return audit(self._connection, self.path, progress)

    def people_missing(self) -> list[tuple[str, int]]:
        """Give the ids of people whom entries name and the register does not hold, with the number of sightings."""
        from reedmace.ledger.audit import people_missing

        with told(self.path):
            return people_missing(self._connection)

    def photos(self) -> Iterator[Photo]:
        """Give the photographs that standing sightings name."""
        from reedmace.ledger.audit import photos

        return photos(self._connection, self.path)

    def relist(self) -> None:
        """Work out anew what lists are answered from; no entry is touched."""
        from reedmace.ledger.audit import relist

        with writing(self._connection, self.path):
            relist(self._connection)

    def forget(
        self, ids: Sequence[str], names: Sequence[str], also: Sequence[str] = (), redact: bool = False
    ) -> Forgotten:
        """Remove a person's name and contact details by rewriting the file; the records stay. See forget.py."""
        from reedmace.ledger.forget import forget

        return forget(self._connection, self.path, tuple(ids), tuple(names), tuple(also), redact)

    def people_named_within(self, name: str) -> tuple[Person, ...]:
        """Give the people whose names hold this name among other words."""
        from reedmace.ledger.redact import in_full, pattern
        from reedmace.ledger.register_names import holding

        with told(self.path):
            return holding(self._connection, pattern(in_full(name)))

    def entries_saying(self, name: str) -> tuple[str, ...]:
        """Give the ids of the entries whose own words hold a name, in any spelling that we can tell."""
        from reedmace.ledger.redact import pattern, saying, spellings

        with told(self.path):
            return tuple(saying(self._connection, pattern(spellings(name))))

    def note(self, note: Note, by: str, written_at: str, new_id: NewId) -> None:
        """Write a note of another kind than visits and sightings: a profile, or the answer to a query."""
        from reedmace.ledger.notes import write

        write(self._connection, self.path, note, by, written_at, new_id)

    def notes(self, kind: str) -> dict[str, Note]:
        """Give the notes of one kind as they stand, by subject."""
        from reedmace.ledger.notes import standing

        return standing(self._connection, self.path, kind)

    def submit(self, submission: Submission, by: str, new_id: NewId) -> None:
        """Keep what was sent to whom, in one entry that is never changed."""
        from reedmace.ledger import submissions

        stamp("recorded", "", by, submission.made_at)
        submissions.put(self._connection, self.path, submission, by, new_id)

    def submissions(self) -> list[Submission]:
        """Give every submission, the oldest first."""
        from reedmace.ledger import submissions

        return submissions.standing(self._connection, self.path)

    def acknowledge(self, receipt: Receipt, by: str, written_at: str, new_id: NewId) -> str:
        """Keep what a recipient said of having received a submission; gives the entry's id."""
        from reedmace.ledger import submissions

        mark = stamp("replied", "receipt", by, written_at)
        return submissions.acknowledge(self._connection, self.path, receipt, mark, new_id)

    def receipts(self, submission: str | None = None) -> list[Receipt]:
        """Give the receipts of one submission, or all, the oldest first."""
        from reedmace.ledger import submissions

        return submissions.receipts(self._connection, self.path, submission)

    def answered_by_recorder(
        self, replies: Iterable[Reply], by: str, written_at: str, new_id: NewId
    ) -> tuple[str, ...]:
        """Keep a county recorder's answers, all or none, beside what was said in the field; gives the entries' ids."""
        from reedmace.ledger.replies import put

        mark = stamp("replied", "the county recorder's reply", by, written_at)
        return put(self._connection, self.path, replies, mark, new_id)

    def replies_about(self, sighting: str) -> list[Reply]:
        """Give every answer about one sighting, in the order in which they were written down."""
        from reedmace.ledger.replies import of

        return of(self._connection, self.path, sighting)

    def replies(self) -> list[Reply]:
        """Give every answer about any sighting, in the order in which they were written down."""
        from reedmace.ledger.replies import every

        return every(self._connection, self.path)

    def verifications(self, until: str = "") -> Callable[[str], Verification | None]:
        """Give a look-up from a sighting's id to the answer that counts, the latest by the verifier's date.

        `until` (UTC) looks at what had been written down by then.
        """
        from reedmace.ledger import replies

        if replies.none(self._connection, self.path):
            return lambda _: None
        if until:
            return lambda sighting: replies.counted(self._connection, self.path, sighting, until)
        return lambda sighting: replies.counts(self._connection, self.path, sighting)

    def importing(self) -> Bulk:
        """Write many records that have ids of their own, in portions; see bulk.py."""
        from reedmace.ledger.bulk import Bulk

        return Bulk(self._connection, self.path)
