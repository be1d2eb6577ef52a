"""The story of one record in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from reedmace.faults import Refused
from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.records import Sighting, Visit
from reedmace.tasks.records.tell_history import Change, tell_history
from reedmace.tasks.records.tell_visit import find_subject, find_visit
from reedmace.tasks.shorthand.field_page import read_page
from reedmace.tasks.shorthand.page_said import Reading
from reedmace.tasks.walks.log_walk import Writer, log_visit
from tarn import TODAY


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """A new ledger."""
    with open_ledger(tmp_path / "walk.ledger") as opened:
        yield opened


@pytest.fixture
def new_id() -> Callable[[], str]:
    """Ids that count."""
    numbers = count(1)
    return lambda: f"id-{next(numbers):03}"


@pytest.fixture
def logged(ledger: Ledger, key: Key, new_id) -> tuple[str, Visit, Sighting]:
    """Two exuviae by Ada Marsh: her id, the visit and the sighting."""
    (page,), _ = read_page("visit 2026-07-12 @ SU 431 118\nexuvia 2 s haw\n", Reading(key, "", TODAY))
    ada = ledger.people.register("Ada Marsh", new_id)
    assert page.said is not None
    visit, (sighting,) = log_visit(ledger, key, page, page.said, Writer(ada, "2026-07-12T18:00:00Z", new_id))
    return ada, visit, sighting


def test_a_record_tells_who_did_what_when_and_why(ledger: Ledger, logged, new_id) -> None:
    """Recorded, amended, named anew by somebody else, its visit amended, taken back, let stand again."""
    ada, visit, sighting = logged
    ben = ledger.people.register("Ben Sallow", new_id)
    more = sighting._replace(count=3, remarks="[three] :bee:")
    ledger.amend(more, "one was in the other tray", ada, "2026-07-13T10:00:00Z", new_id)
    taxon = more.taxon._replace(scientific_name="Aeshna mixta", vernacular="Migrant Hawker")
    named = more._replace(taxon=taxon, determiner=ben)
    ledger.amend(named, "mask under the lens", ben, "2026-07-14T10:00:00Z", new_id, act="redetermined")
    ledger.amend(visit._replace(date="2026-07-11"), "it was the Saturday", ada, "2026-07-15T10:00:00Z", new_id)
    ledger.withdraw([sighting.id], "not mine", ada, "2026-07-16T10:00:00Z", new_id)
    ledger.reinstate([sighting.id], "mine", ada, "2026-07-17T10:00:00Z", new_id)
    steps = tell_history(ledger, sighting.id)
    assert [(step.of, step.who, step.act, step.meta.reason) for step in steps] == [
        ("sighting", "Ada Marsh", "recorded it", ""),
        ("sighting", "Ada Marsh", "amended it", "one was in the other tray"),
        ("sighting", "Ben Sallow", "named it anew", "mask under the lens"),
        ("visit", "Ada Marsh", "amended it", "it was the Saturday"),
        ("sighting", "Ada Marsh", "took it back", "not mine"),
        ("sighting", "Ada Marsh", "let it stand again", "mine"),
    ]
    assert steps[0].said.startswith("Southern Hawker (Aeshna cyanea), 2, exuvia; on 2026-07-12 at SU431118")
    assert steps[0].said.endswith('seen by Ada Marsh; typed: "exuvia 2 s haw"')
    assert steps[1].changes == (Change("count", "2", "3"), Change("remarks", "nothing", "[three] :bee:"))
    assert steps[2].changes == (
        Change("name", "Southern Hawker (Aeshna cyanea)", "Migrant Hawker (Aeshna mixta)"),
        Change("named by", "Ada Marsh", "Ben Sallow"),
    )
    assert steps[3].changes == (Change("date", "2026-07-12", "2026-07-11"),)
    assert [step.head for step in steps if step.of == "sighting"] == [False, False, False, False, True]


def test_every_field_that_changes_is_told(ledger: Ledger, logged, new_id) -> None:
    """No amendment looks as if nothing had happened."""
    ada, _, sighting = logged
    changed = {
        "sex": "male",
        "stage": "larva",
        "certainty": "probable",
        "evidence": "photo",
        "time": "11:00",
        "behaviour": ("feeding",),
        "determined_on": "2026-07-13",
        "qualifier": "cf.",
        "line_id": "another",
        "typed": "otherwise",
    }
    before = sighting
    for minute, (field, value) in enumerate(changed.items()):
        after = before._replace(**{field: value})
        ledger.amend(after, "test", ada, f"2026-07-13T10:{minute:02}:00Z", new_id)
        assert tell_history(ledger, sighting.id)[-1].changes, field
        before = after


def test_a_record_is_found_by_the_end_of_its_id(ledger: Ledger, logged) -> None:
    """As the list shows it; of several that end alike, more is asked for."""
    _, visit, sighting = logged
    assert find_subject(ledger, sighting.id[-3:].upper()) == sighting.id
    assert find_visit(ledger, sighting.id) == visit
    assert find_visit(ledger, "") == visit
    for nothing in ("zzz", "%", "_"):
        with pytest.raises(Refused) as refused:
            find_subject(ledger, nothing)
        assert refused.value.faults[0].code == "not-recorded"
