"""Answer a query: it is not asked again until the record is changed."""

from __future__ import annotations

from collections.abc import Callable

from reedmace.checks.query import Grounds, Query, Record
from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.ledger.store import Ledger
from reedmace.tasks.checking.check_records import Checked, check, digest_of, names_in


def answer_query(
    grounds: Grounds,
    ledger: Ledger,
    sighting: str,
    code: str,
    reason: str,
    *,
    person: str,
    written_at: str,
    new_id: Callable[[], str],
) -> tuple[Record, Query]:
    """Keep the answer, once the record is found and does raise the query; gives both.

    `sighting` is an id or its last characters, as `check --ids` shows them. Raises `Refused`.
    """
    rows = ((one, visit) for one, visit, _ in ledger.current_sightings())
    found = list(check(grounds, rows, wanted=lambda record: _is(record, sighting), names=names_in(ledger)))
    exact = [one for one in found if one.record.sighting.id == sighting]
    if len(exact or found) != 1:
        raise Refused(_which(sighting, found))
    record, queries, _ = (exact or found)[0]
    asked = [query for query in queries if query.code == code.strip().casefold()]
    if not asked:
        codes = [query.code for query in queries]
        message = f'This record raises no query "{code}".'
        otherwise = f"it raises {', '.join(codes)}" if codes else "it raises none, so there is nothing to answer"
        raise Refused(Fault("no-such-query", message, did_you_mean(code, codes, otherwise), code, typed=True))
    digest = digest_of(record.sighting, record.visit)
    ledger.answer_query(record.sighting.id, asked[0].code, digest, reason, person, written_at, new_id)
    return record, asked[0]


def _is(record: Record, wanted: str) -> bool:
    return bool(wanted.strip()) and record.sighting.id.endswith(wanted.strip())


def _which(typed: str, found: list[Checked]) -> Fault:
    if not found:
        hint = "reedmace check --ids  shows the last characters of each record's id"
        return Fault("not-recorded", "There is no record with this id.", hint, typed, typed=True)
    hint = "write more of the id of one of them: " + ", ".join(one.record.sighting.id for one in found[:3])
    return Fault("several-records", f"{len(found)} records end like this.", hint, typed, typed=True)
