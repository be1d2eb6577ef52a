"""Records beside those before them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.records_made import LOWLAND, judged_by, sighting, visit
from reedmace.checks.history import History
from reedmace.checks.query import record_of
from reedmace.checks.twins import DayTwins, FileTwins
from reedmace.keys.model import Key
from reedmace.places.place import read_place
from reedmace.records import PlaceRecord, Sighting, Site, Visit

FARM = "Sallow Farm pond"


def place(reference: str, locality: str = FARM, **more: Any) -> PlaceRecord:
    found = read_place(reference)
    latitude, longitude = found.rounded()
    return PlaceRecord(
        reference, found.system, found.square, found.side_m, latitude, longitude, round(found.uncertainty_m or 5),
        regions=("lowland",), locality=locality, **more,
    )  # fmt: skip


def told(key: Key, rows: list[tuple[Sighting, Visit]], **more: Any) -> list[list[str]]:
    """The codes of every record in turn."""
    grounds = judged_by(key, **more)
    history = History(grounds)
    return [
        [query.code for query in history.look(record_of(grounds, one._replace(id=f"s-{number:012}"), at))]
        for number, (one, at) in enumerate(rows)
    ]


def row(key: Key, day: str, where: PlaceRecord = LOWLAND, name: str = "pale", **more: Any) -> tuple[Sighting, Visit]:
    return sighting(key, name, **more), visit(id=f"v-{day}-{where.square}", date=day, place=where)


def suggested(key: Key, rows: list[tuple[Sighting, Visit]]) -> tuple[str, str]:
    grounds = judged_by(key)
    history = History(grounds)
    *_, last = [history.look(record_of(grounds, one, at)) for one, at in rows]
    return next((query.code, query.remedy) for query in last if query.code in ("far-from-site", "looks-swapped"))


def test_far_from_where_the_site_was_before(tarn: Key) -> None:
    """Within 2 km and the squares' own size nothing is said."""
    rows = [
        row(tarn, f"2026-07-1{n}", place(ref))
        for n, ref in enumerate(["SU 431 118", "SU 431 119", "SU 4311", "SU 731 118"])
    ]
    assert told(tarn, rows) == [[], [], [], ["far-from-site"]]


def test_swapped_figures_are_recognised_and_put_right(tarn: Key) -> None:
    rows = [row(tarn, "2026-07-12", place("SU 431 118")), row(tarn, "2026-07-13", place("SU 118 431"))]
    assert suggested(tarn, rows) == ("looks-swapped", "if easting and northing were swapped, write SU431118")


def test_the_letters_of_the_next_square_are_recognised(tarn: Key) -> None:
    rows = [row(tarn, "2026-07-12", place("SU 431 118")), row(tarn, "2026-07-13", place("SZ 431 118"))]
    assert suggested(tarn, rows) == ("far-from-site", "if the letters are those of the next square, write SU431118")


def test_a_registered_site_is_known_from_the_first_record_on(tarn: Key) -> None:
    at = place("SU 731 118", site="site-1")
    sites = [Site("site-1", FARM, (), place("SU 431 118"))]
    assert told(tarn, [row(tarn, "2026-07-12", at)], sites=sites) == [["far-from-site"]]
    assert told(tarn, [row(tarn, "2026-07-12", at)]) == [[]]
    named = place("SU 731 118", FARM.upper())
    assert told(tarn, [row(tarn, "2026-07-12", named)], sites=sites) == [["far-from-site"]], "by its name in words, too"


def test_a_first_is_told_once_the_ledger_holds_an_earlier_year(tarn: Key) -> None:
    rows = [
        row(tarn, "2025-07-12", place("SU 431 118")),
        row(tarn, "2025-07-13", place("SU 431 118"), "misty"),
        row(tarn, "2026-07-12", place("SU 431 118"), "lone"),
        row(tarn, "2026-07-13", place("SU 431 118"), "lone"),
        row(tarn, "2026-07-14", place("SU 511 218", "Alder Mere"), "lone"),
        row(tarn, "2026-07-15", place("SU 511 218", "Alder Mere"), "pale"),
    ]
    assert told(tarn, rows) == [[], [], ["first-here"], [], [], ["first-at-site"]]


def test_two_walks_of_one_day_count_the_same_insects(tarn: Key) -> None:
    """The larger count, not the sum; another sex is another count."""
    rows = [
        (sighting(tarn, "pale", count=12), visit(id="v-1")),
        (sighting(tarn, "pale", count=9), visit(id="v-2")),
        (sighting(tarn, "pale", count=9, sex="female"), visit(id="v-2")),
    ]
    assert told(tarn, rows) == [[], ["counted-twice"], []]


@pytest.mark.parametrize(
    ("times", "said"),
    [
        ((("10:00", "11:00"), ("11:00", "11:30")), [[], []]),
        ((("11:00", "11:30"), ("10:00", "11:00")), [[], []]),
        ((("10:00", "11:00"), ("10:30", "11:30")), [[], ["written-twice"]]),
        ((("10:00", "11:00"), (None, None)), [[], ["written-twice"]]),
        ((("10:00", "11:00"), ("11:00", "11:30"), ("11:00", "11:30")), [[], [], ["written-twice"]]),
    ],
)
def test_what_was_seen_one_after_the_other_was_not_written_twice(tarn: Key, times, said) -> None:
    """Two visits whose times exclude each other, on one day at one place."""
    visits = [visit(id=f"v-{number}", start=start, end=end) for number, (start, end) in enumerate(times)]
    assert told(tarn, [(sighting(tarn, "pale"), at) for at in visits]) == said


@pytest.mark.parametrize(
    ("count", "said"), [(100, []), (101, ["count-out-of-proportion"]), (20_000, ["count-out-of-proportion"])]
)
def test_a_count_out_of_all_proportion(tarn: Key, count: int, said: list[str]) -> None:
    """More than ten times the largest of at least five."""
    days = [row(tarn, f"2026-07-{day}", count=10) for day in range(10, 15)]
    assert told(tarn, [*days, row(tarn, "2026-07-20", count=count)])[-1] == said
    assert told(tarn, [*days[:4], row(tarn, "2026-07-20", count=101)])[-1] == []


def test_days_before_are_forgotten_so_that_memory_stays_flat(tarn: Key) -> None:
    grounds = judged_by(tarn)
    history = History(grounds)
    for day in range(1, 29):
        one, at = row(tarn, f"2026-07-{day:02}")
        history.look(record_of(grounds, one._replace(id=f"s-{day}"), at))
    assert isinstance(history._twins, DayTwins)
    assert len(history._twins._same) == len(history._twins._alike) == 1


rows_alike = st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(0, 2))  # what, count, visit


@given(st.lists(rows_alike, max_size=25))
def test_a_file_in_any_order_finds_the_twins_that_a_ledger_finds(rows: list[tuple[int, int, int]]) -> None:
    """Within one day both remember the same; only what they call the earlier record differs."""
    day, file = DayTwins(), FileTwins()
    for number, (alike, count, visit_number) in enumerate(rows, 1):
        hashes = (hash(("alike", alike)), hash(("same", alike, count)))
        by_day = day.look("2026-07-12", *hashes, f"s-{number:012}", f"v-{visit_number}", (None, None))
        by_file = file.look("", *hashes, f"s-{number:012}", f"v-{visit_number}", (None, None))
        assert (by_day and by_day.whole) == (by_file and by_file.whole)
        if by_day and by_file:
            assert int(by_day.called.rpartition("…")[2]) == int(by_file.called.removeprefix("row "))


def test_firsts_are_told_while_days_never_fall(tarn: Key) -> None:
    """In any other order nobody can say what came first."""
    grounds = judged_by(tarn)
    for days, told_first in ((("2025-07-12", "2026-07-12"), True), (("2025-07-13", "2025-07-12", "2026-07-12"), False)):
        history = History(grounds, by_day=False)
        codes = []
        for number, day in enumerate(days):
            one, at = row(tarn, day, place("SU 431 118"), "lone" if number == len(days) - 1 else "pale")
            codes += [query.code for query in history.look(record_of(grounds, one._replace(id=f"s-{number}"), at))]
        assert ("first-here" in codes) == told_first
