"""The summary behind a covering page: totals, what is notable, what is open, what changed since it was sent last."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from reedmace.checks.query import Grounds, Query, Record
from reedmace.ledger.answers import Answer
from reedmace.ledger.entries import EntryMeta
from reedmace.ledger.store import Ledger
from reedmace.ledger.submissions import Submission
from reedmace.records import Naming, Sighting
from reedmace.records.verification import Verification
from reedmace.reports.covering import AnsweredQuery, Changed, Cover, First, Notable, OpenQuery, marked
from reedmace.tasks.checking.check_records import check_ledger, digest_of
from reedmace.tasks.export.changes import Held, held, since
from reedmace.tasks.export.choice import Chosen, Test
from reedmace.tasks.export.closed import Closed
from reedmace.tasks.export.cover_tally import REJECTED, Tally, doubt_of
from reedmace.tasks.export.rows import Told
from reedmace.tasks.records.tell_history import count_words, place_words, taxon_words

# Why a record is worth a second look, the weightiest first; a first alone is told in one line.
NOTABLE = (
    *("rare-here", "vagrant-here", "out-of-range", "protected", "out-of-season"),
    *("first-here", "first-at-site"),
)
_FIRSTS = frozenset({"first-here", "first-at-site"})
MOST_QUERIES = 60  # told on the page; whoever has more reads them at the screen
MOST_NOTABLE = 60
_ANSWERS = 8  # of a keyed record, told in short


class CoverSaid(NamedTuple):
    """What a covering page says that no record does: title, from whom, for whom, of what period, made on what day."""

    title: str
    sender: str
    recipient: str
    period: str
    made_on: str


def cover_season(
    ledger: Ledger,
    grounds: Grounds,
    rows: Callable[[], Iterable[Chosen]],
    said: CoverSaid,
    before: Sequence[Submission] = (),
    concerns: Test | None = None,
) -> Cover:
    """Summarise what is chosen: `rows` gives the sightings, each time anew.

    They are checked against the whole ledger up to their last day, so that firsts are firsts. `before` are the
    submissions that the recipient has had: new, changed and withdrawn are counted from what they hold; with
    `concerns`, of records that it takes (see `since`).
    """
    tally = Tally()
    closed = Closed(ledger)
    verification = ledger.verifications()
    for sighting, visit, meta in rows():
        tally.take(sighting, visit, meta, verification(sighting.id))
    notable: list[tuple[int, Notable]] = []
    firsts: list[First] = []
    queries: list[OpenQuery] = []
    answered: list[AnsweredQuery] = []
    care: Counter[tuple[str, str]] = Counter()
    answers = _answers(ledger, tally.ids)
    left = blurred = 0
    for record, raised in _checked(ledger, grounds, tally):
        word = verification(record.sighting.id)
        if closed.holds(record.sighting, record.visit):
            blurred += 1
            record, raised, kept = _blurred(closed, record, raised)
            left += kept
        for one in raised:
            if one.code in ("protected", "sensitive", "site-withheld"):
                care[(one.code, f"{one.reason.rstrip('.')}: {one.remedy}")] += 1
            elif one.severity != "note" and one.code != "child-named":  # that page leaves the house as well
                if len(queries) < MOST_QUERIES:
                    queries.append(
                        OpenQuery(one.code, _what(record, word), record.visit.date or "", one.reason, one.remedy)
                    )
                else:
                    left += 1
        reasons = {one.code: one.reason for one in raised if one.code in NOTABLE}
        if reasons.keys() <= _FIRSTS:
            firsts += [
                First(_what(record, word), record.visit.date or "", why, _evidence(record.sighting))
                for why in list(reasons.values())[: MOST_NOTABLE - len(firsts)]
            ]
        elif len(notable) < MOST_NOTABLE:
            notable.append((_weight(reasons), _notable(ledger, record, word, _in_order(reasons))))
        answered += _answered(ledger, record, word, answers)
    changes, unchanged = _changes(ledger, rows, held(before), tally.ids, closed, concerns) if before else ((), 0)
    county = grounds.county
    return Cover(
        *said,
        records=len(tally.ids),
        species=len(tally.species),
        visits=len(tally.visits),
        days=len(tally.days),
        sites=len(tally.sites),
        observers=tally.people(ledger.people.twice()),
        lines=tally.lines(),
        notable=tuple(one for _, one in sorted(notable, key=lambda one: one[0])),
        firsts=tuple(firsts),
        queries=tuple(queries),
        left=left,
        answered=tuple(answered),
        since=f"{before[-1].file_name} of {before[-1].made_at[:10]}" if before else "",
        changes=changes,
        unchanged=unchanged,
        sensitive=(*_not_told(blurred), *_counted(care, ("sensitive", "site-withheld"))),
        care=(*_counted(care, ("protected",)), *(f"{note.text} (as of {note.checked})" for note in tally.care())),
        key=f"The key {grounds.key.id} {grounds.key.version} ({grounds.key.title})",
        undated=tally.undated,
        county=f"The {county.cited}" if county else "",
        in_doubt=tally.in_doubt,
        rejected=tally.rejected,
    )


def _checked(ledger: Ledger, grounds: Grounds, tally: Tally) -> Iterator[tuple[Record, tuple[Query, ...]]]:
    for one in check_ledger(
        grounds, ledger, until=tally.last_day or None, wanted=lambda record: record.sighting.id in tally.ids
    ):
        yield one.record, one.queries


def _blurred(closed: Closed, record: Record, raised: tuple[Query, ...]) -> tuple[Record, tuple[Query, ...], int]:
    """Give a record whose place nobody else may see as it is told, with what may be told of it.

    Its queries are for its keeper alone: the third is how many there are.
    """
    sighting, visit, _ = closed.blurred(record.sighting, record.visit)
    told = tuple(one for one in raised if one.code in NOTABLE and not closed.tells(f"{one.reason} {one.remedy}"))
    queries = sum(one.severity != "note" and one not in told for one in raised)
    return record._replace(sighting=sighting, visit=visit, place=visit.place), told, queries


def _not_told(records: int) -> Iterator[str]:
    if records:
        which = "1 record" if records == 1 else f"{records:,} records"
        yield f"By the register of sites nobody else may see the place of {which}: a square of 10 km is given instead."


def _answers(ledger: Ledger, ids: Mapping[str, EntryMeta]) -> dict[str, list[Answer]]:
    found: dict[str, list[Answer]] = {}
    for one in ledger.answered_queries():
        if one.sighting in ids:
            found.setdefault(one.sighting, []).append(one)
    return found


def _answered(
    ledger: Ledger, record: Record, said: Verification | None, answers: Mapping[str, list[Answer]]
) -> Iterator[AnsweredQuery]:
    """Give the answers that still hold: the record is as it was when they were given."""
    given = answers.get(record.sighting.id)
    if given:
        now = digest_of(record.sighting, record.visit)
        for one in given:
            if one.digest == now:
                yield AnsweredQuery(
                    one.code, _what(record, said), record.visit.date or "", one.reason, ledger.people.name_of(one.by)
                )


def _weight(reasons: Mapping[str, str]) -> int:
    return min(NOTABLE.index(code) for code in reasons)


def _in_order(reasons: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(reasons[code] for code in NOTABLE if code in reasons)


def _what(record: Record, said: Verification | None) -> str:
    name = marked(record.name, doubt_of(record.sighting, said))
    return f"{name}, {record.place.square or record.place.typed or record.place.locality}"


def _evidence(sighting: Sighting) -> str:
    """What the name rests on, photographs by their names without their folders."""
    photos = [photo.path.replace("\\", "/").rpartition("/")[2] for photo in sighting.photos]
    return "; ".join(part for part in (sighting.evidence or "", ", ".join(photos)) if part)


def _notable(ledger: Ledger, record: Record, said: Verification | None, why: tuple[str, ...]) -> Notable:
    sighting, visit = record.sighting, record.visit
    observers = sighting.observers if sighting.observers is not None else visit.observers
    names = [*map(ledger.people.name_of, observers), *([visit.party] if visit.party else [])]
    named = f"; named by {ledger.people.name_of(sighting.determiner)}" if sighting.determiner else ""
    doubt = {"uncertain": "name uncertain", "probable": "name probable"}.get(sighting.certainty or "", "")
    rejected = REJECTED if doubt_of(sighting, said) == REJECTED else ""
    seen = [count_words(sighting), sighting.sex or "", sighting.stage or "", *sighting.behaviour]
    what = ", ".join(
        part for part in (taxon_words(sighting.taxon), *seen, sighting.qualifier or doubt, rejected) if part
    )
    when = " ".join(part for part in (visit.date or "no date", sighting.time or visit.start or "") if part)
    return Notable(
        sighting.id,
        what,
        when,
        place_words(record.place),
        f"{', '.join(names) or 'nobody named'}{named}",
        why,
        _evidence(sighting),
        key_in_short(sighting.naming) if sighting.naming else "",
        sighting.remarks,
    )


def key_in_short(naming: Naming) -> str:
    """What the key was answered and what it made of it, in one line; never more than was kept on the day."""
    answers = [f"{answer.character} = {answer.typed}" for answer in naming.answers[:_ANSWERS]]
    more = len(naming.answers) - len(answers)
    told = ", ".join(answers) + (f" and {more} more" if more else "")
    ranking = ", ".join(f"{one.name} {one.probability:.0%}" for one in naming.ranking[:2])
    verdict = " ".join(part for part in (naming.verdict or "", naming.verdict_name) if part)
    parts = [f"{naming.key_id} {naming.key_version}", f"answers {told}" if told else "", verdict, ranking]
    return "; ".join(part for part in parts if part)


def _counted(care: Counter[tuple[str, str]], codes: tuple[str, ...]) -> Iterator[str]:
    for (code, text), count in sorted(care.items()):
        if code in codes:
            yield f"{text} ({count:,} record{'' if count == 1 else 's'})."


def _changes(
    ledger: Ledger,
    rows: Callable[[], Iterable[Chosen]],
    before: Held,
    chosen: Mapping[str, EntryMeta],
    closed: Closed,
    concerns: Test | None,
) -> tuple[tuple[Changed, ...], int]:
    """Give what is new, changed or withdrawn since, and how many of the chosen that they hold are as they were."""
    told, said = list(since(ledger, before, rows(), closed, concerns)), ledger.verifications()
    changes = tuple(
        Changed(one.change, _in_short(one, said(one.sighting.id)), one.change_note, one.sighting.id in chosen)
        for one in told
    )
    changed = {one.sighting.id for one in told}
    return changes, sum(subject in before and subject not in changed for subject in chosen)


def _in_short(told: Told, said: Verification | None) -> str:
    sighting = told.sighting
    name = marked(taxon_words(sighting.taxon), doubt_of(sighting, said))
    return f"{name}, {count_words(sighting)}, {told.visit.date or 'no date'}; {sighting.id}"
