"""Times that say their zone, as phones write them: local ones in the records, whatever machine reads them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.darwincore import occurrence
from reedmace.tasks.shared.local_time import local_time
from tasks.importing import Import, faulty, kept

HEAD = "Date,Grid Ref,Species,No.,Time\n"
ROW = "{},SU 431 118,pale rushlet,{},{}\n"


def told(tmp_path: Path) -> list[tuple[str | None, str | None, str]]:
    """Day, time and what was typed of each sighting."""
    return [(at.date, one.time or at.start, one.typed) for one, at in kept(tmp_path)]


@pytest.mark.parametrize(
    ("typed", "day", "time"),
    [
        ("2019-06-03T14:30:00Z", "2019-06-03", "15:30"),
        ("2019-06-03T14:30+01:00", "2019-06-03", "14:30"),
        ("2019-06-03 14:30:00 +0100", "2019-06-03", "14:30"),
        ("2019-06-03T14:30:00.123+00:00", "2019-06-03", "15:30"),
        ("2019-01-03T14:30Z", "2019-01-03", "14:30"),
        ("2019-06-03T09:30-05:00", "2019-06-03", "15:30"),
        ("03/06/2019 2:30 pm Z", "2019-06-03", "15:30"),
        ("2019-06-02T23:30Z", "2019-06-03", "00:30"),
        ("2019-06-02T23:00:00Z", "2019-06-03", None),
        ("2019-06-03T00:00:00Z", "2019-06-03", None),
    ],
)
def test_an_instant_is_the_time_on_the_clocks_here(
    bring: Import, tmp_path: Path, typed: str, day: str, time: str | None
) -> None:
    """With summer time, the day too; a midnight is what was added to a date. What was typed is kept."""
    assert bring(HEAD + ROW.format(typed, 1, "")).timeless == 0
    assert told(tmp_path) == [(day, time, f"1 pale rushlet {typed}")]


def test_rows_with_instants_of_one_day_are_one_visit(bring: Import, tmp_path: Path) -> None:
    """With an id of their visit too; and the same again adds nothing."""
    text = HEAD + ROW.format("2019-06-03T10:30Z", 1, "") + ROW.format("2019-06-03T10:45Z", 2, "")
    assert (bring(text).visits, bring(text).there) == (1, 2)
    head = "Visit ID," + HEAD
    ided = head + "".join(f"v-1,{row}\n" for row in text.splitlines()[1:])
    assert (bring(ided, ledger="other").visits, bring(ided, ledger="other").there) == (1, 2)
    lines = [occurrence(one, at, "", str) for one, at in kept(tmp_path)]
    assert {(line["eventDate"], line["verbatimEventDate"]) for line in lines} == {("2019-06-03", "")}


@pytest.mark.parametrize(
    ("day", "cell", "time"),
    [
        ("3/6/2019", "14:30:00Z", "15:30"),
        ("3/6/2019", "14:30+01:00", "14:30"),
        ("3/1/2019", "1430Z", "14:30"),
        ("2019-06-03T14:30:00Z", "15:30", "15:30"),
    ],
)
def test_a_column_of_times_can_say_the_zone(bring: Import, tmp_path: Path, day: str, cell: str, time: str) -> None:
    """By the day of its row."""
    assert bring(HEAD + ROW.format(day, 1, cell)).faulty == 0
    assert [at for _, at, _ in told(tmp_path)] == [time]


@pytest.mark.parametrize(
    ("day", "cell"), [("3/6/2019", "23:30Z"), ("June 2019", "14:30Z"), ("3/6/2019", "14:30+99:00")]
)
def test_a_time_whose_day_is_not_known_comes_back(bring: Import, day: str, cell: str) -> None:
    """Rather than be an hour or a day off."""
    assert [row["fault"] for row in faulty(bring(HEAD + ROW.format(day, 1, cell)))] == ["time-not-read"]


def test_a_time_from_before_the_rule_is_left_out_and_told(bring: Import, tmp_path: Path) -> None:
    """The day stays, and so does what was typed."""
    done = bring(HEAD + ROW.format("1974-06-03T14:30Z", 1, "") + ROW.format("3/6/1974", 2, "14:30Z"))
    assert (done.sightings, done.timeless) == (2, 2)
    assert sorted(told(tmp_path)) == [
        ("1974-06-03", None, "1 pale rushlet 1974-06-03T14:30Z"),
        ("1974-06-03", None, "2 pale rushlet 14:30Z"),
    ]


def test_what_may_mean_to_is_no_zone(bring: Import, tmp_path: Path) -> None:
    """10:30-11:30 behind a date in words is a span."""
    bring(HEAD + ROW.format("3 June 2019 10:30-11:30", 1, ""))
    assert told(tmp_path) == [("2019-06-03", None, "1 pale rushlet")]


@pytest.mark.parametrize(
    ("utc", "local"),
    [
        ("1981-03-29 00:59", "00:59"),
        ("1981-03-29 01:00", "02:00"),
        ("1989-10-29 00:59", "01:59"),
        ("1989-10-29 01:00", "01:00"),
        ("1995-10-22 01:00", "01:00"),
        ("1996-10-26 12:00", "13:00"),
        ("1996-10-27 01:00", "01:00"),
        ("2026-03-29 01:00", "02:00"),
        ("2026-10-25 00:59", "01:59"),
    ],
)
def test_summer_time_begins_and_ends_on_its_sundays(utc: str, local: str) -> None:
    """At one o'clock UTC; in October earlier up to 1995."""
    found = local_time(date.fromisoformat(utc[:10]), utc[11:], "Z")
    assert found is not None
    assert f"{found:%H:%M}" == local


@given(st.datetimes(datetime(1981, 1, 1), datetime(2035, 12, 31)), st.integers(-12, 14))
def test_local_time_is_that_of_the_tables_of_time_zones(when: datetime, hours: int) -> None:
    """Where the machine has them."""
    zones = pytest.importorskip("zoneinfo")
    try:
        london = zones.ZoneInfo("Europe/London")
    except zones.ZoneInfoNotFoundError:
        pytest.skip("this machine has no tables of time zones")
    when = when.replace(second=0, microsecond=0)
    instant = (when - timedelta(hours=hours)).replace(tzinfo=UTC)
    found = local_time(when.date(), f"{when:%H:%M}", f"{'-' if hours < 0 else '+'}{abs(hours):02}:00")
    assert found == instant.astimezone(london).replace(tzinfo=None)
