"""Names that may be children's among what is sent: told beside an export, which is never blocked."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from datetime import date

from reedmace.checks.query import Grounds, Query, record_of
from reedmace.ledger.entries import read_sighting
from reedmace.ledger.store import Ledger
from reedmace.records import Sighting, Visit
from reedmace.tasks.checking.check_records import digest_of, names_in
from reedmace.tasks.checking.children import CODE, with_children
from reedmace.tasks.export.choice import Called, chosen, plainly
from reedmace.tasks.export.profiles import Choose
from reedmace.tasks.shorthand.children_kept import may_be_childs, may_name_children

# Where the body of a sighting has words of its own: reading each as a record would take longer than the export.
_WORDS = re.compile(r'"(remarks|behaviour|typed)":(?:"((?:[^"\\]|\\.)*)"|\[([^]]*)\])')


def children_sent(
    ledger: Ledger, choose: Choose, season: int | None, today: date, called: Called, grounds: Callable[[], Grounds]
) -> list[Query]:
    """The queries about names in the records chosen (see `chosen`); those that were answered are not asked again.

    What to judge by is asked for only where there may be one.
    """
    records = _with_words(ledger, choose, season, today, called)
    perhaps = [(sighting, visit) for sighting, visit in records if may_name_children(visit, sighting)]
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


def _with_words(
    ledger: Ledger, choose: Choose, season: int | None, today: date, called: Called
) -> Iterator[tuple[Sighting, Visit]]:
    """The records chosen; of a whole season only those that have words, for reading a body takes most of the time."""
    wanted = plainly(choose, season)
    if wanted is None:
        yield from ((sighting, visit) for sighting, visit, _ in chosen(ledger, choose, season, today, called))
        return
    last, perhaps = "", False
    for body, visit in ledger.current_bodies(wanted):
        if visit.id != last:
            last, perhaps = visit.id, may_name_children(visit)
        if perhaps or any(may_be_childs(text, visit) for text in _words_in(body.text)):
            yield read_sighting(body.text, body.meta().entry_id, ledger.path), visit


def _words_in(body: str) -> Iterator[str]:
    """The words of a body of which a name may be a part."""
    for field, text, texts in _WORDS.findall(body):
        said = text or texts
        if said and (field != "typed" or "#" in said):
            yield json.loads(f'"{said}"') if text and "\\" in said else said
