"""A county recorder's answers from a file → entries beside the records, and corrections on offer.

Nothing that was said in the field is overwritten: each answer is an entry of its own. A row that answers to no
record, to several, or against itself comes back in a file with its fault beside it. Reading a file twice adds
nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from functools import partial
from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.ledger.replies import Reply
from reedmace.ledger.store import Ledger
from reedmace.records import unreadable
from reedmace.records.verification import POSITIVE, Verification
from reedmace.tasks.replies.match import Found, day_of_reply, find_records
from reedmace.tasks.replies.offers import Offer, Offered, offered
from reedmace.tasks.replies.verifier import take_verifier
from reedmace.tasks.replies.words import by_the_name, read_status
from reedmace.tasks.sheets.columns import ColumnMapping
from reedmace.tasks.sheets.faults_file import FaultsFile
from reedmace.tasks.sheets.rows import Row, Sheet, rows

Fields = dict[str, str]
_SAYING = ("status", "remark", "new_name", "new_date", "new_place", "new_count", "new_stage")


class Answered(NamedTuple):
    """One row's answer about one record, and what it offers to correct. `verifier` is a name.

    `stated` says that the row has a decision in words, `given` is the scientific name in it. `there` says that the
    ledger holds this answer already, and `reply` is its entry's id there.
    """

    row: Row
    found: Found
    verifier: str
    said: Verification
    offers: tuple[Offer, ...]
    stated: bool = True
    given: str = ""
    there: bool = False
    reply: str = ""


class Read(NamedTuple):
    """What a file came to: answers, faulty rows with their faults, how many rows, and how many without an answer."""

    answers: tuple[Answered, ...]
    faulty: tuple[tuple[Row, tuple[Fault, ...]], ...]
    rows: int
    silent: int

    @property
    def by_words(self) -> tuple[Answered, ...]:
        """The answers whose record was found by name, date and place, to be confirmed."""
        return tuple(one for one in self.answers if not one.found.by_id)


def read_replies(ledger: Ledger, key: Key, sheet: Sheet, mapping: ColumnMapping, verifier: str, today: date) -> Read:
    """Read a file of answers; nothing is written. `verifier` is who decided where no column says so."""
    answers: list[Answered] = []
    faulty: list[tuple[Row, tuple[Fault, ...]]] = []
    places = mapping.places(sheet.columns)
    count = silent = 0
    for row in rows(sheet):
        count += 1
        if row.fault is not None:
            faulty.append((row, (row.fault,)))
            continue
        fields = {field: row.cells[place].strip() for place, field, _ in places if row.cells[place].strip()}
        made = _answers(ledger, key, fields, row, verifier, today)
        if made is None:
            silent += 1
        elif isinstance(made, tuple):
            faulty.append((row, made))
        else:
            answers += made
    kept = list(_agreeing(answers, faulty))
    return Read(tuple(_looked_up(ledger, kept)), tuple(faulty), count, silent)


def _whose_date(ledger: Ledger, found: Sequence[Found], fields: Fields, today: date) -> Fault | None:
    """Tell of a date that may be the decision's as well as the sighting's: one with no other beside it, and later.

    One that is later than the record itself can only be the decision's, and is taken for it: nothing is seen after
    it was written down.
    """
    text = fields.get("date", "")
    if not text or fields.get("verified_on") or not all(one.by_id for one in found):
        return None
    day = day_of_reply(text, today)
    if isinstance(day, Fault) or not all(one.visit.date and one.visit.date[:10] < day for one in found):
        return None
    if all(_written_before(ledger, one, day) for one in found):
        fields["verified_on"] = fields.pop("date")
        return None
    said = "This date is later than the sighting's: it may be the day of the decision, or a correction."
    hint = 'say which, "HEADING" being that of its column:  --map "HEADING=verified_on"  or  --map "HEADING=new_date"'
    return Fault("reply-date-unclear", said, hint, text, typed=True)


def _written_before(ledger: Ledger, one: Found, day: str) -> bool:
    """Say whether a record was first written before a day; one more day for clocks that go by another zone."""
    written = min(meta.written_at for meta, _ in ledger.history(one.sighting.id))[:10]
    return len(day) == len(written) and date.fromisoformat(written) + timedelta(days=1) < date.fromisoformat(day)


def _answers(
    ledger: Ledger, key: Key, fields: Fields, row: Row, verifier: str, today: date
) -> list[Answered] | tuple[Fault, ...] | None:
    """Give a row's answers, its faults, or None for a row that says nothing."""
    why = unreadable("".join(row.cells)) or (
        "it holds a sign that is no text" if "\ufffd" in "".join(row.cells) else ""
    )
    if why:
        hint = "save the file as CSV UTF-8, or say how it is written:  --encoding cp1252"
        return (Fault("text-unreadable", f"This row cannot be kept: {why}.", hint),)
    found = find_records(ledger, key, fields, today)
    if isinstance(found, Fault):
        return (found,) if any(fields.get(field) for field in _SAYING) else None
    faults = [fault for fault in (_whose_date(ledger, found, fields, today),) if fault]
    status = read_status(fields["status"]) if fields.get("status") else ""
    named = take_verifier(fields, partial(day_of_reply, today=today))
    day = day_of_reply(fields["verified_on"], today) if fields.get("verified_on") else ""
    faults += [read for read in (named, day) if isinstance(read, Fault)]
    who = verifier if isinstance(named, Fault) else named or verifier
    if not who and not isinstance(named, Fault):
        hint = 'write who decided, or say it for all rows:  --verifier "Name"'
        faults.append(Fault("verifier-missing", "Nobody is named who decided.", hint))
    made = []
    for one in found:
        sighting = one.sighting
        remark = fields.get("remark", "")
        # What was sent in that column, and came back as it was, is no answer.
        remark = "" if remark == sighting.remarks else remark
        withdrawn = one.meta.act == "withdrawn"
        read = Offered() if withdrawn else offered(ledger, key, one, fields, today)
        faults += read.faults
        decided = by_the_name(fields["status"], read.name, within=read.within) if isinstance(status, Fault) else status
        if decided is None and isinstance(status, Fault):
            faults.append(status)
        if len(found) > 1 and (alone := [offer for offer in read.offers if offer.field in ("count", "stage")]):
            said = f"This row answers to {len(found)} records and corrects the {alone[0].field} of one."
            faults.append(Fault("matches-several", said, "give the id of the one that is meant", sighting.id))
        if faults or not (decided or remark or read.offers or read.agreed):
            continue
        # Who gives another name says that this one is wrong; who gives the same, or one within it, that it is right.
        agreed = read.agreed or (bool(read.name) and read.within)
        unsaid = "considered correct" if agreed else "incorrect" if read.name else "not reviewed"
        word = decided or unsaid
        if word in POSITIVE and read.name and not read.within:
            said = f"The record is called {word}, and another name is given: {read.offers[0].now}."
            hint = "write  incorrect  if the name given is the right one, else leave it out"
            faults.append(Fault("reply-contradicts", said, hint, fields.get("status")))
            continue
        if day and one.visit.date and str(day) < one.visit.date[: len(str(day))]:
            said = f"The decision is of {day}, before the sighting on {one.visit.date}."
            faults.append(Fault("reply-too-early", said, "check both dates", fields.get("verified_on")))
            continue
        about = sighting.taxon.scientific_name
        verification = Verification(word, "", str(day), remark, about, read.name)
        made.append(Answered(row, one, who, verification, read.offers, bool(decided), read.given))
    return tuple(dict.fromkeys(faults)) or made or None


def _agreeing(answers: list[Answered], faulty: list[tuple[Row, tuple[Fault, ...]]]) -> Iterator[Answered]:
    """Give the answers, once each; rows that say different things of one record come back, all of them."""
    of: dict[str, list[Answered]] = {}
    for one in answers:
        of.setdefault(one.found.sighting.id, []).append(one)
    for subject, alike in of.items():
        by_person = {(one.verifier.casefold(), one.said.date): (one.said, one.offers) for one in alike}
        if all(by_person[one.verifier.casefold(), one.said.date] == (one.said, one.offers) for one in alike):
            seen = dict.fromkeys((one.verifier.casefold(), one.said.date) for one in alike)
            yield from (
                next(one for one in alike if (one.verifier.casefold(), one.said.date) == which) for which in seen
            )
            continue
        for one in alike:
            others = ", ".join(str(other.row.line) for other in alike if other is not one)
            said = f"Of this record line {others} says something else."
            faulty.append((one.row, (Fault("reply-twice", said, "leave one of them", subject),)))


def _looked_up(ledger: Ledger, answers: list[Answered]) -> Iterator[Answered]:
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
