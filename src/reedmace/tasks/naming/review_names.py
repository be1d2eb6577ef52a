"""Year-end review: what was named by answers, run again against the key of today. Changes nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import NamedTuple

from reedmace.faults import Fault, Refused
from reedmace.keys.answers import read_traits
from reedmace.ledger.store import Ledger
from reedmace.ledger.wanted import Wanted
from reedmace.records import Naming, Sighting, Visit
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.name_insect import name_answers, species_named
from reedmace.tasks.shared.setting import again_setting

OUTSIDE = "outside"


class Reviewed(NamedTuple):
    """One sighting that was named by answers: what the key said then, and what it says now.

    `now` and `now_word` are empty where the answers no longer read (`faults`). `differs` says that the verdict
    has another name; `recorded_still_possible` that the name on the record is among what is possible now.
    """

    sighting: Sighting
    visit: Visit
    then: str
    then_word: str
    now: str
    now_word: str
    differs: bool
    recorded_still_possible: bool
    faults: tuple[Fault, ...]


def review(ledger: Ledger, tables_of: Mapping[str, Tables], wanted: Wanted, today: date) -> Iterator[Reviewed]:
    """Give every wanted sighting that was named by answers to this key, in whatever version it was then.

    `tables_of` gives the key's tables by the observer's eye (`beginner`, `practised`): answers weigh otherwise.
    """
    for sighting, visit, _ in ledger.current_sightings(wanted):
        naming = sighting.naming
        if naming is None or not naming.answers:
            continue
        tables = tables_of[naming.eye or "beginner"]
        if naming.key_id != tables.key.id:
            continue
        yield _again(tables, naming, sighting, visit, today)


def _again(tables: Tables, naming: Naming, sighting: Sighting, visit: Visit, today: date) -> Reviewed:
    then = naming.verdict_name or (OUTSIDE if naming.verdict == OUTSIDE else "")
    words = [f"{answer.character}={answer.typed}" for answer in naming.answers]
    try:
        answers = read_traits(tables.key, words)
        named = name_answers(tables, again_setting(tables.key, naming, visit.date, today), answers)
    except Refused as refused:
        return Reviewed(sighting, visit, then, naming.verdict or "", "", "", True, False, refused.faults)
    verdict = named.assessment.verdict
    now = verdict.name if verdict.word != OUTSIDE else OUTSIDE
    possible = set(species_named(tables.key, named.assessment))
    claimed = set(sighting.taxon.one_of) or {sighting.taxon.scientific_name}
    return Reviewed(
        sighting,
        visit,
        then,
        naming.verdict or "",
        now,
        verdict.word,
        (now, verdict.word) != (then, naming.verdict),
        bool(claimed & possible) or sighting.taxon.scientific_name == verdict.name,
        (),
    )
