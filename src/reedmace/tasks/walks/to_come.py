"""A time of today that is still to come, on the line of a visit, of something seen, or as the end of a visit."""

from __future__ import annotations

from collections.abc import Iterable

from reedmace.faults import Fault

_SLACK = 60  # minutes: a clock may not have been set to summer time


def time_to_come(day: str | None, times: Iterable[str | None], today: str, now: str) -> Fault | None:
    """What is wrong with the first of the times `HH:MM` of a day (ISO 8601) that is not there yet at `now` of `today`.

    None on other days, and for a time that is less than an hour ahead.
    """
    if day != today:
        return None
    latest = _minutes(now) + _SLACK
    ahead = next((time for time in times if time is not None and _minutes(time) > latest), None)
    if ahead is None:
        return None
    return Fault(
        "time-in-future",
        f"{ahead} of today is still to come.",
        f"it is {now} by this machine's clock; check the time, and the day",
        ahead,
        typed=True,
    )


def _minutes(time: str) -> int:
    return 60 * int(time[:2]) + int(time[3:5])
