"""A county recorder's answers from a file → entries beside the records, and corrections on offer.

Nothing that was said in the field is overwritten: each answer is an entry of its own. A row that answers to no
record, to several, or against itself comes back in a file with its fault beside it. Reading a file twice adds
nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from functools import cache, partial
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.ledger.replies import Reply
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, unreadable
from reedmace.records.verification import POSITIVE, Verification
from reedmace.tasks.replies.agreeing import agreeing, not_sorted
from reedmace.tasks.replies.answered import Answered, Faulty, Read
from reedmace.tasks.replies.as_sent import AsSent
from reedmace.tasks.replies.days import FIELDS as DATED
from reedmace.tasks.replies.days import day_of_reply, order_of, order_unclear, put_in_order
from reedmace.tasks.replies.match import Found, find_records
from reedmace.tasks.replies.offers import FIELDS as CORRECTED
from reedmace.tasks.replies.offers import Offered, offered, read_anew
from reedmace.tasks.replies.verifier import take_verifier
from reedmace.tasks.replies.whose_date import whose_date
from reedmace.tasks.replies.words import by_the_name, read_status
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.faults_file import FaultsFile
from reedmace.tasks.sheets.month_first import in_figures
from reedmace.tasks.sheets.rows import Row, Sheet, rows
from reedmace.tasks.shorthand.children_kept import children_in_words
from reedmace.tasks.shorthand.people_short import longer_names

Fields = dict[str, str]
_SAYING = ("status", "remark", *(f"new_{field}" for field in CORRECTED))


def read_replies(ledger: Ledger, key: Key, sheet: Sheet, mapping: ColumnMapping, verifier: str, today: date) -> Read:
    """Read a file of answers; nothing is written. `verifier` is who decided where no column says so.

    Raises `Refused` where nobody can say whether the month or the day comes first in its dates.
    """
    reading = _Reading(ledger, key, verifier, today, AsSent(ledger))
    places = mapping.places(sheet.columns)
    if fault := order_unclear(mapping, order_of(reading.dates(sheet, places))):
        raise Refused(fault)
    answers: list[Answered] = []
    faulty: Faulty = []
    count = silent = 0
    for row in rows(sheet):
        count += 1
        if row.fault is not None:
            faulty.append((row, (row.fault,)))
            continue
        made = reading.answers(_fields(row, places), row)
        if made is None:
            silent += 1
        elif isinstance(made, tuple):
            faulty.append((row, made))
        else:
            answers += made
    kept = list(agreeing(list(not_sorted(answers, faulty)), faulty))
    return Read(tuple(looked_up(ledger, kept)), tuple(faulty), count, silent)


def read_one(ledger: Ledger, key: Key, fields: Fields, today: date) -> Read:
    """Read one answer, given by its fields; nothing is written. Raises `Refused` for what is unclear or lacking."""
    row = Row(1, tuple(fields.values()))
    made = _Reading(ledger, key, "", today, AsSent(ledger)).answers(dict(fields), row)
    if made is None:
        hint = "give the decision, a name, or a remark:  --status correct , --name NAME , --remarks TEXT"
        raise Refused(Fault("answer-missing", "Nothing was answered.", hint, fields.get("id"), typed=True))
    if isinstance(made, tuple):
        raise Refused(*(fault._replace(typed=True) for fault in made))
    return Read(tuple(looked_up(ledger, made)), (), 1, 0)


def _fields(row: Row, places: Sequence[tuple[int, str, str]]) -> Fields:
    fields = {field: row.cells[place].strip() for place, field, _ in places if row.cells[place].strip()}
    put_in_order(fields)
    return fields


class _Reading:
    """A file being read: the rows one by one, each against the records it is about."""

    def __init__(self, ledger: Ledger, key: Key, verifier: str, today: date, sent: AsSent) -> None:
        self._ledger, self._key, self._verifier, self._today, self._sent = ledger, key, verifier, today, sent

    def dates(self, sheet: Sheet, places: Sequence[tuple[int, str, str]]) -> Iterator[tuple[str, frozenset[str]]]:
        """Give the cells of dates of a whole file, each with the days on which its record was, as far as ids tell."""
        for row in rows(sheet) if any(field in DATED for _, field, _ in places) else ():
            if row.fault is not None:
                continue
            cells = {field: row.cells[place].strip() for place, field, _ in places}
            for field in DATED:
                text = cells.get(field, "")
                if any(in_figures(text)):
                    yield text, self._days(cells.get("id", "")) if field == "date" else frozenset()

    def _days(self, identifier: str) -> frozenset[str]:
        found = self._with_id(identifier) if identifier else ()
        if isinstance(found, Fault):
            return frozenset()
        return frozenset(
            day
            for one in found
            for day in (one.visit.date, *(version.visit.date for version in self._sent.versions(one)))
            if day
        )

    def answers(self, fields: Fields, row: Row) -> list[Answered] | tuple[Fault, ...] | None:
        """Give a row's answers, its faults, or None for a row that says nothing."""
        why = unreadable("".join(row.cells)) or (
            "it holds a sign that is no text" if "\ufffd" in "".join(row.cells) else ""
        )
        if why:
            hint = "save the file as CSV UTF-8, or say how it is written:  --encoding cp1252"
            return (Fault("text-unreadable", f"This row cannot be kept: {why}.", hint),)
        identifier = fields.get("id", "")
        found = self._with_id(identifier) if identifier else find_records(self._ledger, self._key, fields, self._today)
        if isinstance(found, Fault):
            return (found,) if any(fields.get(field) for field in _SAYING) else None
        faults = [one for one in (whose_date(self._ledger, self._sent, found, fields, self._today),) if one]
        status = read_status(fields["status"]) if fields.get("status") else ""
        named = take_verifier(fields, partial(day_of_reply, today=self._today))
        day = day_of_reply(fields["verified_on"], self._today) if fields.get("verified_on") else ""
        faults += [read for read in (named, day) if isinstance(read, Fault)]
        who = self._verifier if isinstance(named, Fault) else named or self._verifier
        faults += [fault for fault in (self._short_name(who),) if fault]
        nobody = not who and not isinstance(named, Fault)
        told = _Told(status, who, day if isinstance(day, str) else "")
        made: list[Answered] = []
        for one in found:
            answer = self._answer(fields, row, one, told, many=len(found))
            if isinstance(answer, Answered):
                made.append(answer)
            else:
                faults += answer
        faults += children_in_words(dict.fromkeys(one.said.remark for one in made), lambda: self._key)
        if nobody and (made or faults):
            hint = 'write who decided, or say it for all rows:  --verifier "Name"'
            faults.append(Fault("verifier-missing", "Nobody is named who decided.", hint))
        return tuple(dict.fromkeys(faults)) or made or None

    def _answer(self, fields: Fields, row: Row, one: Found, told: _Told, *, many: int) -> Answered | tuple[Fault, ...]:
        """Give what a row says of one record, or its faults: none where it says nothing."""
        key, today = self._key, self._today
        remark = self._sent.own_words(one, fields.get("remark", ""))
        meant = self._meant(fields, one, told.day)
        withdrawn = one.meta.act == "withdrawn"
        read = Offered() if withdrawn else offered(key, one, meant, fields, today, self._sent)
        decided = told.status
        if isinstance(decided, Fault):
            by_name = by_the_name(fields["status"], read.name, within=read.within)
            decided = decided if by_name is None else by_name
        if unread := (*read.faults, *((decided,) if isinstance(decided, Fault) else ())):
            return unread
        assert isinstance(decided, str)
        if many > 1 and (alone := [offer for offer in read.offers if offer.field in ("count", "sex", "stage")]):
            said = f"This row answers to {many} records and corrects the {alone[0].field} of one."
            return (Fault("matches-several", said, "give the id of the one that is meant", one.sighting.id),)
        if not (decided or remark or read.offers or read.agreed or read.name):
            return ()
        # Who gives another name says that this one is wrong; who gives the same, or one within it, that it is right.
        agreed = read.agreed or (bool(read.name) and read.within)
        word = decided or ("considered correct" if agreed else "incorrect" if read.name else "not reviewed")
        if word in POSITIVE and read.name and not read.within:
            said = f"The record is called {word}, and another name is given: {read.called}."
            hint = "write  incorrect  if the name given is the right one, else leave it out"
            return (Fault("reply-contradicts", said, hint, fields.get("status")),)
        if told.day and one.visit.date and told.day < one.visit.date[: len(told.day)]:
            said = f"The decision is of {told.day}, before the sighting on {one.visit.date}."
            return (Fault("reply-too-early", said, "check both dates", fields.get("verified_on")),)
        said_of = Verification(word, "", told.day, remark, meant.taxon.scientific_name, read.name)
        return Answered(
            *(row, one, told.who, said_of, read.offers, bool(decided), read.given),
            overwritten=read.overwritten,
            turned=read.turned,
        )

    @cache  # noqa: B019  (lives no longer than the reading of a file)
    def _with_id(self, identifier: str) -> tuple[Found, ...] | Fault:
        """Look for a record by its id, once: its dates are looked at before its row is read."""
        return find_records(self._ledger, self._key, {"id": identifier}, self._today)

    @cache  # noqa: B019  (lives no longer than the reading of a file)
    def _short_name(self, who: str) -> Fault | None:
        """Ask who is meant by a new name that may be short for that of somebody who is there."""
        if not who or self._ledger.people.find(who) is not None:
            return None
        there = [one.name for one in self._ledger.people.all() if not one.forgotten]
        others = longer_names(who, there)
        if not others:
            return None
        why = f"This may be {' or '.join(others)}, who is there; one verifier under two names would be two."
        hint = f'write the whole name; if it is somebody else:  reedmace people --add "{who}"'
        return Fault("verifier-unclear", why, hint, who)

    def _meant(self, fields: Fields, one: Found, day: str) -> Sighting:
        """Give the sighting under the name that the row speaks of, or the answer is about by its day."""
        text = fields.get("name", "")
        says = read_anew("name", self._key, text, self._today) if text else None
        if text and one.by_id and self._sent.came_back(one, "name", text):
            says = None
        known = frozenset(reply.said.name for reply in self._ledger.replies_about(one.sighting.id) if reply.said.name)
        return self._sent.meant(one, says, day, known)


class _Told(NamedTuple):
    """What a row says for all its records: the decision, or why it cannot be read, who decided, and when or ""."""

    status: str | Fault
    who: str
    day: str


def looked_up(ledger: Ledger, answers: Iterable[Answered]) -> Iterator[Answered]:
    """Say of each answer whether the ledger holds it already."""
    for one in answers:
        people = ledger.people.ids_of(one.verifier)
        kept = [
            old.id
            for old in ledger.replies_about(one.found.sighting.id)
            if old.said.verifier in people and _same(old, one)
        ]
        yield one._replace(there=bool(kept), reply=kept[-1] if kept else "")


def _same(old: Reply, one: Answered) -> bool:
    """Say whether an answer is this one. Corrections that were accepted since are no longer on offer."""
    decided = old.said.status == one.said.status or (not one.stated and old.said.name in (one.given, one.said.name))
    offers = all(old.offers.get(offer.field) == offer.typed for offer in one.offers)
    return decided and offers and (old.said.date, old.said.remark) == (one.said.date, one.said.remark)


def unconfirmed(read: Read) -> Read:
    """Turn answers whose record was found by words, and that nobody confirmed, into faulty rows."""
    left = [one for one in read.by_words if not one.there]
    of_row: dict[int, list[Answered]] = {}
    for one in left:
        of_row.setdefault(one.row.line, []).append(one)
    faulty = list(read.faulty)
    for alike in of_row.values():
        ids = ", ".join(one.found.sighting.id for one in alike)
        hint = f"if it is, write its id here ({ids}), or read the file again with  --yes"
        said = "This seems to be about a record found by name, date and place, and nobody confirmed it."
        faulty.append((alike[0].row, (Fault("match-not-confirmed", said, hint),)))
    return read._replace(answers=tuple(one for one in read.answers if one not in left), faulty=tuple(faulty))


def write_replies(
    ledger: Ledger,
    answers: tuple[Answered, ...],
    person: str,
    written_at: str,
    new_id: Callable[[], str],
) -> int:
    """Write the answers that are new, all or none; gives how many. Verifiers are registered by name."""
    new = [one for one in answers if not one.there]
    people = {name: ledger.people.register(name, new_id) for name in dict.fromkeys(one.verifier for one in new)}
    replies = [
        Reply(
            one.found.sighting.id,
            one.said._replace(verifier=people[one.verifier]),
            {offer.field: offer.typed for offer in one.offers},
        )
        for one in new
    ]
    if replies:
        ledger.answered_by_recorder(replies, person, written_at, new_id)
    return len(replies)


def write_faulty(sheet: Sheet, faulty: tuple[tuple[Row, tuple[Fault, ...]], ...], dry: bool) -> str | None:
    """Write the rows that come back into a file beside the sheet; gives its name, None where there are none."""
    out = FaultsFile(sheet, dry)
    try:
        for row, faults in sorted(faulty, key=lambda one: one[0].line):
            out.add(row, faults)
    finally:
        out.close()
    return out.name
