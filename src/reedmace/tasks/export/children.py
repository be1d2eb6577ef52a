"""Names that may be children's among what is sent: told beside an export, which is never blocked."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from reedmace.checks.query import Grounds, Query, record_of
from reedmace.ledger.store import Ledger
from reedmace.tasks.checking.check_records import digest_of, names_in
from reedmace.tasks.checking.children import CODE, with_children
from reedmace.tasks.export.choice import Chosen
from reedmace.tasks.shorthand.children_kept import may_name_children


def children_sent(ledger: Ledger, records: Iterable[Chosen], grounds: Callable[[], Grounds]) -> list[Query]:
    """The queries of these records that are about a name; those that were answered are not asked again.

    What to judge by is asked for only where there may be one.
    """
    perhaps = [(sighting, visit) for sighting, visit, _ in records if may_name_children(sighting, visit)]
    if not perhaps:
        return []
    judged, names = grounds(), names_in(ledger)
    answers = {one.sighting: one.digest for one in ledger.answered_queries() if one.code == CODE}
    return [
        query
        for sighting, visit in perhaps
        for query in with_children(judged, record_of(judged, sighting, visit), [], names)
        if answers.get(sighting.id) != digest_of(sighting, visit)
    ]
