"""Records checked against each other and in order."""

from __future__ import annotations

import pytest

from checks.records_made import judged_by, sighting, visit
from reedmace.keys.model import Key
from reedmace.records import Sighting
from reedmace.tasks.checking.check_records import check


def named(one: Sighting, number: int) -> Sighting:
    """The same sighting under another id."""
    return one._replace(id=f"s-{number:012}")


def test_the_same_sighting_written_twice_is_told_at_the_second(tarn: Key) -> None:
    """With the first one's id, so that both can be looked at; the first is not doubted."""
    one, two = named(sighting(tarn, "pale"), 1), named(sighting(tarn, "pale"), 2)
    first, second = check(judged_by(tarn), [(one, visit()), (two, visit(id="v-2"))])
    assert first.queries == ()
    (query,) = second.queries
    assert (query.code, query.severity, query.sighting) == ("written-twice", "doubt", two.id)
    assert "000000000001" in query.reason
    assert query.remedy.endswith('reedmace ledger withdraw 000000000002 --reason "written twice"')


@pytest.mark.parametrize(
    "different",
    [
        {"sex": "female", "evidence": "photo"},
        {"count": 2},
        {"stage": "teneral"},
        {"behaviour": ("feeding",)},
        {"time": "10:30"},
    ],
)
def test_a_different_sex_count_stage_behaviour_or_time_is_another_sighting(
    tarn: Key, different: dict[str, object]
) -> None:
    """One line may rightly make several sightings of a species."""
    rows = [(named(sighting(tarn, "pale"), 1), visit()), (named(sighting(tarn, "pale", **different), 2), visit())]
    assert [one.queries for one in check(judged_by(tarn), rows)] == [(), ()]


def test_another_day_or_place_is_another_sighting(tarn: Key) -> None:
    """The same count of the same insect a day later is a count."""
    later = visit(id="v-2", date="2026-07-13")
    rows = [(named(sighting(tarn, "pale"), 1), visit()), (named(sighting(tarn, "pale"), 2), later)]
    assert [one.queries for one in check(judged_by(tarn), rows)] == [(), ()]


def test_three_of_a_kind_are_told_twice(tarn: Key) -> None:
    """Each later one points at the first."""
    rows = [(named(sighting(tarn, "pale"), number), visit()) for number in (1, 2, 3)]
    told = [len(one.queries) for one in check(judged_by(tarn), rows)]
    assert told == [0, 1, 1]


def test_records_come_back_in_their_order_each_with_its_own_queries(tarn: Key) -> None:
    """Nothing is left out: a record without queries comes too."""
    rows = [
        (named(sighting(tarn, "lone", evidence="photo"), 1), visit()),
        (named(sighting(tarn, "pale"), 2), visit()),
        (named(sighting(tarn, "pale", sex="female"), 3), visit()),
    ]
    told = [(one.record.name, [query.code for query in one.queries]) for one in check(judged_by(tarn), rows)]
    assert told == [
        ("Lone Boulderer", ["out-of-range", "protected"]),
        ("Pale Rushlet", []),
        ("Pale Rushlet", ["evidence-wanted"]),
    ]


def test_records_are_taken_one_at_a_time(tarn: Key) -> None:
    """A ledger of any length is checked without being held in memory: the first answer needs only the first record."""

    def rows():
        yield named(sighting(tarn, "pale"), 1), visit()
        raise AssertionError("the second record was asked for")

    assert next(iter(check(judged_by(tarn), rows()))).queries == ()
